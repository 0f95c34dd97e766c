"""Rigid placements in space and the fold of one bend, as the contract states it."""

import math

import numpy as np


def matrix(rows):
    """A 3x4 placement: turn in the first three columns, shift in the last."""
    return np.array(rows, float)


def apply(placement, points):
    """Images of points, one a row."""
    return np.asarray(points, float) @ placement[:, :3].T + placement[:, 3]


def after(second, first):
    """`first`, then `second`."""
    turn = second[:, :3] @ first[:, :3]
    shift = second[:, :3] @ first[:, 3] + second[:, 3]
    return np.column_stack([turn, shift])


def inverse(placement):
    turn = placement[:, :3].T
    return np.column_stack([turn, -turn @ placement[:, 3]])


def rigid_trouble(placement):
    """What keeps a placement from being a rigid motion; none when it is one."""
    turn = placement[:, :3]
    if placement.shape != (3, 4) or not np.all(np.isfinite(placement)):
        return "not a 3 x 4 matrix of finite numbers"
    if np.max(np.abs(turn @ turn.T - np.eye(3))) > 1e-9:
        return "axes are not orthonormal"
    if np.linalg.det(turn) < 0:
        return "mirrors space"
    return None


def about(centre, axis, degrees):
    """Turn about the line through `centre` along the unit vector `axis` (Rodrigues)."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    x, y, z = axis
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    turn = np.eye(3) * c + cross * s + np.outer(axis, axis) * (1 - c)
    return np.column_stack([turn, centre - turn @ centre])


def fold(bend, thickness, toward):
    """Placement, in the parent's blank frame, of what lies beyond a bend.

    `toward` is the in-plane unit vector from parent to child. A point beyond the zone first slides
    back over the zone (by the allowance), then turns about the bend's centre.
    """
    n = np.array([toward[0], toward[1], 0.0])
    k = np.array([0.0, 0.0, 1.0])
    (x1, y1), (x2, y2) = bend["line"]
    middle = np.array([(x1 + x2) / 2.0, (y1 + y2) / 2.0, 0.0])
    q = middle - n * bend["allowance"] / 2.0
    if bend["direction"] == "up":
        centre, angle = q + k * (thickness + bend["inside_radius"]), bend["angle"]
    else:
        centre, angle = q - k * bend["inside_radius"], -bend["angle"]
    slide = np.column_stack([np.eye(3), -n * bend["allowance"]])
    return after(about(centre, np.cross(n, k), angle), slide)


def bent(bend, thickness, toward, points):
    """Where points of the bend zone itself go: wrapped about the bend's centre, no neutral shift
    in z. `points` are (x, y, z) of the blank."""
    n = np.array([toward[0], toward[1], 0.0])
    k = np.array([0.0, 0.0, 1.0])
    (x1, y1), (x2, y2) = bend["line"]
    edge = np.array([(x1 + x2) / 2.0, (y1 + y2) / 2.0, 0.0]) - n * bend["allowance"] / 2.0
    up = bend["direction"] == "up"
    sign = 1.0 if up else -1.0
    points = np.asarray(points, float)
    s = (points - edge) @ n
    turn = np.radians(bend["angle"]) * s / bend["allowance"]
    # Distance from the bend's axis to the point: from the inside radius to radius + thickness.
    height = points[:, 2] - thickness - bend["inside_radius"] if up else (
        points[:, 2] + bend["inside_radius"])
    centre = (thickness + bend["inside_radius"]) if up else -bend["inside_radius"]
    along = points - np.outer(s, n)
    along[:, 2] = 0.0
    across = -np.sin(turn) * height * sign
    rise = centre + np.cos(turn) * height
    return along + np.outer(across, n) + np.outer(rise, k)
