"""Plane geometry of blanks: loops with bulges, regions, bend zones. Millimetres."""

import math

import numpy as np
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon

# Sag of the chords that stand for arcs in regions: far below any limit that is checked.
SAG = 0.0005


def sides(loop):
    """Each side of a closed loop as (start, end, bulge)."""
    for here, after in zip(loop, loop[1:] + loop[:1]):
        yield (here[0], here[1]), (after[0], after[1]), here[2]


def arc(a, b, bulge):
    """Centre, radius, start angle and sweep in radians of the arc over the chord a-b."""
    sweep = 4.0 * math.atan(bulge)
    chord = math.dist(a, b)
    radius = chord / (2.0 * math.sin(abs(sweep) / 2.0))
    apothem = chord / 2.0 / math.tan(sweep / 2.0)
    ux, uy = (b[0] - a[0]) / chord, (b[1] - a[1]) / chord
    centre = ((a[0] + b[0]) / 2.0 - uy * apothem, (a[1] + b[1]) / 2.0 + ux * apothem)
    return centre, radius, math.atan2(a[1] - centre[1], a[0] - centre[0]), sweep


def flatten(loop, sag=SAG):
    """Points along a loop, arcs by chords that sag at most `sag`."""
    points = []
    for a, b, bulge in sides(loop):
        points.append(a)
        if bulge:
            centre, radius, start, sweep = arc(a, b, bulge)
            count = steps(radius, abs(sweep), sag)
            for i in range(1, count):
                turn = start + sweep * i / count
                points.append((centre[0] + radius * math.cos(turn),
                               centre[1] + radius * math.sin(turn)))
    return points


def steps(radius, sweep, sag):
    """How many chords an arc needs."""
    step = 2.0 * math.acos(max(-1.0, 1.0 - min(sag / radius, 2.0)))
    return max(2, math.ceil(sweep / step))


def circle_loop(x, y, d):
    """A circle as a clockwise loop of two half-circles."""
    return [[x - d / 2.0, y, -1.0], [x + d / 2.0, y, -1.0]]


def contour_loop(inner):
    """An inner contour of kit.json as a loop."""
    return circle_loop(*inner["circle"]) if "circle" in inner else inner["loop"]


def region(outer, inner, sag=SAG):
    """The sheet between an outline and its inner contours."""
    shell = Polygon(flatten(outer, sag))
    for contour in inner:
        shell = shell.difference(Polygon(flatten(contour_loop(contour), sag)))
    return shell


def loop_area(loop):
    """Exact signed area, arcs included; positive for counter-clockwise."""
    total = 0.0
    for a, b, bulge in sides(loop):
        total += (a[0] * b[1] - a[1] * b[0]) / 2.0
        if bulge:
            _, radius, _, sweep = arc(a, b, bulge)
            total += radius * radius * (sweep - math.sin(sweep)) / 2.0
    return total


def loop_length(loop):
    """Exact length, arcs along the arc."""
    total = 0.0
    for a, b, bulge in sides(loop):
        total += arc(a, b, bulge)[1] * abs(4.0 * math.atan(bulge)) if bulge else math.dist(a, b)
    return total


def loop_bounds(loop):
    """Exact bounding box (x0, y0, x1, y1)."""
    xs, ys = [], []
    for a, b, bulge in sides(loop):
        xs += [a[0], b[0]]
        ys += [a[1], b[1]]
        if bulge:
            centre, radius, start, sweep = arc(a, b, bulge)
            for quarter in range(-8, 9):
                turn = quarter * math.pi / 2.0
                if 0.0 <= (turn - start) / sweep <= 1.0:
                    xs.append(centre[0] + radius * math.cos(turn))
                    ys.append(centre[1] + radius * math.sin(turn))
    return min(xs), min(ys), max(xs), max(ys)


def same_loop(one, two, limit):
    """Whether two closed loops run through the same points the same way, from any start."""
    if len(one) != len(two):
        return False
    a, b = np.array(one, float), np.array(two, float)
    starts = np.flatnonzero(np.all(np.abs(b[:, :2] - a[0, :2]) <= limit, axis=1))
    return any(np.all(np.abs(np.roll(b, -s, axis=0) - a) <= limit) for s in starts)


def face_polygon(face):
    """Outline of a face in the blank frame."""
    return Polygon(face["outline"])


def bend_axes(bend):
    """Middle, unit vector along and a unit vector across (to the left of) a bend line."""
    (x1, y1), (x2, y2) = bend["line"]
    along = np.array([x2 - x1, y2 - y1], float)
    along /= np.linalg.norm(along)
    return np.array([(x1 + x2) / 2.0, (y1 + y2) / 2.0]), along, np.array([-along[1], along[0]])


def bend_length(bend):
    return math.dist(*bend["line"])


def bend_zone(bend, longer=0.0):
    """The strip of width `allowance` about the bend line, `longer` at each end."""
    middle, along, across = bend_axes(bend)
    reach = along * (bend_length(bend) / 2.0 + longer)
    half = across * (bend["allowance"] / 2.0)
    return Polygon([middle - reach - half, middle + reach - half,
                    middle + reach + half, middle - reach + half])


def toward_child(bend, child):
    """Unit vector across the bend towards the child: where the child's outline meets the zone."""
    middle, along, across = bend_axes(bend)
    reach = along * (bend_length(bend) / 2.0)
    found = {}
    for sign in (1.0, -1.0):
        edge = middle + across * sign * bend["allowance"] / 2.0
        edge_line = LineString([edge - reach, edge + reach])
        touching = child.buffer(1e-6).intersection(edge_line).length
        beyond = sum(child.exterior.distance(Point(p)) for p in edge_line.coords)
        found[sign] = (touching, -beyond)
    return across * max(found, key=found.get)


def hole_loop(hole):
    """The contour that a declared hole should have, clockwise."""
    x, y = hole["centre"]
    if hole["shape"] == "round":
        return circle_loop(x, y, hole["size"][0])
    width, length = hole["size"]
    w, h = width / 2.0, length / 2.0
    if hole["shape"] == "slot":
        corners = [[h - w, w, -1.0], [h - w, -w, 0.0], [w - h, -w, -1.0], [w - h, w, 0.0]]
    else:
        corners = [[-h, w, 0.0], [h, w, 0.0], [h, -w, 0.0], [-h, -w, 0.0]]
    turn = math.radians(hole["direction"])
    cos, sin = math.cos(turn), math.sin(turn)
    return [[x + cos * u - sin * v, y + sin * u + cos * v, bulge] for u, v, bulge in corners]


def turned(polygon, turn, mirrored, x, y):
    """A blank laid on a sheet: mirrored in x where so, turned about the blank's origin, shifted."""
    if mirrored:
        polygon = affinity.scale(polygon, -1.0, 1.0, origin=(0, 0))
    return affinity.translate(affinity.rotate(polygon, turn, origin=(0, 0)), x, y)
