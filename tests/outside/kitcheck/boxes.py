"""The container's members, less its hollows, and the kit's keep-outs, where kit.json lists them,
stay free."""

import math

import numpy as np
from manifold3d import Manifold

from . import mesh

SHARED = 0.01  # mm3 left after each part is shrunk by 0.05 mm
LESS = 0.05  # mm off every surface of what the parts must clear (contract: 0.1 in all)
TURN = 1.0  # degrees of one station of a swept bend


def check(kit):
    keep_outs = kit.data.get("keep_outs", [])
    members = kit.data.get("container", {}).get("members", [])
    boxes = keep_outs + members
    troubles = [f"box {box['name']} has no size" for box in boxes
                if any(high <= low for low, high in zip(box["low"], box["high"]))]
    if troubles:
        return troubles
    hollows = [solid(box, -LESS) for box in members if box.get("hollow", False)]
    members = [box for box in members if not box.get("hollow", False)]
    solids = [(box, solid(box)) for box in keep_outs]
    solids += [(box, opened(solid(box), hollows)) for box in members]
    solids = [(box, body, mesh.box_of(body)) for box, body in solids]
    for part, index, place in kit.instances():
        for name, piece in part.solids.items():
            placed = piece.transform(place)
            around = mesh.box_of(placed)
            for box, body, extent in solids:
                if mesh.apart(around, extent) or part.data["name"] in box.get("except", []):
                    continue
                volume = (placed ^ body).volume()
                if volume > SHARED:
                    troubles.append(f"{part.number}[{index}] {name} enters {box['name']}, "
                                    f"{volume:.2f} mm3")
    return troubles


def opened(body, hollows):
    """A member with the container's hollows cut out; a rail is open where a fork pocket passes."""
    for hollow in hollows:
        body = body - hollow
    return body


def solid(box, less=LESS):
    """What a keep-out or a member fills, `less` taken off each surface."""
    shape = box.get("shape", "box")
    if shape == "cylinder":
        return cylinder(box, less)
    if shape == "swept":
        return swept(box, less)
    low, high = (np.array(box[key], float) for key in ("low", "high"))
    return Manifold.cube(list(high - low - 2 * less)).translate(list(low + less))


def cylinder(box, less):
    start, end = (np.array(p, float) for p in box["axis"])
    length = np.linalg.norm(end - start)
    axis = (end - start) / length
    rod = Manifold.cylinder(length - 2 * less, box["radius"] - less, circular_segments=720)
    helper = np.eye(3)[np.argmin(np.abs(axis))]
    u = np.cross(helper, axis)
    u /= np.linalg.norm(u)
    turn = np.column_stack([u, np.cross(axis, u), axis, start + axis * less])
    return rod.transform(turn)


def swept(box, less):
    """Hulls between stations of the path, its corners replaced by arcs."""
    path = [np.array(p, float) for p in box["path"]]
    across = np.array(box["across"], float)
    width, height = (size / 2.0 - less for size in box["size"])
    stations = sections(path, box["bend_radius"], across, less)
    pieces = [Manifold.hull_points([c + a * width * across + b * height * up
                                    for c, up in two for a in (-1, 1) for b in (-1, 1)])
              for two in zip(stations, stations[1:])]
    return sum(pieces[1:], pieces[0])


def sections(path, radius, across, less):
    """The middle of each section with the unit vector in the plane of the path."""
    legs = [(b - a) / np.linalg.norm(b - a) for a, b in zip(path, path[1:])]
    found = [(path[0] + legs[0] * less, np.cross(across, legs[0]))]
    for corner, a, b in zip(path[1:], legs, legs[1:]):
        turn = math.atan2(np.cross(a, b) @ across, a @ b)
        side = np.cross(across, a) * math.copysign(1.0, turn)
        centre = corner - a * radius * math.tan(abs(turn) / 2.0) + side * radius
        count = math.ceil(math.degrees(abs(turn)) / TURN)
        for i in range(count + 1):
            phi = abs(turn) * i / count
            spoke = -side * math.cos(phi) + a * math.sin(phi)
            found.append((centre + spoke * radius, -spoke * math.copysign(1.0, turn)))
    return found + [(path[-1] - legs[-1] * less, np.cross(across, legs[-1]))]
