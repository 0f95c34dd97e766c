"""A small kit built by hand: two side frames and a header in a corrugated wall.

It is worked out on its own (bends by the displacement of the sheet's underside, not by the checks'
turn about an axis), so that the checks have something right to pass and something to fail on.
"""

import math

import numpy as np

T, R, K = 2.0, 2.0, 0.325  # DIN 6935 at r/s = 1: k = 0.65, K = k/2
BA = math.pi / 2.0 * (R + K * T)
HEIGHT, HEADER = 1895.0, 1860.0  # side frames' length; underside of the header's plate
WEB = 244.0  # half of the clear width
WALL = {"pitch": 278.0, "outer_flat": 72.0, "slope": 68.0, "inner_flat": 70.0, "depth": 36.0,
        "thickness": 1.6, "outer_flat_centres": [278.0 * i for i in range(-3, 4)],
        "cuts": [-WEB - 5.0, WEB + 5.0], "cut_top": 1896.0, "cut_bottom": 0.0,
        "ends": [-900.0, 900.0], "edges": [0.0, 1990.0]}

RAIL = {"name": "top rail", "low": [-3000.0, 0.0, 1990.0], "high": [3000.0, 60.0, 2050.0]}


def flange(at, n, up):
    """Blank frame to the parent's folded blank frame, for a 90 degree bend.

    `at` is a point of the zone's parent-side edge, `n` points across. Following the underside
    (z = 0): an up bend swings it at radius R + T, a down bend at radius R.
    """
    n = np.array([*n, 0.0])
    k = np.array([0.0, 0.0, 1.0])
    u = np.cross(k, n)
    swing, sign = (R + T, 1.0) if up else (R, -1.0)
    start = np.array([*at, 0.0])
    origin = start + swing * n + sign * swing * k
    new_n, new_k = sign * k, -sign * n
    far = start + BA * n
    turn = np.outer(new_n, n) + np.outer(u, u) + np.outer(new_k, k)
    return np.column_stack([turn, origin - turn @ far])


def chain(outer, inner):
    turn = outer[:, :3] @ inner[:, :3]
    return np.column_stack([turn, outer[:, :3] @ inner[:, 3] + outer[:, 3]])


FLAT = np.column_stack([np.eye(3), np.zeros(3)])


def rectangle(x0, y0, x1, y1):
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


def bend(name, line, up):
    parent, child = name.split("/")
    return {"name": name, "from": parent, "to": child, "line": line, "angle": 90.0,
            "direction": "up" if up else "down", "inside_radius": R, "k": K,
            "k_source": "DIN 6935", "allowance": BA, "order": None}


def hole(number, face, centre, size, joint, purpose):
    shape = "round" if len(size) == 1 else "slot"
    return {"id": f"h{number}", "face": face, "centre": list(centre), "shape": shape, "size": size,
            "direction": 90.0 if shape == "slot" else 0.0, "for": purpose, "joint": joint}


def contour(h):
    """The inner contour of a hole; slots stand along y."""
    x, y = h["centre"]
    if h["shape"] == "round":
        return {"circle": [x, y, h["size"][0]]}
    w, reach = h["size"][0] / 2.0, h["size"][1] / 2.0 - h["size"][0] / 2.0
    return {"loop": [[x - w, y - reach, 0.0], [x - w, y + reach, -1.0],
                     [x + w, y + reach, 0.0], [x + w, y - reach, -1.0]]}


def part(head, outer, faces, bends, holes, place):
    """Puts a part together; `faces` is a list of (name, outline, to_part)."""
    inner = [contour(h) for h in holes]
    area, length = measures(outer, holes)
    xs, ys = [v[0] for v in outer], [v[1] for v in outer]
    return {"number": head[0], "name": head[1], "title": head[2], "quantity": 1,
            "material": "Galvanized steel S250GD+Z275", "thickness": T,
            "mass_kg": area * T * 7850e-9,
            "blank": {"width": max(xs), "height": max(ys), "outer": outer, "inner": inner,
                      "area_mm2": area, "cut_length_mm": length, "pierces": 1 + len(inner)},
            "faces": [{"name": n, "outline": o, "to_part": m.tolist()} for n, o, m in faces],
            "bends": bends, "holes": holes, "places": [place], "revision": "B"}


