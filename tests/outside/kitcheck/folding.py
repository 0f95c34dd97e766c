"""Each bend's fold against the two faces' places; allowance and K against their formulas."""

import math

import numpy as np

from . import space

PLACE_LIMIT = 1e-6  # mm, contract


def check(kit):
    return [trouble for part in kit.parts for trouble in part_troubles(part)]


def part_troubles(part):
    troubles = [t for bend in part.bends for t in allowance_troubles(part, bend)]
    if len(part.bends) != len(part.faces) - 1:
        return troubles + [f"{part.number}: {len(part.faces)} faces, {len(part.bends)} bends"]
    children = [bend["to"] for bend in part.bends]
    if set(children) != set(part.faces) - {part.root} or len(set(children)) != len(children):
        return troubles + [f"{part.number}: not every face hangs on one bend"]
    try:
        order = part.tree()
    except ValueError as error:
        return troubles + [str(error)]
    return troubles + [t for bend in order for t in fold_troubles(part, bend)]


def allowance_troubles(part, bend):
    where, t, r = f"{part.number} {bend['name']}", part.thickness, bend["inside_radius"]
    troubles = []
    expected = math.radians(bend["angle"]) * (r + bend["k"] * t)
    if abs(bend["allowance"] - expected) > 1e-9 * max(1.0, expected):
        troubles.append(f"{where}: allowance {bend['allowance']}, by its formula {expected}")
    if bend["k_source"].startswith("DIN 6935"):
        expected = din_6935_k(r, t)
        if abs(bend["k"] - expected) > 1e-9:
            troubles.append(f"{where}: K {bend['k']}, by DIN 6935 {expected}")
    elif not bend["k_source"].strip():
        troubles.append(f"{where}: K has no source")
    if not 0.0 <= bend["k"] <= 0.5:
        troubles.append(f"{where}: K {bend['k']} is outside 0 to 0.5")
    return troubles


def din_6935_k(radius, thickness):
    """DIN 6935: k = 0.65 + 0.5 log10(r/s), 1 above r/s = 5; K is half of it (ratio to s)."""
    ratio = radius / thickness
    return 0.5 if ratio > 5.0 else (0.65 + 0.5 * math.log10(ratio)) / 2.0


def din_6935_v(radius, thickness, angle, k):
    """DIN 6935's v (added to the legs' sum) for a bend of `angle` degrees from flat, legs to the
    sharp corner up to 90 degrees and to the tangent beyond."""
    setback = math.tan(math.radians(angle) / 2.0) if angle < 90.0 else 1.0
    return math.radians(angle) * (radius + k * thickness) - 2.0 * (radius + thickness) * setback


def fold_troubles(part, bend):
    """How far the child's corners stand from where the parent and the bend put them."""
    corners = np.array(part.faces[bend["to"]]["outline"], float)
    ends = np.array(bend["line"], float)
    t = part.thickness
    flat = np.vstack([with_z(corners, 0.0), with_z(corners, t), with_z(ends, 0.0)])
    fold = space.fold(bend, t, part.toward(bend))
    expected = space.apply(space.after(part.to_part[bend["from"]], fold), flat)
    off = np.max(np.linalg.norm(space.apply(part.to_part[bend["to"]], flat) - expected, axis=1))
    if off > PLACE_LIMIT:
        return [f"{part.number}: {bend['to']} stands {off:.3g} mm from where bend "
                f"{bend['name']} puts it"]
    return []


def with_z(points, z):
    return np.column_stack([points, np.full(len(points), z)])
