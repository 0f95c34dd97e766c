"""Lead-ins, tabs and skeleton cuts from outside: read from the laser files with a general library,
held against the material that the same files cut."""

import json
import subprocess
import tomllib

import ezdxf
import pytest
import rack
from conftest import ROOT
from kitcheck import dxf, plane
from shapely import STRtree
from shapely.geometry import LineString, MultiPoint, Point, Polygon, box

WORK = tomllib.loads((ROOT / "templates/shop/shop.toml").read_text(encoding="utf-8").replace(
    "# lead_in", "lead_in").replace("# tab", "tab").replace("# skeleton", "skeleton"))
WORK = WORK["shop"]["sheet_work"]
KELP = ROOT / "sample-specs" / "kelp-hall.toml"
VENT = ROOT / "sample-specs" / "kelp-vent.toml"
# What tabs keep from holes and bends, mm: common practice, no source.
AROUND = 5.0


def run(*words):
    return subprocess.run([*map(str, words)], cwd=ROOT, capture_output=True, text=True,
                          stdin=subprocess.DEVNULL, timeout=300, check=False)


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    return rack.shop(ROOT, tmp_path_factory.mktemp("rack"), *rack.EXTRAS)


@pytest.fixture(scope="module")
def folders(program, shop, tmp_path_factory):
    """Folders of sheets with everything on."""
    place = tmp_path_factory.mktemp("extras")
    families = rack.family(place)
    shims = rack.spec(place, "OSR-0601", "[sieve]\nmade = true\n")
    asked = [[shims, "--times", 3, "--templates", families], [KELP, VENT, "--times", 3]]
    made = []
    for index, words in enumerate(asked):
        out = place / f"sheets-{index}"
        result = run(program, "sheets", *words, "--shop", shop, "--effort", "quick", "--out", out)
        assert result.returncode == 0, result.stderr
        made.append(out)
    return made


class Cut:
    """One sheet's laser file as regions."""

    def __init__(self, folder, sheet):
        self.sheet = sheet
        self.drawing = ezdxf.readfile(folder / sheet["file"])
        self.outlines, self.holes = [
            [Polygon(plane.flatten(plane.contour_loop(c))) for c in dxf.contours(self.drawing, layer)]
            for layer in ("CUT_OUTSIDE", "CUT_INSIDE")]
        tree = STRtree(self.holes)
        self.material = []
        for outline in self.outlines:
            inside = [self.holes[i] for i in tree.query(outline, predicate="contains")]
            # Holes of parts that lie in an opening are no holes of the part around them.
            own = [h for h in inside if not any(
                other is not outline and outline.contains(other) and other.contains(h)
                for other in self.outlines)]
            shape = outline
            for hole in own:
                shape = shape.difference(hole)
            self.material.append(shape)
        self.parts = STRtree(self.material)

    def lines(self, layer):
        found = self.drawing.modelspace().query(f'*[layer=="{layer}"]')
        assert all(e.dxftype() == "LINE" for e in found)
        return [LineString([e.dxf.start.vec2, e.dxf.end.vec2]) for e in found]

    def starts(self):
        """Where each cut begins: the first corner, or a circle's point of greatest x."""
        for e in self.drawing.modelspace():
            if e.dxf.layer in ("CUT_OUTSIDE", "CUT_INSIDE"):
                if e.dxftype() == "CIRCLE":
                    yield e.dxf.center.x + e.dxf.radius, e.dxf.center.y
                else:
                    yield tuple(e.get_points("xy")[0])


def cuts(folders):
    for folder in folders:
        for sheet in json.loads((folder / "sheets.json").read_text(encoding="utf-8"))["sheets"]:
            yield Cut(folder, sheet)


