"""Nested sheets: every part as often as it is needed, inside the margin, no two blanks nearer than
the gap, none on a blocked place; each nest's DXF as clean as a part's, with every contour where
kit.json says, once, and cut in an order that leaves nothing loose before it is done."""

import tomllib
from itertools import combinations
from pathlib import Path

import ezdxf
from shapely.geometry import Polygon, box

from . import dxf, plane

SHOP = Path(__file__).resolve().parents[3] / "templates" / "shop" / "shop.toml"
LASER = tomllib.loads(SHOP.read_text(encoding="utf-8"))["shop"]
BED = sorted(LASER["laser"]["bed"], reverse=True)
# Chords that stand for arcs may sag this far, on either blank, mm.
SLACK = 0.025


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
    """The nest's DXF: form, entities, edge, and each blank's contours in their place and order."""
    path = kit.folder / sheet["file"]
    if not path.is_file():
        return ["is missing"]
    drawing = ezdxf.readfile(path)
    troubles = dxf.form(drawing) + dxf.entities(drawing) + edge(drawing, sheet)
    cuts = list(ordered_cuts(drawing))
    places = []
    for item in sheet["parts"]:
        part = kit.by_number.get(item["number"])
        if part is None:
            continue
        outline = laid_out(part.outer_polygon, item)
        outside = taken(cuts, "CUT_OUTSIDE", outline)
        if outside is None:
            troubles.append(f"no outline of {item['number']} in its place")
            continue
        holes = [laid_out(Polygon(plane.flatten(plane.contour_loop(inner))), item)
                 for inner in part.data["blank"]["inner"]]
        inside = [taken(cuts, "CUT_INSIDE", hole) for hole in holes]
        if None in inside:
            troubles.append(f"{inside.count(None)} contours of {item['number']} are not in place")
        places.append((item["number"], outline, outside, list(zip(holes, inside, strict=True))))
    troubles += [f"a contour of no part on {layer}" for layer, _, used in cuts if not used[0]][:3]
    return troubles + order(places)


def edge(drawing, sheet):
    edges = [Polygon(plane.flatten(c["loop"])) for c in dxf.contours(drawing, "SHEET")]
    wanted = box(0, 0, sheet["width"], sheet["height"])
    right = len(edges) == 1 and edges[0].symmetric_difference(wanted).area < 0.01
    return [] if right else [f"{len(edges)} edges of the sheet, or not {wanted.bounds}"]


def ordered_cuts(drawing):
    """Every cut in the order of the file: layer, region, and whether a part has claimed it."""
    for entity in drawing.modelspace():
        layer = entity.dxf.layer
        if layer not in ("CUT_INSIDE", "CUT_OUTSIDE"):
            continue
        if entity.dxftype() == "CIRCLE":
            loop = plane.circle_loop(entity.dxf.center.x, entity.dxf.center.y,
                                     2.0 * entity.dxf.radius)
        else:
            loop = [list(p) for p in entity.get_points("xyb")]
        yield layer, Polygon(plane.flatten(loop)), [False]


def taken(cuts, layer, wanted):
    """The place in the order of the free cut that is this region; it is then claimed."""
    middle, limit = wanted.centroid, max(0.01, 1e-6 * wanted.area)
    for index, (own, found, used) in enumerate(cuts):
        if (own == layer and not used[0] and found.centroid.distance(middle) < 0.01
                and found.symmetric_difference(wanted).area < limit):
            used[0] = True
            return index
    return None


def order(places):
    """Insides before their outline; a part before the opening it lies in; and no outline before an
    inside contour in which nothing lies."""
    troubles, first_outline = [], min((p[2] for p in places), default=0)
    for number, outline, outside, holes in places:
        for hole, index in holes:
            if index is None:
                continue
            inner = [p for p in places if p[1] is not outline and hole.contains(p[1])]
            if outside < index:
                troubles.append(f"{number} is cut out before a contour inside it")
            if any(index < p[2] for p in inner):
                troubles.append(f"an opening of {number} is cut before the part in it")
            if not inner and first_outline < index:
                troubles.append(f"an outline is cut before an inside contour of {number}")
    return troubles


def laid_out(polygon, item):
    return plane.turned(polygon, item["turn"], item["mirrored"], item["x"], item["y"])


def layout(kit, sheet):
    """Blanks of the sheet's own material and thickness, in allowed turns, within the margin and the
    laser's bed, and clear of each other and of blocked places."""
    troubles, shapes = [], []
    gap = max(LASER["nest"]["part"], sheet["thickness"]) - SLACK
    margin = LASER["nest"]["edge"] - 1e-6
    bed = BED if sheet["height"] <= sheet["width"] else BED[::-1]
    room = box(margin, margin, min(sheet["width"], bed[0]) - margin,
               min(sheet["height"], bed[1]) - margin)
    for item in sheet["parts"]:
        part = kit.by_number.get(item["number"])
        if part is None:
            continue
        if (part.data["material"], part.thickness) != (sheet["material"], sheet["thickness"]):
            troubles.append(f"{sheet['file']}: {part.number} is of other sheet")
        turns = (0, 180) if part.data.get("grain") else (0, 90, 180, 270)
        if item["turn"] not in turns or (item["mirrored"] and not part.data.get("mirror")):
            troubles.append(f"{sheet['file']}: {part.number} may not lie like that")
        shape = laid_out(part.blank_polygon, item)
        if not room.covers(box(*shape.bounds)):
            troubles.append(f"{sheet['file']}: {part.number} leaves the room within the margin")
        for place in sheet.get("blocked", []):
            if shape.intersects(box(*place)):
                troubles.append(f"{sheet['file']}: {part.number} lies on a blocked place")
        shapes.append((part.number, shape))
    for (one, a), (two, b) in combinations(shapes, 2):
        if a.distance(b) < gap:
            troubles.append(f"{sheet['file']}: {one} and {two} are {a.distance(b):.3f} apart")
    return troubles
