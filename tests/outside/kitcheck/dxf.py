"""Each part's DXF: clean by an independent reader, in the contract's form, equal to the blank."""

import math

import ezdxf
from ezdxf.lldxf.const import DXFError

from . import plane

LAYERS = ("CUT_OUTSIDE", "CUT_INSIDE", "BEND_UP", "BEND_DOWN", "ETCH", "SHEET", "INFO")
CUTS = ("CUT_OUTSIDE", "CUT_INSIDE")
SAME = 1e-4  # mm, contract
TYPES = {"CUT_OUTSIDE": {"LWPOLYLINE", "CIRCLE"}, "CUT_INSIDE": {"LWPOLYLINE", "CIRCLE"},
         "BEND_UP": {"LINE"}, "BEND_DOWN": {"LINE"},
         "ETCH": {"LWPOLYLINE", "LINE", "CIRCLE", "ARC"},
         "SHEET": {"LWPOLYLINE"}, "INFO": {"TEXT", "MTEXT", "LINE", "LWPOLYLINE"}}


def check(kit):
    troubles = []
    for part in kit.parts:
        path = part.file("dxf")
        if not path.is_file():
            troubles.append(f"{path.name} is missing")
            continue
        try:
            drawing = ezdxf.readfile(path)
        except (DXFError, OSError, ValueError) as error:
            troubles.append(f"{path.name}: cannot be read: {error}")
            continue
        found = form(drawing) + entities(drawing)
        found = found or agreement(part, drawing)
        troubles += [f"{path.name}: {trouble}" for trouble in found]
    if kit.shared:
        return troubles
    listed = {part.file("dxf").name for part in kit.parts}
    found = {path.name for path in (kit.folder / "parts").glob("*.dxf")}
    return troubles + [f"{name} belongs to no part" for name in sorted(found - listed)]


def form(drawing):
    """Header, audit and layers."""
    troubles = []
    if drawing.dxfversion < "AC1015":
        troubles.append(f"version {drawing.dxfversion}")
    for name, value in (("$INSUNITS", 4), ("$MEASUREMENT", 1)):
        if drawing.header.get(name) != value:
            troubles.append(f"{name} is {drawing.header.get(name)}")
    auditor = drawing.audit()
    for kind, items in (("error", auditor.errors), ("fix", auditor.fixes)):
        troubles += [f"audit {kind}: {item.message}" for item in items]
    declared = {layer.dxf.name for layer in drawing.layers} - {"0", "Defpoints"}
    troubles += [f"layer {name}" for name in sorted(declared - set(LAYERS))]
    return troubles


def entities(drawing):
    """Kinds by layer, closed contours, nothing doubled, nothing of no length."""
    troubles, seen = [], set()
    for entity in drawing.modelspace():
        layer, kind = entity.dxf.layer, entity.dxftype()
        if kind not in TYPES.get(layer, ()):
            troubles.append(f"{kind} on layer {layer}")
            continue
        key = (layer if layer in ("INFO", "ETCH") else "", *signature(entity))
        if key in seen:
            troubles.append(f"{kind} on {layer} stands twice")
        seen.add(key)
        troubles += shape_troubles(entity, layer)
    return troubles


def shape_troubles(entity, layer):
    kind, troubles = entity.dxftype(), []
    if kind == "LINE" and entity.dxf.start.distance(entity.dxf.end) < 1e-6:
        troubles.append(f"line of no length on {layer}")
    if kind == "CIRCLE" and entity.dxf.radius < 1e-6:
        troubles.append(f"circle of no size on {layer}")
    if kind == "LWPOLYLINE":
        points = [tuple(p) for p in entity.get_points("xyb")]
        pairs = list(zip(points, points[1:] + (points[:1] if entity.closed else [])))
        if len(points) < 2 or any(math.dist(a[:2], b[:2]) < 1e-6 for a, b in pairs):
            troubles.append(f"polyline with a side of no length on {layer}")
        if layer in CUTS + ("SHEET",):
            if not entity.closed:
                troubles.append(f"open contour on {layer}")
            if is_round(points):
                troubles.append(f"polyline stands for a circle on {layer}")
    extrusion = entity.dxf.get("extrusion", (0, 0, 1))
    if tuple(extrusion) != (0, 0, 1):
        troubles.append(f"{kind} on {layer} is not in the plane")
    return troubles