def test_lead_ins_lie_in_the_waste_and_touch_no_part(folders):
    leads = contours = 0
    for cut in cuts(folders):
        starts = list(cut.starts())
        contours += len(starts)
        known = MultiPoint(starts)
        ends = set()
        for line in cut.lines("LEAD_IN"):
            leads += 1
            pierce, end = Point(line.coords[0]), Point(line.coords[1])
            assert end.distance(known) < 1e-6, "a lead-in leads to the beginning of a cut"
            ends.add(line.coords[1])
            assert line.length <= WORK["lead_in"]["length"] + 1e-6
            for index in cut.parts.query(line.buffer(0.5)):
                shape = cut.material[index]
                assert shape.intersection(line).length < 2e-3, f"{line} runs in material"
                assert shape.distance(pierce) > 0.3 * line.length, f"{line} pierces at a part"
        assert len(ends) == len(cut.lines("LEAD_IN")), "one lead-in for each cut"
    assert leads > 0.98 * contours, f"{leads} lead-ins for {contours} contours"


def test_tabs_lie_on_straight_edges_off_holes_and_bends(folders):
    for cut in cuts(folders):
        width = WORK["tab"]["width"]
        bends = cut.lines("BEND_UP") + cut.lines("BEND_DOWN")
        counts = [0] * len(cut.outlines)
        rims = STRtree([outline.exterior for outline in cut.outlines])
        holes, lines = STRtree(cut.holes), STRtree(bends)
        for tab in cut.lines("TAB"):
            assert abs(tab.length - width) < 1e-6
            on = [i for i in rims.query(tab.buffer(0.1))
                  if cut.outlines[i].exterior.buffer(1e-4).covers(tab)]
            assert len(on) == 1, f"{tab} lies on {len(on)} outlines"
            counts[on[0]] += 1
            # Holes of the part itself, and its bends: the tab is ground off beside neither.
            own = cut.material[on[0]]
            near = [h for h in holes.query(tab.buffer(AROUND))
                    if Polygon(own.exterior).contains(cut.holes[h])]
            assert all(cut.holes[h].distance(tab) >= AROUND - 0.01 for h in near), tab
            crossing = [b for b in lines.query(tab.buffer(AROUND))
                        if Polygon(own.exterior).buffer(1e-3).contains(bends[b])]
            assert all(bends[b].distance(tab) >= AROUND - 0.01 for b in crossing), tab
        assert min(counts) >= 1 and sorted(counts)[len(counts) // 10] >= 2, counts


def test_skeleton_cuts_cross_no_part_no_remnant_and_no_blocked_place(folders):
    found = 0
    for cut in cuts(folders):
        clear = WORK["skeleton"]["clear"]
        for line in cut.lines("SKELETON"):
            found += 1
            for outline in cut.outlines:
                assert outline.distance(line) >= clear - 0.02, f"{line} is too near to a part"
            kept = [*cut.sheet["blocked"], *([cut.sheet["remnant"]] if cut.sheet["remnant"] else [])]
            for place in kept:
                assert box(*place).buffer(-0.01).disjoint(line), f"{line} cuts into {place}"
    assert found, "no sheet has a skeleton cut"


def test_sheets_with_them_are_proved(program, shop, folders, tmp_path):
    for folder in folders:
        result = run(program, "prove", folder, "--shop", shop)
        assert result.returncode == 0 and result.stderr == "", result.stderr
    drawn = run(program, "draw", VENT, "--shop", shop, "--out", tmp_path, "--only",
                "json,dxf,csv")
    assert drawn.returncode == 0, drawn.stderr
    kit = next(tmp_path.glob("*/kit.json")).parent
    layers = {layer.dxf.name for layer in ezdxf.readfile(kit / "sheets/sheet-01.dxf").layers}
    assert {"LEAD_IN", "TAB", "SKELETON"} <= layers
    result = run(program, "prove", kit, "--shop", shop)
    assert result.returncode == 0 and result.stderr == "", result.stderr


def test_by_default_there_are_none(program, tmp_path):
    result = run(program, "sheets", VENT, "--effort", "quick", "--out", tmp_path / "sheets")
    assert result.returncode == 0, result.stderr
    for path in (tmp_path / "sheets").glob("*.dxf"):
        layers = {layer.dxf.name for layer in ezdxf.readfile(path).layers}
        assert not layers & {"LEAD_IN", "TAB", "SKELETON"}
