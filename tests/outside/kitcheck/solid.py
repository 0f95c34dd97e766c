"""Folds each part with a general B-rep kernel: flats as prisms, bends as turned bodies, each turned
by the kernel about the bend's own axis; then compares corners, volume and wholeness."""

import math

import numpy as np
from build123d import Axis, Edge, Face, Plane, Solid, Vector, Vertex, Wire
from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from . import plane

CORNER = 1e-4  # mm
VOLUME = 1e-6  # of the volume


def check(kit):
    troubles = []
    for part in kit.parts:
        try:
            troubles += part_troubles(part)
        except ValueError as error:
            troubles.append(f"{part.number}: no solid: {error}")
    return troubles


def part_troubles(part):
    turns = turns_to(part)
    troubles = corners(part, turns)
    bodies = [prism(part, name, turns[name]) for name in part.faces]
    bodies += [bend_body(part, bend, turns[bend["from"]]) for bend in part.bends]
    measured, expected = sum(body.volume for body in bodies), expected_volume(part)
    if abs(measured - expected) > VOLUME * expected:
        troubles.append(f"{part.number}: the solid measures {measured:.4f} mm3, "
                        f"blank and bends give {expected:.4f}")
    return troubles + wholeness(part, turns)


def turns_to(part):
    """For each face the slide and turns, innermost first, that fold it from the flat blank."""
    turns = {part.root: []}
    for bend in part.tree():
        turns[bend["to"]] = [*bend_motion(part, bend), *turns[bend["from"]]]
    return turns


def bend_axis(part, bend):
    """The axis of a bend in its parent's flat place, sensed so that a positive turn folds."""
    toward = part.toward(bend)
    middle, _, _ = plane.bend_axes(bend)
    edge = middle - toward * bend["allowance"] / 2.0
    up = bend["direction"] == "up"
    height = part.thickness + bend["inside_radius"] if up else -bend["inside_radius"]
    sense = Vector(toward[1], -toward[0], 0) * (1 if up else -1)
    return Axis((edge[0], edge[1], height), sense), toward


def bend_motion(part, bend):
    """What the child does: slide over the zone, then turn; as functions of a kernel shape."""
    axis, toward = bend_axis(part, bend)
    slide = Vector(*(-toward * bend["allowance"]), 0)
    return [lambda shape: shape.translate(slide),
            lambda shape: shape.rotate(axis, bend["angle"])]


def moved(shape, turns):
    for turn in turns:
        shape = turn(shape)
    return shape


def prism(part, name, turns, with_holes=True):
    """A flat face as a solid in the root's place."""
    face = flat_face(part.flats[name], holes_in(part, name) if with_holes else [])
    return moved(Solid.extrude(face, Vector(0, 0, part.thickness)), turns)


def flat_face(polygon, contours):
    shell = orient(polygon).exterior.coords
    outer = Wire.make_polygon([(x, y, 0) for x, y in list(shell)[:-1]], close=True)
    return Face(outer, [contour_wire(contour) for contour in contours])


def contour_wire(contour):
    if "circle" in contour:
        x, y, d = contour["circle"]
        return Wire([Edge.make_circle(d / 2.0, Plane((x, y, 0)))])
    return Wire([side_edge(*side) for side in plane.sides(contour["loop"])])


def side_edge(a, b, bulge):
    if not bulge:
        return Edge.make_line((*a, 0), (*b, 0))
    (x, y), radius, start, sweep = plane.arc(a, b, bulge)
    turn = start + sweep / 2.0
    middle = (x + radius * math.cos(turn), y + radius * math.sin(turn), 0)
    return Edge.make_three_point_arc((*a, 0), middle, (*b, 0))


def holes_in(part, name):
    """The inner contours of the blank that lie in a face."""
    face = part.face_polygons[name]
    return [c for c in part.data["blank"]["inner"]
            if face.contains(Polygon(plane.flatten(plane.contour_loop(c), 0.1)))]


def bend_body(part, bend, turns):
    """The bend as a body of revolution; an allowance that is wrapped into a true bend."""
    axis, toward = bend_axis(part, bend)
    middle, along, _ = plane.bend_axes(bend)
    edge = middle - toward * bend["allowance"] / 2.0
    reach = along * plane.bend_length(bend) / 2.0
    ends = [edge - reach, edge + reach]
    corners = [(*ends[0], 0), (*ends[1], 0), (*ends[1], part.thickness), (*ends[0], part.thickness)]
    section = Face(Wire.make_polygon(corners, close=True))
    return moved(Solid.revolve(section, bend["angle"], axis), turns)


def expected_volume(part):
    """Area times thickness for the flats; for a bend its length times the ring's section."""
    t, zones, bends = part.thickness, 0.0, 0.0
    for bend in part.bends:
        length, r = plane.bend_length(bend), bend["inside_radius"]
        zones += length * bend["allowance"]
        bends += length * math.radians(bend["angle"]) / 2.0 * ((r + t) ** 2 - r ** 2)
    return (part.data["blank"]["area_mm2"] - zones) * t + bends


def sunk_away(part):
    """What the countersinks take beside their holes: a cone's stump less the hole."""
    away = 0.0
    for hole in part.holes.values():
        sunk = hole.get("countersink")
        if sunk:
            wide, narrow = sunk["diameter"] / 2, hole["size"][0] / 2
            depth = (wide - narrow) / math.tan(math.radians(sunk["angle"] / 2))
            away += math.pi * depth * ((wide**2 + wide * narrow + narrow**2) / 3 - narrow**2)
    return away


def corners(part, turns):
    """Each face's corners as the kernel folds them, against `to_part`."""
    troubles = []
    root = part.to_part[part.root]
    for name, face in part.faces.items():
        for x, y in sparse(face["outline"]):
            for z in (0.0, part.thickness):
                point = moved(Vertex(x, y, z), turns[name])
                kernel = root[:, :3] @ np.array([point.X, point.Y, point.Z]) + root[:, 3]
                stated = part.to_part[name][:, :3] @ np.array([x, y, z]) + part.to_part[name][:, 3]
                if np.linalg.norm(kernel - stated) > CORNER:
                    troubles.append(f"{part.number}: corner ({x:.3f}, {y:.3f}) of {name} folds "
                                    f"{np.linalg.norm(kernel - stated):.6f} mm elsewhere")
                    return troubles
    return troubles


def sparse(outline):
    """Up to a dozen corners, spread along the outline."""
    return outline[::max(1, len(outline) // 12)]


def wholeness(part, turns):
    """Flats (without holes) and bends fuse into one body that is no smaller than their sum."""
    bodies = [prism(part, name, turns[name], with_holes=False) for name in part.faces]
    bodies += [bend_body(part, bend, turns[bend["from"]]) for bend in part.bends]
    if len(bodies) == 1:
        return []
    whole = bodies[0].fuse(*bodies[1:])
    solids = whole.solids() if hasattr(whole, "solids") else [s for w in whole for s in w.solids()]
    troubles = []
    if len(solids) != 1:
        troubles.append(f"{part.number}: folded, it falls into {len(solids)} bodies")
    total = sum(body.volume for body in bodies)
    fused = sum(solid.volume for solid in solids)
    if abs(total - fused) > VOLUME * total:
        troubles.append(f"{part.number}: folded, its flats and bends overlap by "
                        f"{total - fused:.3f} mm3")
    return troubles
