"""Common sheets of several kits from outside: quantities, distances, the order of cuts, the same
bytes on any number of threads, what is refused, and what is laid out all the same."""

import csv
import json
import subprocess

import ezdxf
import pypdf
import pytest
import rack
from conftest import ROOT
from kitcheck import sheets
from kitcheck.kit import Kit
from shapely.geometry import Polygon

SPECS = [ROOT / "sample-specs" / name for name in ("lab-tray.toml", "lab-struts.toml")]


def run(program, *words):
    return subprocess.run([program, *map(str, words)], cwd=ROOT, capture_output=True, text=True,
                          stdin=subprocess.DEVNULL, timeout=300, check=False)


class Common:
    """Several kits as one, so that the checks of a kit's sheets serve for common ones."""

    def __init__(self, folder, kits):
        self.folder = folder
        data = json.loads((folder / "sheets.json").read_text(encoding="utf-8"))
        times = {row["kit"]: row["times"] for row in data["kits"]}
        self.parts = [part for kit in kits for part in kit.parts]
        for kit in kits:
            for part in kit.parts:
                part.data["quantity"] = len(part.places) * times[kit.name]
        self.by_number = {part.number: part for part in self.parts}
        self.data = data


@pytest.fixture(scope="module")
def kits(program, tmp_path_factory):
    folder = tmp_path_factory.mktemp("kits")
    assert run(program, "draw", *SPECS, "--out", folder, "--only", "json").returncode == 0
    return folder


@pytest.fixture(scope="module")
def laid(program, tmp_path_factory):
    folder = tmp_path_factory.mktemp("common") / "sheets"
    result = run(program, "sheets", *SPECS, "--times", 10, "--effort", "quick", "--out", folder,
                 "--jobs", 1)
    assert result.returncode == 0, result.stderr
    return folder


def read_kits(folder):
    return [Kit(path.parent) for path in sorted(folder.glob("*/kit.json"))]


def test_common_sheets_hold_every_part(kits, laid):
    assert sheets.check(Common(laid, read_kits(kits))) == []


def test_a_changed_sheet_is_found(kits, laid):
    """Each change of the list or of the drawing's order is found, or the check above is idle."""
    def moved(sheet):
        sheet["parts"][0]["x"] += 1.0

    def off_edge(sheet):
        sheet["parts"][0]["y"] -= 5.0

    def short(sheet):
        sheet["parts"].pop()

    for change in (moved, off_edge, short):
        common = Common(laid, read_kits(kits))
        change(common.data["sheets"][0])
        assert sheets.check(common), change.__name__


def test_an_outline_cut_too_early_is_found(kits, laid, tmp_path):
    common = Common(laid, read_kits(kits))
    sheet = common.data["sheets"][0]
    drawing = ezdxf.readfile(laid / sheet["file"])
    space = drawing.modelspace()
    outline = next(e for e in space if e.dxf.layer == "CUT_OUTSIDE")
    moved = space.add_lwpolyline(outline.get_points("xyb"), format="xyb", close=True,
                                 dxfattribs={"layer": "CUT_OUTSIDE"})
    space.delete_entity(outline)
    entities = [moved] + [e for e in space if e is not moved]
    space.entity_space.entities = entities
    drawing.saveas(tmp_path / sheet["file"])
    common.folder = tmp_path
    troubles = sheets.drawing_troubles(common, sheet)
    assert any("cut out before" in t or "cut before" in t for t in troubles), troubles


