"""Nested sheets: every part as often as it is needed, inside the sheet, none overlapping; each
nest's DXF as clean as a part's, with the blanks where kit.json says."""

from itertools import combinations

import ezdxf
from shapely.geometry import Polygon

from . import dxf, plane


def check(kit):
    sheets = kit.data["sheets"]
    if not sheets:
        return []
    troubles, laid = [], {}
    for sheet in sheets:
        troubles += [f"{sheet['file']}: {trouble}" for trouble in drawing_troubles(kit, sheet)]
        for item in sheet["parts"]:
            laid[item["number"]] = laid.get(item["number"], 0) + sheet["copies"]
        troubles += layout(kit, sheet)
    for part in kit.parts:
        if laid.get(part.number, 0) != part.data["quantity"]:
            troubles.append(f"{part.number}: {laid.get(part.number, 0)} on sheets, "
                            f"{part.data['quantity']} needed")
    return troubles + [f"{n} is no part" for n in sorted(set(laid) - set(kit.by_number))]


def drawing_troubles(kit, sheet):
    """The nest's DXF: form, entities, and one outline for each blank in its place."""
    path = kit.folder / sheet["file"]
    if not path.is_file():
        return ["is missing"]
    drawing = ezdxf.readfile(path)
    troubles = dxf.form(drawing) + dxf.entities(drawing)
    drawn = [Polygon(plane.flatten(c["loop"])) for c in dxf.contours(drawing, "CUT_OUTSIDE")]
    for item in sheet["parts"]:
        if item["number"] not in kit.by_number:
            continue
        wanted = laid_out(kit.by_number[item["number"]].outer_polygon, item)
        same = next((d for d in drawn if d.symmetric_difference(wanted).area < 0.01), None)
        if same is None:
            troubles.append(f"no outline of {item['number']} in its place")
        else:
            drawn.remove(same)
    return troubles + [f"{len(drawn)} outlines of no part" for _ in drawn[:1]]


def laid_out(polygon, item):
    return plane.turned(polygon, item["turn"], item["mirrored"], item["x"], item["y"])


def layout(kit, sheet):
    """Blanks of the sheet's own material and thickness, within it and clear of each other."""
    troubles, shapes = [], []
    for item in sheet["parts"]:
        part = kit.by_number.get(item["number"])
        if part is None:
            continue
        if (part.data["material"], part.thickness) != (sheet["material"], sheet["thickness"]):
            troubles.append(f"{sheet['file']}: {part.number} is of other sheet")
        shape = laid_out(part.blank_polygon, item)
        x0, y0, x1, y1 = shape.bounds
        if min(x0, y0) < -1e-6 or x1 > sheet["width"] + 1e-6 or y1 > sheet["height"] + 1e-6:
            troubles.append(f"{sheet['file']}: {part.number} leaves the sheet")
        shapes.append((part.number, shape))
    for (one, a), (two, b) in combinations(shapes, 2):
        if a.intersects(b):
            troubles.append(f"{sheet['file']}: {one} and {two} overlap")
    return troubles