def measures(outer, holes):
    """Area and cut length; every bulge of these outlines is a quarter of radius 5."""
    area = length = 0.0
    for (x0, y0, b), (x1, y1, _) in zip(outer, outer[1:] + outer[:1]):
        area += (x0 * y1 - x1 * y0) / 2.0 + (25.0 * (math.pi / 2.0 - 1.0) / 2.0 if b else 0.0)
        length += 5.0 * math.pi / 2.0 if b else math.dist((x0, y0), (x1, y1))
    for h in holes:
        d = h["size"][0]
        straight = (h["size"][1] - d) if len(h["size"]) == 2 else 0.0
        area -= math.pi * d * d / 4.0 + straight * d
        length += math.pi * d + 2.0 * straight
    return area, length


def side_frame(kit, hand):
    """Lip, web, leg and return, all bent down; `hand` is -1 for left, 1 for right."""
    flats = [("lip", 55.0), ("web", 100.0), ("leg", 40.0), ("return", 20.0)]
    width = sum(f for _, f in flats) + 3 * BA
    starts, x = {}, 0.0
    for name, flat in flats:
        starts[name] = (x, x + flat)
        x += flat + BA

    def across(x):
        return x if hand < 0 else width - x

    def span(name):
        return sorted(across(x) for x in starts[name])

    n = 1.0 if hand < 0 else -1.0
    lip = flange((across(starts["web"][0]), 0.0), (-n, 0.0), False)
    leg = flange((across(starts["web"][1]), 0.0), (n, 0.0), False)
    back = chain(leg, flange((across(starts["leg"][1]), 0.0), (n, 0.0), False))
    places = {"lip": lip, "web": FLAT, "leg": leg, "return": back}
    faces = [(f, rectangle(span(f)[0], 0.0, span(f)[1], HEIGHT), places[f])
             for f in ("web", "lip", "leg", "return")]
    lines = [("web/lip", starts["web"][0] - BA / 2), ("web/leg", starts["web"][1] + BA / 2),
             ("leg/return", starts["leg"][1] + BA / 2)]
    bends = [bend(name, [[across(x), 0.0], [across(x), HEIGHT]], False) for name, x in lines]
    xw, joint = starts["web"][0], "j1" if hand < 0 else "j2"
    holes = [hole(i + 1, "web", (across(xw + y - 2.0), HEADER + 17.0), [4.9], joint, "rivet-4.8")
             for i, y in enumerate((37.0, 50.0))]
    holes += [hole(3 + i, "lip", (across(25.0), z), [5.5, 12.0], "j3", "screw-5.5")
              for i, z in enumerate((300.0, 900.0, 1500.0))]
    place = ([[0.0, 0.0, 1.0, -WEB - T], [1.0, 0.0, 0.0, 2.0 - xw], [0.0, 1.0, 0.0, 0.0]]
             if hand < 0 else
             [[0.0, 0.0, -1.0, WEB + T], [-1.0, 0.0, 0.0, 2.0 - xw + width], [0.0, 1.0, 0.0, 0.0]])
    word = "left" if hand < 0 else "right"
    head = (f"{kit}-01{word[0].upper()}", f"side-frame-{word}", f"Side frame, {word}")
    outer = [[*p, 0.0] for p in rectangle(0.0, 0.0, width, HEIGHT)]
    return part(head, outer, faces, bends, holes, place)


