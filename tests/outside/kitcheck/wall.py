"""The corrugated wall: cuts, lips and screws on outer flats, and no part inside its sheet."""

import numpy as np
from shapely.geometry import Polygon

from . import joints, mesh, space

TOUCH = 0.1  # mm: a face nearer than this to the flats' plane lies on them
BEYOND = 3000.0  # mm, upwards and downwards of the cut, far beyond any part


def check(kit):
    wall = kit.data["wall"]
    if wall is None:
        return []
    troubles = form(wall)
    if troubles or wall["cuts"] is None:
        return troubles
    return cuts(wall) + lips(kit, wall) + fixings(kit, wall) + sheet_clear(kit, wall)


def form(wall):
    """One pitch is a flat, two slopes and a flat; centres ascend (other panels may differ)."""
    run = wall["outer_flat"] + 2.0 * wall["slope"] + wall["inner_flat"]
    centres = wall["outer_flat_centres"]
    troubles = []
    if abs(run - wall["pitch"]) > 0.5:
        troubles.append(f"pitch {wall['pitch']} is not its flats and slopes, {run}")
    if any(b - a < wall["outer_flat"] for a, b in zip(centres, centres[1:])):
        troubles.append("outer flats overlap or do not ascend")
    return troubles


def flat_at(wall, x):
    """The outer flat on which x lies, as (left, right); none between flats."""
    half = wall["outer_flat"] / 2.0
    return next(((c - half, c + half) for c in wall["outer_flat_centres"]
                 if c - half - 1e-6 <= x <= c + half + 1e-6), None)


def cuts(wall):
    left, right = wall["cuts"]
    troubles = [f"cut at {x} is not on an outer flat" for x in (left, right)
                if flat_at(wall, x) is None]
    if not left < right or not wall["cut_bottom"] < wall["cut_top"]:
        troubles.append("cuts are out of order")
    return troubles


def lips(kit, wall):
    """Faces that lie on the flats beside the opening stay on one flat."""
    troubles = []
    left, right = wall["cuts"]
    for part, index, place in kit.instances():
        for name, face in part.faces.items():
            corners = site_corners(part, place, name, face)
            if not lies_on_flats(corners):
                continue
            xs, zs = corners[:, 0], corners[:, 2]
            tall = zs.max() - zs.min() > xs.max() - xs.min()
            for edge, beside in ((left, xs.min() < left), (right, xs.max() > right)):
                flat = flat_at(wall, edge)
                if not tall or not beside or flat is None:
                    continue
                low, high = (xs.min(), edge) if edge == left else (edge, xs.max())
                if low < flat[0] - 1e-6 or high > flat[1] + 1e-6:
                    troubles.append(f"{part.number}[{index}] {name} covers x {low:.2f} to "
                                    f"{high:.2f}, the flat is {flat[0]:.2f} to {flat[1]:.2f}")
    return troubles


def site_corners(part, place, name, face):
    flat = np.array(face["outline"], float)
    both = np.vstack([np.column_stack([flat, np.full(len(flat), z)])
                      for z in (0.0, part.thickness)])
    return space.apply(space.after(place, part.to_part[name]), both)


def lies_on_flats(corners):
    """Whether a face stands upright in front of the wall, touching the flats' plane y = 0."""
    ys = corners[:, 1]
    return bool(abs(ys.max()) <= TOUCH and ys.max() - ys.min() < 10.0)


def fixings(kit, wall):
    """Screws into the wall at its outer plane stand wholly on outer flats."""
    troubles = []
    for joint, pair in kit.fastener_members():
        if not any(m.get("into") == "wall" for m in pair):
            continue
        for member in (m for m in pair if "into" not in m):
            hole = kit.by_number[member["part"]].holes[member["hole"]]
            ends = joints.axis(kit, member)
            x, y = ends[:, 0].mean(), ends[:, 1].max()
            reach = max(hole["size"]) / 2.0
            upright = abs(ends[0] - ends[1])[1] > 0.99 * np.linalg.norm(ends[0] - ends[1])
            if upright and abs(y) <= TOUCH and not (
                    flat_at(wall, x - reach) and flat_at(wall, x + reach)):
                troubles.append(f"{joint['id']}: {member} at x {x:.2f} is not on an outer flat")
    return troubles


def profile(wall):
    """The wall's sheet in plan: between its outer line and the same line one thickness inward."""
    half, slope, depth = wall["outer_flat"] / 2.0, wall["slope"], wall["depth"]
    centres = wall["outer_flat_centres"]
    outer = []
    for i, c in enumerate(centres):
        outer += [(c - half, 0.0), (c + half, 0.0)]
        if i + 1 < len(centres):
            outer += [(c + half + slope, depth), (centres[i + 1] - half - slope, depth)]
    inner = offset(outer, wall["thickness"])
    return Polygon(outer + inner[::-1])


def offset(line, distance):
    """A line's parallel at `distance` to the left of its run (+y for a run along +x), mitred."""
    points = np.array(line)
    runs = np.diff(points, axis=0)
    runs /= np.linalg.norm(runs, axis=1)[:, None]
    normals = np.column_stack([-runs[:, 1], runs[:, 0]])
    moved = [points[0] + distance * normals[0]]
    for i in range(1, len(points) - 1):
        n = normals[i - 1] + normals[i]
        moved.append(points[i] + distance * n / (1.0 + normals[i - 1] @ normals[i]))
    return [tuple(p) for p in moved + [points[-1] + distance * normals[-1]]]


def solid(wall):
    """The wall around its opening, in the site frame, as much thinner as a part's mesh is: what
    enters it enters the true wall by more than 0.1 mm (contract)."""
    left, right = wall["cuts"]
    low, high = wall.get("edges") or [wall["cut_bottom"] - BEYOND, wall["cut_top"] + BEYOND]
    less = mesh.SHRINK
    sheet = mesh.slab(profile(wall).buffer(-less, join_style="mitre"), low + less, high - less)
    left, right = left - less, right + less
    cut = Polygon([(left, -500.0), (right, -500.0), (right, 500.0), (left, 500.0)])
    return sheet - mesh.slab(cut, wall["cut_bottom"] - less, wall["cut_top"] + less)


def sheet_clear(kit, wall):
    """No part enters the wall's sheet."""
    whole = solid(wall)
    troubles = []
    for part, index, place in kit.instances():
        for name, piece in part.solids.items():
            volume = (piece.transform(place) ^ whole).volume()
            if volume > 0.01:
                troubles.append(f"{part.number}[{index}] {name} enters the wall, {volume:.3f} mm3")
    return troubles
