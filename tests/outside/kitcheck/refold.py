"""Folds each part again from its DXF alone, and looks where the holes of the joints end up.

From kit.json come only the bend list (angle, radius, K and the faces' names), the root's place and
the joints; contours, holes and bend lines are those that the laser and the brake will work from.
"""

import math

import ezdxf
import numpy as np
from shapely.geometry import Point
from shapely.ops import unary_union

from . import dxf, joints, plane, space

FOUND = 1e-3  # mm: a hole of the DXF is the declared one when nearer than this


class Refolded:
    """A part folded from its DXF: where each flat region lies."""

    def __init__(self, part):
        self.part = part
        drawing = ezdxf.readfile(part.file("dxf"))
        outer = dxf.contours(drawing, "CUT_OUTSIDE")[0]["loop"]
        self.centres = [centre(c) for c in dxf.contours(drawing, "CUT_INSIDE")]
        self.bends = lines_from(drawing, part)
        self.regions = split(outer, self.bends)
        self.poses = self.place()

    def place(self):
        """Walks from the root's region over the bends, by this checker's own fold."""
        seed = self.part.face_polygons[self.part.root].representative_point()
        start = next(i for i, region in enumerate(self.regions) if region.contains(seed))
        poses, waiting = {start: self.part.to_part[self.part.root]}, list(self.bends)
        while waiting:
            for bend in waiting:
                sides = neighbours(bend, self.regions)
                known = [i for i in sides if i in poses]
                if len(sides) == 2 and len(known) == 1:
                    child = next(i for i in sides if i != known[0])
                    toward = plane.toward_child(bend, self.regions[child])
                    fold = space.fold(bend, self.part.thickness, toward)
                    poses[child] = space.after(poses[known[0]], fold)
                    waiting.remove(bend)
                    break
            else:
                raise ValueError(f"bend {waiting[0]['name']} joins no two regions of the blank")
        return poses

    def axis(self, hole, place):
        """The hole's axis in the site, found in the DXF near where it was declared."""
        at = min(self.centres, key=lambda c: math.dist(c, hole["centre"]), default=None)
        if at is None or math.dist(at, hole["centre"]) > FOUND:
            raise ValueError(f"hole {hole['id']} is not in the DXF")
        region = next((i for i in self.poses if self.regions[i].contains(Point(at))), None)
        if region is None:
            raise ValueError(f"hole {hole['id']} lies in a bend")
        pose = space.after(self.part.places[place], self.poses[region])
        return space.apply(pose, [[*at, 0.0], [*at, self.part.thickness]])


def centre(contour):
    if "circle" in contour:
        return contour["circle"][0], contour["circle"][1]
    middle = plane.region(contour["loop"], []).centroid
    return middle.x, middle.y


def lines_from(drawing, part):
    """The bend list with the lines, directions and own allowances taken from the DXF."""
    found = []
    for entity in drawing.modelspace().query("LINE"):
        if entity.dxf.layer in ("BEND_UP", "BEND_DOWN"):
            line = [[entity.dxf.start.x, entity.dxf.start.y], [entity.dxf.end.x, entity.dxf.end.y]]
            middle = np.mean(line, axis=0)
            bend = min(part.bends, key=lambda b: math.dist(np.mean(b["line"], axis=0), middle))
            allowance = math.radians(bend["angle"]) * (
                bend["inside_radius"] + bend["k"] * part.thickness)
            found.append({**bend, "line": line, "allowance": allowance,
                          "direction": "up" if entity.dxf.layer == "BEND_UP" else "down"})
    return found


def split(outer, bends):
    """The flat regions that remain when the bend zones are taken out of the outline."""
    zones = unary_union([plane.bend_zone(bend, longer=1e-3) for bend in bends])
    rest = plane.region(outer, []).difference(zones)
    pieces = list(rest.geoms) if hasattr(rest, "geoms") else [rest]
    return [piece for piece in pieces if piece.area > 0.01]


def neighbours(bend, regions):
    """The regions that border the two long sides of a bend zone."""
    zone = plane.bend_zone(bend).buffer(1e-5)
    share = [(region.intersection(zone).area, i) for i, region in enumerate(regions)]
    return [i for area, i in sorted(share, reverse=True)[:2] if area > 1e-7]


def check(kit):
    troubles, folded = [], {}
    for part in kit.parts:
        try:
            folded[part.number] = Refolded(part)
        except (ValueError, IndexError, OSError, StopIteration) as error:
            troubles.append(f"{part.number}: cannot be folded from its DXF: {error}")
    for joint, pair in kit.fastener_members():
        members = [m for m in pair if m.get("part") in folded]
        try:
            axes = [folded[m["part"]].axis(kit.by_number[m["part"]].holes[m["hole"]], m["place"])
                    for m in members]
        except (ValueError, KeyError) as error:
            troubles.append(f"{joint['id']}: {error}")
            continue
        troubles += axes_troubles(kit, joint, members, axes)
    return troubles


def axes_troubles(kit, joint, members, axes):
    troubles = []
    if not axes:
        return troubles
    direction = (axes[0][1] - axes[0][0]) / np.linalg.norm(axes[0][1] - axes[0][0])
    for member, ends in zip(members, axes):
        off = joints.coaxial_trouble(axes[0][0], direction, ends)
        if off:
            troubles.append(f"{joint['id']}: {member} from the DXF: {off}")
        stated = joints.axis(kit, member)
        away = np.max(np.linalg.norm(stated - ends, axis=1))
        if away > 1e-3:
            troubles.append(f"{joint['id']}: {member} from the DXF stands {away:.4f} mm from "
                            "where kit.json says")
    return troubles