def header(kit):
    """A soffit with its ends turned up against the side frames and a lip up the wall's face."""
    half, front, deep = WEB - R - T, 2.0, 62.0  # the plate's parent-side bend edges
    dx, dy = half + BA + 26.0, 80.0 + BA - front

    def at(x, y):
        return [x + dx, y + dy]

    low, tip = front - BA, front - BA - 80.0
    out, far = half + BA, half + BA + 26.0
    plate = [at(*p) for p in ((-236, front), (236, front), (236, 12), (half, 12), (half, deep),
                              (-half, deep), (-half, 12), (-236, 12))]
    bulge = math.tan(math.pi / 8.0)
    corners = [(-236, front, 0), (-236, low, 0), (-236, tip + 5, bulge), (-231, tip, 0),
               (231, tip, bulge), (236, tip + 5, 0), (236, low, 0), (236, 12, 0), (far, 12, 0),
               (far, deep, 0), (-far, deep, 0), (-far, 12, 0), (-236, 12, 0)]
    outer = [[*at(x, y), float(b)] for x, y, b in corners if y not in (front, low)]
    lip = [at(-236, low), *rounded(at, -236, tip, 1), *rounded(at, 236, tip, -1), at(236, low)]
    faces = [("plate", plate, FLAT), ("lip", lip, flange(at(0, front), (0.0, -1.0), True))]
    for name, s in (("end-left", -1.0), ("end-right", 1.0)):
        xs = sorted((s * out, s * far))
        outline = [at(*p) for p in rectangle(xs[0], 12.0, xs[1], deep)]
        faces.append((name, outline, flange(at(s * half, 0.0), (s, 0.0), True)))
    middle = half + BA / 2.0
    bends = [bend("plate/lip", [at(-236, front - BA / 2), at(236, front - BA / 2)], True),
             bend("plate/end-left", [at(-middle, 12), at(-middle, deep)], True),
             bend("plate/end-right", [at(middle, deep), at(middle, 12)], True)]
    holes = [hole(1 + 2 * j + i, f"end-{w}", at(s * (out + 13.0), y), [4.9], f"j{j + 1}",
                  "rivet-4.8") for j, (w, s) in enumerate((("left", -1), ("right", 1)))
             for i, y in enumerate((37.0, 50.0))]
    holes += [hole(5 + i, "lip", at(x, low - 60.0), [5.5], "j4", "screw-5.5")
              for i, x in enumerate((-20.0, 20.0))]
    place = [[1.0, 0.0, 0.0, -dx], [0.0, 1.0, 0.0, -dy], [0.0, 0.0, 1.0, HEADER]]
    return part((f"{kit}-02", "header", "Header"), outer, faces, bends, holes, place)


def rounded(at, x, tip, inward):
    """Points of a corner of radius 5 at the lip's lower edge, in counter-clockwise order."""
    centre, points = (x + 5.0 * inward, tip + 5.0), []
    for i in range(33):
        turn = math.pi + i * math.pi / 64.0 + (0.0 if inward > 0 else math.pi / 2.0)
        points.append(at(centre[0] + 5.0 * math.cos(turn), centre[1] + 5.0 * math.sin(turn)))
    return points


def kit_data(kit="OTS-0001"):
    """The whole kit as kit.json has it."""
    left, right, head = side_frame(kit, -1), side_frame(kit, 1), header(kit)
    joints = []
    for j, side in ((1, left), (2, right)):
        pairs = [[member(head, 2 * j - 2 + i), member(side, i)] for i in (1, 2)]
        joints.append(joint(f"j{j}", f"header to {side['name']}", "rivet-4.8", 4.0, pairs))
    into = {"into": "wall"}
    pairs = [[member(p, i), into] for p in (left, right) for i in (3, 4, 5)]
    joints.append(joint("j3", "side frames to wall", "screw-5.5", 3.6, pairs))
    pairs = [[member(head, i), into] for i in (5, 6)]
    joints.append(joint("j4", "header to wall", "screw-5.5", 3.6, pairs))
    return plain({"format": "blankwright-kit/1", "kit": kit, "title": "Kelp-drying hall, hatch",
            "revision": "B", "template": "hatch", "spec_sha256": "0" * 64,
            "values": {"opening.clear_width": 2 * WEB, "foam": False, "box": "20ft"},
            "wall": dict(WALL), "parts": [left, right, head], "joints": joints,
            "fasteners": [{"id": "rivet-4.8", "title": "Blind rivet 4.8", "count": 4, "spare": 1},
                          {"id": "screw-5.5", "title": "Self-drilling screw 5.5", "count": 8,
                           "spare": 2}],
            "findings": [], "sheets": [],
            "container": {"id": "20ft", "title": "20 ft", "members": [RAIL]},
            "keep_outs": [{"name": "passage", "low": [1 - WEB, 0.0, 0.0],
                           "high": [WEB - 1, 200.0, HEADER]}],
            "cautions": ["A cut-out falls: support it.", "Cut edges are sharp."],
            "site_work": site_work(joints, [left, right, head])})


