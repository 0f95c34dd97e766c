"""Common sheets of several kits from outside: quantities, distances, the same bytes on any number
of threads, what is refused, and what is laid out all the same."""

import csv
import json
import subprocess

import ezdxf
import pytest
from conftest import ROOT
from kitcheck import sheets
from kitcheck.kit import Kit

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
    result = run(program, "sheets", *SPECS, "--times", 4, "--effort", "quick", "--out", folder,
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
    result = run(program, "sheets", *SPECS, "--times", 4, "--effort", "quick",
                 "--out", tmp_path / "sheets", "--jobs", 2)
    assert result.returncode == 0, result.stderr
    for path in sorted(laid.iterdir()):
        assert (tmp_path / "sheets" / path.name).read_bytes() == path.read_bytes(), path.name


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
