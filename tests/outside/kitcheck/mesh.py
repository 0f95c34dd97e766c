"""Folded parts as closed meshes, shrunk a little so that touching is not sharing volume."""

import math

import numpy as np
from manifold3d import CrossSection, FillRule, Manifold, OpType
from shapely.geometry import Polygon

from . import plane, space

SHRINK = 0.05  # mm off every surface: two parts may then enter each other by 0.1 (contract)
SAG = 0.005  # mm, chords of arcs in the plan
BEND_STEP = 7.5  # degrees of one flat strip of a bend


def rings(polygon):
    found = [np.array(polygon.exterior.coords)[:-1]]
    return found + [np.array(ring.coords)[:-1] for ring in polygon.interiors]


def polygons(shape):
    parts = shape.geoms if hasattr(shape, "geoms") else [shape]
    return [p for p in parts if isinstance(p, Polygon) and p.area > 1e-4]


def slab(shape, low, high):
    """A flat region as a solid between two heights."""
    section = CrossSection([r for p in polygons(shape) for r in rings(p)], FillRule.EvenOdd)
    return Manifold.extrude(section, high - low).translate((0.0, 0.0, low))


def folded(part, shrink=SHRINK):
    """The folded part in its own frame: {piece's name: mesh}."""
    blank = part.data["blank"]
    sheet = plane.region(blank["outer"], blank["inner"], SAG).buffer(-shrink, join_style="mitre")
    low, high = shrink, part.thickness - shrink
    pieces = {}
    for name, polygon in part.face_polygons.items():
        shape = polygon.intersection(sheet)
        if polygons(shape):
            pieces[name] = slab(shape, low, high).transform(part.to_part[name])
    for bend in part.bends:
        pieces[f"bend {bend['name']}"] = bend_solid(part, bend, sheet, (low, high))
    return {name: piece for name, piece in pieces.items() if not piece.is_empty()}


def bend_solid(part, bend, sheet, heights):
    """A bend as flat-sided strips wrapped about its axis."""
    toward = part.toward(bend)
    middle, along, _ = plane.bend_axes(bend)
    count = max(1, math.ceil(bend["angle"] / BEND_STEP))
    reach = along * plane.bend_length(bend) / 2.0
    pose = part.to_part[bend["from"]]
    strips = []
    for i in range(count):
        s0, s1 = (bend["allowance"] * (j / count - 0.5) for j in (i, i + 1))
        corners = [middle - reach + toward * s0, middle + reach + toward * s0,
                   middle + reach + toward * s1, middle - reach + toward * s1]
        shape = Polygon(corners).intersection(sheet)
        if polygons(shape):
            strip = slab(shape, *heights)
            strips.append(strip.warp_batch(
                lambda v: space.apply(pose, space.bent(bend, part.thickness, toward, v))))
    whole = Manifold.batch_boolean(strips, OpType.Add) if strips else Manifold()
    if strips and whole.volume() <= 0:
        raise ValueError(f"{part.number}: bend {bend['name']} was wrapped inside out")
    return whole


def box_of(solid):
    box = np.array(solid.bounding_box())
    return box[:3], box[3:]


def apart(one, two):
    """Whether two bounding boxes are clear of each other."""
    (low_a, high_a), (low_b, high_b) = one, two
    return bool(np.any(high_a <= low_b) or np.any(high_b <= low_a))