def site_work(joints, parts):
    """The cut worked on paper. From -249 to 249 the wall has two ends of 7 mm, one outer flat of
    72, two inner ones of 70 and four slopes of hypot(68, 36) = 76.942."""
    developed = 2 * 7.0 + 72.0 + 2 * 70.0 + 4 * math.hypot(68.0, 36.0)
    area = developed * 1896.0e-6
    steel = area * 1.6 * 7.85
    mass = steel + 0.3 * area
    # Two cuts as long as the sheet developed, two as high as the opening, 3 m a disc and one more;
    # 50 mm of both faces along them painted twice with 0.1 l/m2.
    cuts = 2 * (developed + 1896.0)
    discs, primer = math.ceil(cuts / 3000.0) + 1, math.ceil(cuts * 0.2e-4 * 10.0) / 10.0
    edges = [("lower", -100.0, 0.0), ("left", -249.0, 900.0), ("right", 249.0, 900.0),
             ("upper", -100.0, 1896.0), ("upper", 100.0, 1896.0)]
    return {
        "wall": "left", "survey_spread": None,
        "cut": {
            "lines": {"x": [-249.0, 249.0], "z": [0.0, 1896.0],
                      "from_left_post": [651.0, 1149.0], "from_right_post": [1149.0, 651.0],
                      "above_bottom_rail": [0.0, 1896.0], "below_top_rail": [1990.0, 94.0],
                      "width": 498.0, "height": 1896.0,
                      "diagonal": math.hypot(498.0, 1896.0), "saw_reach": 37.6},
            "lips": [{"flat_from_left": 3, "flat_from_right": 5, "flat": [-314.0, -242.0],
                      "cut": -249.0, "reach": 30.0, "beyond": 35.0, "cut_away": 7.0},
                     {"flat_from_left": 5, "flat_from_right": 3, "flat": [242.0, 314.0],
                      "cut": 249.0, "reach": 30.0, "beyond": 35.0, "cut_away": 7.0}],
            "panel": {"developed": developed, "area_m2": area, "steel_kg": steel, "mass_kg": mass,
                      "centre": [0.0, 19.0, 948.0], "size": [498.0, 37.6, 1896.0]},
            "holding": {"tab_width": 25.0,
                        "tabs": [{"edge": e, "x": x, "z": z, "thickness": 1.6}
                                 for e, x, z in edges],
                        "hanging": {"found": 2 * 1.6 * 25.0 * 235.0 / (mass * 9.81), "limit": 4.0}},
            "sheets": [{"x": [-249.0, 249.0], "thickness": 1.6}]},
        "settings": [{"joint": j["id"], "fastener": j["fastener"], "count": len(j["pairs"])}
                     for j in joints],
        "steps": [{"title": "Frame", "text": "Build it in.", "cautions": [],
                   "parts": [part["number"] for part in parts],
                   "joints": [joint["id"] for joint in joints]}],
        "tools": [tool("Cutting discs 125 mm", "cuts", float(discs), "pieces"),
                  tool("Zinc-rich primer", "cut edges", primer, "l"),
                  tool("Gloves", "sharp edges", None, None)]}


def tool(what, why, amount, unit):
    return {"what": what, "drill": None, "why": why, "amount": amount, "unit": unit}


def plain(value):
    """The same tables without minus zeros."""
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, list):
        return [plain(item) for item in value]
    return value + 0.0 if isinstance(value, float) else value


def joint(key, name, fastener, grip, pairs):
    return {"id": key, "name": name, "fastener": fastener, "grip": grip, "gap": 0.0, "pairs": pairs}


def member(part_data, number):
    return {"part": part_data["number"], "place": 0, "hole": f"h{number}"}
