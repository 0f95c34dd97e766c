"""The blank of kit.json against its faces, bends and holes; its measures against its contours."""

import math

from shapely.geometry import Point
from shapely.ops import unary_union

from . import plane

EDGE_LIMIT = 0.0105  # mm: outlines of faces give arcs as points within 0.01
# kg/m3, handbook values; the first word found in the material's title counts.
DENSITIES = {"aluminium": 2700.0, "stainless": 7930.0, "1.4301": 7930.0, "304": 7930.0,
             "steel": 7850.0, "dx51d": 7850.0, "s250gd": 7850.0, "s235": 7850.0}


def check(kit):
    troubles = []
    for part in kit.parts:
        troubles += measures(part) + outline(part) + cover(part) + holes(part) + bends(part)
        troubles += mass(part)
    return troubles


def measures(part):
    """Area, cut length, pierces and bounding box from the contours, exactly."""
    blank = part.data["blank"]
    loops = [blank["outer"]] + [plane.contour_loop(inner) for inner in blank["inner"]]
    x0, y0, x1, y1 = plane.loop_bounds(blank["outer"])
    expected = {"area_mm2": sum(plane.loop_area(loop) for loop in loops),
                "cut_length_mm": sum(plane.loop_length(loop) for loop in loops),
                "pierces": len(loops), "width": x1, "height": y1}
    troubles = [f"{part.number}: {key} is {blank[key]}, measured {value}"
                for key, value in expected.items()
                if abs(blank[key] - value) > max(1e-6, 1e-9 * abs(value))]
    if abs(x0) > 1e-6 or abs(y0) > 1e-6:
        troubles.append(f"{part.number}: blank's lower left is at ({x0}, {y0})")
    return troubles


def outline(part):
    """Loops that turn the right way, do not cross themselves, and keep inside the outline."""
    blank, troubles = part.data["blank"], []
    if plane.loop_area(blank["outer"]) <= 0 or not part.outer_polygon.is_valid:
        return [f"{part.number}: outline is clockwise or crosses itself"]
    inner = [plane.region(plane.contour_loop(c), []) for c in blank["inner"]]
    for contour, polygon in zip(blank["inner"], inner):
        if "loop" in contour and plane.loop_area(contour["loop"]) >= 0:
            troubles.append(f"{part.number}: an inner loop runs counter-clockwise")
        if not polygon.is_valid or not part.outer_polygon.contains(polygon):
            troubles.append(f"{part.number}: an inner contour leaves the outline")
    if abs(unary_union(inner).area - sum(p.area for p in inner)) > 1e-6:
        troubles.append(f"{part.number}: inner contours overlap")
    return troubles


def cover(part):
    """Faces and bend zones make up the blank: nothing is missing, nothing is doubled."""
    pieces = list(part.face_polygons.values())
    zones = [plane.bend_zone(bend) for bend in part.bends if bend["allowance"] > 0]
    if not all(p.is_valid for p in pieces):
        return [f"{part.number}: a face's outline crosses itself"]
    whole = unary_union(pieces + zones)
    troubles = []
    doubled = sum(p.area for p in pieces + zones) - whole.area
    if doubled > 1e-3:
        troubles.append(f"{part.number}: faces and bend zones overlap by {doubled:.4g} mm2")
    difference = whole.symmetric_difference(part.outer_polygon)
    if not difference.buffer(-EDGE_LIMIT / 2.0).is_empty:
        troubles.append(f"{part.number}: blank and faces with bend zones differ by "
                        f"{difference.area:.4g} mm2 near {difference.representative_point()}")
    limit = 1e-3 + sum(plane.loop_length([[*a, b], [*c, 0]]) * EDGE_LIMIT
                       for a, c, b in plane.sides(part.data["blank"]["outer"]) if b)
    if difference.area > limit:
        troubles.append(f"{part.number}: blank and faces with bend zones differ by "
                        f"{difference.area:.4g} mm2 (limit {limit:.4g})")
    return troubles


def holes(part):
    """Each declared hole lies inside its face and equals one inner contour; every circle is one."""
    inner = list(part.data["blank"]["inner"])
    troubles = []
    for hole in part.data["holes"]:
        wanted = plane.hole_loop(hole)
        polygon = plane.region(wanted, [])
        if not part.face_polygons[hole["face"]].buffer(1e-6).contains(polygon):
            troubles.append(f"{part.number}: hole {hole['id']} leaves face {hole['face']}")
        same = next((c for c in inner if same_contour(c, hole, wanted)), None)
        if same is None:
            troubles.append(f"{part.number}: hole {hole['id']} is not in the blank as declared")
        else:
            inner.remove(same)
    troubles += [f"{part.number}: circle {c['circle']} belongs to no hole"
                 for c in inner if "circle" in c]
    return troubles


def same_contour(contour, hole, wanted):
    if "circle" in contour:
        x, y, d = contour["circle"]
        close = math.dist((x, y), hole["centre"]) <= 1e-6
        return hole["shape"] == "round" and close and abs(d - hole["size"][0]) <= 1e-9
    return hole["shape"] != "round" and plane.same_loop(wanted, contour["loop"], 1e-6)


def bends(part):
    """Each bend's line ends on the outline (or at a hole), and its zone borders both faces."""
    troubles = []
    for bend in part.bends:
        length = plane.bend_length(bend)
        zone = plane.bend_zone(bend)
        if not part.outer_polygon.buffer(1e-6).covers(zone):
            troubles.append(f"{part.number}: bend {bend['name']} leaves the blank")
        for end in bend["line"]:
            if part.outer_polygon.exterior.distance(Point(end)) > 1e-6:
                troubles.append(f"{part.number}: bend {bend['name']} ends inside the sheet")
        for name in (bend["from"], bend["to"]):
            shared = part.face_polygons[name].buffer(1e-6).intersection(zone).area / 1e-6
            if shared < 0.5 * length:
                troubles.append(f"{part.number}: bend {bend['name']} does not border {name}")
    return troubles


def mass(part):
    """Mass from area, thickness and the material's density."""
    material = part.data["material"].lower()
    density = next((d for word, d in DENSITIES.items() if word in material), None)
    if density is None:
        return [f"{part.number}: no density known for {part.data['material']!r}"]
    expected = part.data["blank"]["area_mm2"] * part.thickness * density * 1e-9
    if abs(part.data["mass_kg"] - expected) > 1e-9 * expected:
        return [f"{part.number}: mass {part.data['mass_kg']} kg, by area {expected} kg"]
    return []