def test_the_list_says_the_same(laid):
    data = json.loads((laid / "sheets.json").read_text(encoding="utf-8"))
    with (laid / "sheets.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for sheet in data["sheets"]:
        own = [row for row in rows if row["file"] == sheet["file"]]
        assert sum(int(row["on_sheet"]) for row in own) == len(sheet["parts"])
        assert {int(row["copies"]) for row in own} == {sheet["copies"]}
        assert {row["pierces"] for row in own} == {str(sheet["pierces"])}
    files = {path.name for path in laid.glob("*.dxf")}
    assert files == {sheet["file"] for sheet in data["sheets"]}


def test_same_bytes_on_two_threads(program, laid, tmp_path):
    result = run(program, "sheets", *SPECS, "--times", 10, "--effort", "quick",
                 "--out", tmp_path / "sheets", "--jobs", 2)
    assert result.returncode == 0, result.stderr
    for path in sorted(laid.iterdir()):
        assert (tmp_path / "sheets" / path.name).read_bytes() == path.read_bytes(), path.name


def test_common_sheets_are_proved_by_the_program_too(program, laid):
    result = run(program, "prove", laid)
    assert result.returncode == 0 and result.stderr == "", result.stderr
    assert "proved in" in result.stdout


def test_sheets_are_laid_out_again_into_their_folder(program, tmp_path):
    words = [program, "sheets", SPECS[0], "--effort", "quick", "--out", tmp_path / "sheets"]
    for _ in range(2):
        result = run(*words)
        assert result.returncode == 0, result.stderr


def test_a_kits_folder_is_not_replaced_by_sheets(program, tmp_path):
    assert run(program, "draw", SPECS[0], "--out", tmp_path, "--only", "json").returncode == 0
    kit = next(tmp_path.glob("*/kit.json"))
    result = run(program, "sheets", SPECS[0], "--effort", "quick", "--out", kit.parent)
    assert result.returncode == 2 and kit.is_file(), result.stderr


@pytest.fixture(scope="module")
def racked(program, tmp_path_factory):
    """Frames whose openings hold small parts, and a sieve; with the kit's folder."""
    place = tmp_path_factory.mktemp("racked")
    families = rack.family(place)
    spec = rack.spec(place, "OSR-0601", "[sieve]\nmade = true\n")
    more = ["--templates", families]
    result = run(program, "sheets", spec, *more, "--times", 4, "--effort", "quick", "--out",
                 place / "sheets")
    assert result.returncode == 0, result.stderr
    drawn = run(program, "draw", spec, *more, "--out", place / "kits", "--only", "json")
    assert drawn.returncode == 0, drawn.stderr
    return Common(place / "sheets", read_kits(place / "kits"))


def test_small_parts_in_openings_are_cut_before_the_part_around_them(racked):
    assert sheets.check(racked) == []
    inside = 0
    for sheet in racked.data["sheets"]:
        cuts = list(sheets.ordered_cuts(ezdxf.readfile(racked.folder / sheet["file"])))
        outlines = [(at, shape) for at, (layer, shape, _) in enumerate(cuts)
                    if layer == "CUT_OUTSIDE"]
        openings = [(at, shape) for at, (layer, shape, _) in enumerate(cuts)
                    if layer == "CUT_INSIDE"]
        for at, shape in outlines:
            around = [(i, hole) for i, hole in openings if hole.contains(shape)]
            outer = [i for i, other in outlines if i != at and other.contains(shape)]
            assert len(around) == len(outer)
            for (hole_at, _), frame_at in zip(around, outer, strict=True):
                assert at < hole_at < frame_at, "part, then opening, then the part around it"
            inside += len(around)
        # Insides in which nothing lies come before every outline.
        first = min(at for at, _ in outlines)
        for at, hole in openings:
            if not any(hole.contains(shape) for _, shape in outlines):
                assert at < first
    assert inside >= 4, f"only {inside} parts lie in openings: nothing is tested here"


def test_holes_close_together_are_not_cut_in_a_row(racked):
    """The sieve's holes lie 5 mm apart, nearer than the shop's heat distance of 8 mm: its 96 holes
    in rows would make about 95 neighbours a sieve in a row."""
    distance = sheets.LASER["sheet_work"]["heat_distance"]
    for sheet in racked.data["sheets"]:
        drawing = ezdxf.readfile(racked.folder / sheet["file"])
        holes = [shape for layer, shape, _ in sheets.ordered_cuts(drawing)
                 if layer == "CUT_INSIDE" and shape.length < 250]
        near = [a for a, b in zip(holes, holes[1:]) if apart(a, b) < distance]
        assert len(near) <= 0.1 * len(holes), f"{len(near)} of {len(holes)} in {sheet['file']}"


def apart(one, other):
    """Distance between the boxes around two holes."""
    a, b = one.bounds, other.bounds
    x = max(b[0] - a[2], a[0] - b[2], 0.0)
    y = max(b[1] - a[3], a[1] - b[3], 0.0)
    return (x * x + y * y) ** 0.5


def test_figures_follow_from_the_laser_files(racked, laid, kits):
    """Cut length, pierces, mass, remnant and covered share, measured on the files alone."""
    steel = {"DX51D": 7850.0, "1.4301": 7900.0}
    for common in (racked, Common(laid, read_kits(kits))):
        for sheet in common.data["sheets"]:
            drawing = ezdxf.readfile(common.folder / sheet["file"])
            cuts = list(sheets.ordered_cuts(drawing))
            assert sheet["pierces"] == len(cuts)
            length = sum(shape.length for _, shape, _ in cuts)
            # Chords that stand for arcs are a little shorter.
            assert length <= sheet["cut_length_mm"] + 0.01
            assert sheet["cut_length_mm"] - length < 1e-3 * length
            density = next(d for name, d in steel.items() if name in sheet["material"])
            size = sheet["width"] * sheet["height"]
            mass = size * sheet["thickness"] * density * 1e-9
            assert sheet["mass_kg"] == pytest.approx(mass, rel=0.011)
            work = sheets.LASER["sheet_work"]
            assert sheet["time_s"] > work["handling"] + sheet["travel_mm"] / work["rapid"]
            if sheet["remnant"]:
                x0, y0, x1, y1 = sheet["remnant"]
                rest = Polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
                gap = max(sheets.LASER["nest"]["part"], sheet["thickness"])
                assert min(s.distance(rest) for _, s, _ in cuts) >= gap - 0.01
                assert min(x1 - x0, y1 - y0) >= work["keep"]
                # One straight cut across the whole sheet sets it free.
                lines = drawing.modelspace().query('LINE[layer=="INFO"]')
                assert len(lines) == 1
                a, b = lines[0].dxf.start, lines[0].dxf.end
                xs, ys = sorted((a.x, b.x)), sorted((a.y, b.y))
                upright = any(xs == pytest.approx([x, x]) for x in (x0, x1))
                level = any(ys == pytest.approx([y, y]) for y in (y0, y1))
                assert (upright and ys == pytest.approx([0, sheet["height"]])) or (
                    level and xs == pytest.approx([0, sheet["width"]])), (xs, ys)


# What is wrong; its code when the rest is laid out; its code and exit status when all is refused.
BAD = {
    "OSR-0611": ("[frame]\nwidth = 3600\nheight = 900\n", "sheets.too-large", ("fab.sheet", 1)),
    "OSR-0612": ("[sheet.parts.frame]\nthickness = 4\n", "sheets.stock", ("fab.sheet", 1)),
    "OSR-0613": ("[frame]\ncount = 0\n", "sheets.quantity", ("sheets.quantity", 2)),
}
REMNANT = """
[[shop.remnant]]
name = "R-1"
material = "galvanized-dx51d"
thickness = 2
size = [-1450, 1200]
"""


def bad_shop(folder, more):
    """Sheets of zinc-coated steel in four thicknesses alone."""
    stocked = 'materials = ["galvanized-dx51d", '
    narrow = "thicknesses = [1, 1.5, 2, 3]\n" + stocked
    return rack.shop(ROOT, folder, ("\n" + stocked, "\n" + narrow), more=more)


@pytest.mark.parametrize("number", BAD)
def test_bad_input_is_named_with_its_place_and_the_rest_laid_out(program, tmp_path, number):
    kit, (text, code, (check, status)) = number, BAD[number]
    families, shop = rack.family(tmp_path), bad_shop(tmp_path, "")
    path = rack.spec(tmp_path, kit, text)
    words = [program, "sheets", path, "--templates", families, "--shop", shop, "--effort", "quick",
             "--out", tmp_path / "sheets", "--format", "json"]
    refused = run(*words)
    assert refused.returncode == status and not (tmp_path / "sheets").exists(), refused.stdout
    assert f"{kit}-01" in refused.stdout and check in refused.stdout
    partial = run(*words, "--partial")
    assert partial.returncode == 2, partial.stdout
    found = next(f for f in json.loads(partial.stdout) if f["check"] == code)
    assert found["subject"] == f"{kit}-01" and found["help"]
    assert found["file"] == str(path) and found["line"] >= 1 and found["column"] >= 1
    if code == "sheets.stock":
        assert path.read_text().splitlines()[found["line"] - 1] == "thickness = 4"
    data = json.loads((tmp_path / "sheets" / "sheets.json").read_text(encoding="utf-8"))
    laid = {part["number"]: part["laid"] for part in data["parts"]}
    assert laid == {f"{kit}-01": 0, f"{kit}-02": 30, f"{kit}-03": 12}
    assert [row["number"] for row in data["missing"]] == [f"{kit}-01"]
    words = page_words(tmp_path / "sheets" / "sheets.pdf")
    assert "not laid out" in words and f"{kit}-01" in words
    proved = run(program, "prove", tmp_path / "sheets", "--shop", shop)
    assert proved.returncode == 0 and f"{kit}-01" in proved.stderr, proved.stderr


def page_words(path):
    """The text of the sheet list."""
    text = pypdf.PdfReader(path).pages[0].extract_text()
    return " ".join(text.split())


def test_all_bad_input_at_once(program, tmp_path):
    families, shop = rack.family(tmp_path), bad_shop(tmp_path, REMNANT)
    paths = [rack.spec(tmp_path, kit, text) for kit, (text, _, _) in BAD.items()]
    broken = tmp_path / "broken.toml"
    broken.write_text("kit = \"OSR-0614\"\ntemplate = \"no-such\"\n", encoding="utf-8")
    words = [program, "sheets", *paths, broken, "--templates", families, "--shop", shop, "--effort",
             "quick", "--out", tmp_path / "sheets"]
    refused = run(*words)
    assert refused.returncode == 2 and not (tmp_path / "sheets").exists()
    assert "R-1" in refused.stderr and "-1450" in refused.stderr
    lines = (shop / "shop.toml").read_text(encoding="utf-8").splitlines()
    line = lines.index("size = [-1450, 1200]") + 1
    assert f"shop.toml:{line}:9" in refused.stderr, refused.stderr
    partial = run(*words, "--partial")
    assert partial.returncode == 2
    for code in ("shelf.value", "sheets.too-large", "sheets.stock", "sheets.quantity"):
        assert f"error[{code}]" in partial.stderr, code
    data = json.loads((tmp_path / "sheets" / "sheets.json").read_text(encoding="utf-8"))
    assert len(data["missing"]) == 3 and len(data["left_out"]) == 1
    words = page_words(tmp_path / "sheets" / "sheets.pdf")
    for kit in ("OSR-0611-01", "OSR-0612-01", "OSR-0613-01", "OSR-0614"):
        assert kit in words
    assert "entries in the shop's file" in words


def test_what_cannot_be_laid_out_is_named(program, tmp_path):
    """Stock for a few only: refused by default, the rest laid out with --partial."""
    shop = tmp_path / "shop"
    shop.mkdir()
    for path in (ROOT / "templates" / "shop").glob("*.toml"):
        text = path.read_text(encoding="utf-8")
        if path.name == "shop.toml":
            text = text.replace("[[shop.sheet]]\n", "[[shop.sheet]]\ncount = 1\n")
        (shop / path.name).write_text(text, encoding="utf-8")
    words = ["sheets", SPECS[1], "--times", 60, "--effort", "quick", "--shop", shop,
             "--out", tmp_path / "sheets"]
    refused = run(program, *words)
    assert refused.returncode == 1 and "sheets.run-out" in refused.stderr, refused.stderr
    assert "OSL-0330-01" in refused.stderr and not (tmp_path / "sheets").exists()
    partial = run(program, *words, "--partial")
    assert partial.returncode == 1 and "OSL-0330-01" in partial.stderr
    data = json.loads((tmp_path / "sheets" / "sheets.json").read_text(encoding="utf-8"))
    assert 0 < data["parts"][0]["laid"] < data["parts"][0]["quantity"]


def test_a_folder_of_other_things_is_left_alone(program, tmp_path):
    place = tmp_path / "sheets"
    place.mkdir()
    (place / "letter.txt").write_text("keep me", encoding="utf-8")
    result = run(program, "sheets", SPECS[0], "--effort", "quick", "--out", place)
    assert result.returncode == 3, result.stderr
    assert (place / "letter.txt").read_text(encoding="utf-8") == "keep me"
