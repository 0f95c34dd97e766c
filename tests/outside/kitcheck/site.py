"""The work on site: cut lines from the posts, the cut-out weighed anew, tabs, schedule and paper."""

import math

from shapely.geometry import LineString

from . import pdf

STEEL, PAINT = 7850.0, 0.3  # kg/m3; kg for each m2 of sheet, both sides
NEAR = 1e-6


def check(kit):
    wall, work = kit.data["wall"], kit.data.get("site_work")
    if work is None:
        return ["the wall is cut, but kit.json has no site_work"] if wall else []
    troubles = settings(kit, work) + steps(kit, work) + paper(kit, work)
    if wall is None:
        return troubles
    if not work["cut"]:
        return troubles + ["the wall is cut, but site_work has no cut"]
    cut = work["cut"]
    return troubles + lines(wall, cut) + panel(wall, cut) + tabs(cut) + lips(wall, cut)


def differ(what, found, wanted, most=NEAR):
    return [] if abs(found - wanted) <= most else [f"{what} is {found}, not {wanted}"]


def lines(wall, cut):
    """Every distance of the cut lines follows from the wall's own places."""
    found, (left, right) = cut["lines"], wall["cuts"]
    bottom, top = wall["cut_bottom"], wall["cut_top"]
    wanted = {
        "x": [left, right], "z": [bottom, top],
        "from_left_post": [x - wall["ends"][0] for x in (left, right)],
        "from_right_post": [wall["ends"][1] - x for x in (left, right)],
        "above_bottom_rail": [z - wall["edges"][0] for z in (bottom, top)],
        "below_top_rail": [wall["edges"][1] - z for z in (bottom, top)],
    }
    troubles = [t for key, pair in wanted.items() for a, b in zip(found[key], pair)
                for t in differ(f"lines.{key}", a, b)]
    diagonal = math.dist((left, bottom), (right, top))
    return (troubles + differ("lines.diagonal", found["diagonal"], diagonal)
            + differ("lines.saw_reach", found["saw_reach"], wall["depth"] + wall["thickness"]))


def profile(wall):
    """The outer face of the whole wall in plan."""
    half, slope, depth = wall["outer_flat"] / 2.0, wall["slope"], wall["depth"]
    centres = wall["outer_flat_centres"]
    points = [(wall["ends"][0], 0.0), (centres[0] - half, 0.0)]
    for a, b in zip(centres, centres[1:]):
        points += [(a + half, 0.0), (a + half + slope, depth), (b - half - slope, depth),
                   (b - half, 0.0)]
    points += [(centres[-1] + half, 0.0), (wall["ends"][1], 0.0)]
    return LineString([p for p, q in zip(points, points[1:]) if p != q] + [points[-1]])


def between(line, low, high):
    strip = LineString([(low, -1000.0), (low, 1000.0)]), LineString([(high, -1000.0), (high, 1000.0)])
    ends = [line.project(line.intersection(edge)) for edge in strip]
    return ends[1] - ends[0]


def panel(wall, cut):
    """Developed length, area and mass, worked out anew."""
    found, line = cut["panel"], profile(wall)
    height = (wall["cut_top"] - wall["cut_bottom"]) / 1000.0
    runs = [(between(line, *sheet["x"]), sheet["thickness"]) for sheet in cut["sheets"]]
    developed = sum(length for length, _ in runs)
    area = developed * height / 1000.0
    steel = sum(length * thickness for length, thickness in runs) * height * STEEL * 1e-6
    troubles = differ("sheets reach from", cut["sheets"][0]["x"][0], wall["cuts"][0])
    troubles += differ("sheets reach to", cut["sheets"][-1]["x"][1], wall["cuts"][1])
    troubles += differ("developed length", found["developed"], developed, 1e-4)
    troubles += differ("area", found["area_m2"], area)
    troubles += differ("mass of the steel", found["steel_kg"], steel, 1e-4)
    troubles += differ("mass with paint", found["mass_kg"], steel + area * PAINT, 1e-4)
    low, high = wall["cuts"]
    if not (low < found["centre"][0] < high and 0 < found["centre"][1] < found["size"][1]):
        troubles.append(f"the centre of mass lies outside the panel: {found['centre']}")
    return troubles