def is_round(points):
    """Whether straight sides imitate a circle: eight or more corners on one circle."""
    if len(points) < 8 or any(p[2] for p in points):
        return False
    cx = sum(p[0] for p in points) / len(points)
    cy = sum(p[1] for p in points) / len(points)
    radii = [math.dist(p[:2], (cx, cy)) for p in points]
    return max(radii) - min(radii) < 1e-3 * max(radii)


def signature(entity):
    """The same for two entities that cut the same line."""
    kind = entity.dxftype()
    if kind == "CIRCLE":
        return kind, place(entity.dxf.center), round(entity.dxf.radius, 4)
    if kind == "LINE":
        return kind, *sorted([place(entity.dxf.start), place(entity.dxf.end)])
    if kind == "LWPOLYLINE":
        return kind, tuple(sorted(place(p) for p in entity.get_points("xyb")))
    return kind, entity.dxf.handle


def place(point):
    return round(point[0], 4), round(point[1], 4)


def contours(drawing, layer):
    """Contours of one layer as kit.json gives them."""
    found = []
    for entity in drawing.modelspace():
        if entity.dxf.layer == layer and entity.dxftype() == "CIRCLE":
            centre = entity.dxf.center
            found.append({"circle": [centre.x, centre.y, 2.0 * entity.dxf.radius]})
        elif entity.dxf.layer == layer and entity.dxftype() == "LWPOLYLINE":
            found.append({"loop": [list(p) for p in entity.get_points("xyb")]})
    return found


def agreement(part, drawing):
    """One outline equal to the blank's, the same holes, the same bends."""
    blank, troubles = part.data["blank"], []
    outside, inside = (contours(drawing, layer) for layer in CUTS)
    if len(outside) != 1 or "loop" not in outside[0]:
        return [f"{len(outside)} outside contours"]
    if not plane.same_loop(outside[0]["loop"], blank["outer"], SAME):
        troubles.append("outline differs from the blank's")
    waiting = list(blank["inner"])
    for contour in inside:
        same = next((c for c in waiting if same_contour(c, contour)), None)
        if same is None:
            troubles.append(f"contour {str(contour)[:80]} is not in kit.json")
        else:
            waiting.remove(same)
    troubles += [f"contour {str(contour)[:80]} is not cut" for contour in waiting]
    loops = [c["loop"] if "loop" in c else plane.circle_loop(*c["circle"])
             for c in outside + inside]
    area = plane.loop_area(loops[0]) - sum(abs(plane.loop_area(loop)) for loop in loops[1:])
    length = sum(plane.loop_length(loop) for loop in loops)
    if abs(area - blank["area_mm2"]) > SAME * length:
        troubles.append(f"area {area}, kit.json {blank['area_mm2']}")
    if abs(length - blank["cut_length_mm"]) > SAME * sum(len(loop) for loop in loops):
        troubles.append(f"cut length {length}, kit.json {blank['cut_length_mm']}")
    return troubles + bend_lines(part, drawing)


def same_contour(one, two):
    if ("circle" in one) != ("circle" in two):
        return False
    if "circle" in one:
        return max(abs(a - b) for a, b in zip(one["circle"], two["circle"])) <= SAME
    return plane.same_loop(one["loop"], two["loop"], SAME)


def bend_lines(part, drawing):
    """Bend lines, whole, on the layer of their direction."""
    found = [(entity.dxf.layer, *ends(entity.dxf.start, entity.dxf.end))
             for entity in drawing.modelspace().query("LINE")
             if entity.dxf.layer in ("BEND_UP", "BEND_DOWN")]
    troubles = []
    for bend in part.bends:
        wanted = (f"BEND_{bend['direction'].upper()}", *ends(*bend["line"]))
        same = next((f for f in found if f[0] == wanted[0] and
                     max(abs(a - b) for a, b in zip(f[1:], wanted[1:])) <= SAME), None)
        if same is None:
            troubles.append(f"bend {bend['name']} has no line on {wanted[0]}")
        else:
            found.remove(same)
    return troubles + [f"line on {layer} is no bend" for layer, *_ in found]


def ends(a, b):
    """Both ends in one order, as four numbers; equal within rounding for both directions."""
    one, two = sorted([(round(a[0], 3), round(a[1], 3), a[0], a[1]),
                       (round(b[0], 3), round(b[1], 3), b[0], b[1])])
    return one[2], one[3], two[2], two[3]