def tabs(cut):
    """Tabs stand in the cuts; the last two hold the panel from both its ends."""
    (left, right), (bottom, top) = cut["lines"]["x"], cut["lines"]["z"]
    at = {"lower": ("z", bottom), "upper": ("z", top), "left": ("x", left), "right": ("x", right)}
    troubles, holding = [], cut["holding"]
    for tab in holding["tabs"]:
        axis, place = at[tab["edge"]]
        inside = left <= tab["x"] <= right and bottom <= tab["z"] <= top
        if tab[axis] != place or not inside:
            troubles.append(f"a tab stands off its cut: {tab}")
    order = [tab["edge"] for tab in holding["tabs"]]
    rank = {"lower": 0, "left": 1, "right": 1, "upper": 2}
    if order != sorted(order, key=rank.get):
        troubles.append(f"tabs are cut in a wrong order: {order}")
    last = [tab for tab in holding["tabs"][-2:] if tab["edge"] == "upper"]
    uppers = [tab["x"] for tab in holding["tabs"] if tab["edge"] == "upper"]
    if sorted(tab["x"] for tab in last) != [min(uppers), max(uppers)]:
        troubles.append("the last two tabs are not the two ends of the upper cut")
    weight = cut["panel"]["mass_kg"] * 9.81
    strength = sum(tab["thickness"] for tab in last) * holding["tab_width"] * 235.0
    return troubles + differ("hanging", holding["hanging"]["found"], strength / weight, 1e-6)


def lips(wall, cut):
    """Each lip and its free flat make up what stays of the flat."""
    if cut["lips"] is None:
        return []
    troubles = []
    for lip, away in zip(cut["lips"], (0, 1)):
        edges = lip["flat"]
        stays = abs(lip["cut"] - edges[away])
        troubles += differ("lip and free flat", lip["reach"] + lip["beyond"], stays)
        troubles += differ("flat", stays + lip["cut_away"], wall["outer_flat"])
        centre = wall["outer_flat_centres"][lip["flat_from_left"] - 1]
        troubles += differ("flat's middle", sum(edges) / 2.0, centre)
        if lip["beyond"] < -NEAR:
            troubles.append("a lip reaches past its flat")
    return troubles


def settings(kit, work):
    """Every joint once, with as many fasteners as it has."""
    wanted = {joint["id"]: (joint["fastener"], len(joint["pairs"])) for joint in kit.data["joints"]}
    found = {s["joint"]: (s["fastener"], s["count"]) for s in work["settings"]}
    return [] if found == wanted else [f"the schedule has {found}, the joints {wanted}"]


def steps(kit, work):
    """Every part is built in, and no other is named."""
    numbers = {part["number"] for part in kit.data["parts"]}
    named = {number for step in work["steps"] for number in step["parts"]}
    troubles = [f"a step names {number}, which is no part" for number in sorted(named - numbers)]
    missing = sorted(numbers - named) if named else []
    troubles += [f"no step builds in {number}" for number in missing]
    return troubles + step_joints(kit, work) + supplies(work)


def step_joints(kit, work):
    """Every joint is set in one step, once all its parts stand."""
    parts = {joint["id"]: {member["part"] for pair in joint["pairs"] for member in pair if "part" in member}
             for joint in kit.data["joints"]}
    troubles, standing, seen = [], set(), []
    for step in work["steps"]:
        standing |= set(step["parts"])
        seen += step["joints"]
        troubles += [f"step {step['title']} sets {joint} before {sorted(parts[joint] - standing)} stand"
                     for joint in step["joints"] if not parts[joint] <= standing]
    if sorted(seen) != sorted(parts):
        troubles.append(f"the steps set {sorted(seen)}, the joints are {sorted(parts)}")
    return troubles


def supplies(work):
    """What is brought in a quantity has one, and its unit; cut edges are primed and discs suffice."""
    troubles = [f"{tool['what']}: {tool['amount']} {tool['unit']}" for tool in work["tools"]
                if (tool["amount"] is None) != (tool["unit"] is None) or (tool["amount"] or 1) <= 0]
    if work["cut"]:
        edge = 2 * (work["cut"]["lines"]["height"] + work["cut"]["panel"]["developed"])
        found = {tool["what"]: tool["amount"] for tool in work["tools"]}
        discs = next(amount for what, amount in found.items() if what.startswith("Cutting discs"))
        if discs != math.ceil(edge / 3000.0) + 1:
            troubles.append(f"{discs} discs for {edge} mm of cut")
        # 50 mm on both faces, two coats of 0.1 l/m2, up to the next 0.1 l.
        litres = edge * 0.1 * 1e-3 * 0.2
        if not litres - 1e-6 <= found["Zinc-rich primer"] <= litres + 0.1:
            troubles.append(f"{found['Zinc-rich primer']} l of primer for {edge} mm of cut")
    return troubles


def paper(kit, work):
    """site.pdf: the cut-out's mass somewhere, every caution on every page."""
    pages, troubles = pdf.read(kit.folder / "site.pdf")
    texts = [pdf.squeezed(text) for _, text in pages]
    for at, text in enumerate(texts, 1):
        for caution in kit.data.get("cautions", []):
            if pdf.squeezed(caution) not in text:
                troubles.append(f"site.pdf: page {at} does not say: {caution}")
    if work["cut"]:
        mass = f"{work['cut']['panel']['mass_kg']:.2f}kg"
        if not any(mass in text for text in texts):
            troubles.append(f"site.pdf does not name the cut-out's mass, {mass}")
    return troubles
