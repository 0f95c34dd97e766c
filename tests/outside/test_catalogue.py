"""Kits of a catalogue are right by every check, equal to the same kits drawn alone, and their parts'
drawings say where quantities stand."""

import csv
import json
import subprocess

import pytest
from checks import CHECKS
from kitcheck.kit import Kit
from pypdf import PdfReader

# Two parameters swept, values of variants beside them, one variant that no wall has room for.
SPEC = """\
kit = "OSL-0700"
template = "window"
revision = "B"
title = "Laboratory windows"
site = "Otter Sound research station"
date = "2026-11-28"

[container]
type = "40ft"
wall = "left"

[opening]
sill_height = 1050
clear_height = 900

[sweep]
opening.clear_width = [800, 1060]
foam.thickness = { from = 50, to = 75, step = 25 }

[[variant]]
suffix = "STD"

[[variant]]
suffix = "HC"
container.type = "40ft-high-cube"
opening.clear_height = 1100

[[variant]]
suffix = "TALL"
opening.clear_height = 2500

[[variant]]
suffix = "FIT"
foam.thickness = 60
[variant.sweep]
unit.depth = [60, 70]
"""
MADE = [f"OSL-0700-{name}-{width}-{last}" for name in ("STD", "HC") for width in (800, 1060)
        for last in (50, 75)] + [f"OSL-0700-FIT-{width}-{depth}" for width in (800, 1060)
                                 for depth in (60, 70)]
# The body of every kit takes a minute; the same code is seen on the samples.
NAMES = [name for name in CHECKS if name != "solid"]


def run(program, *words):
    return subprocess.run([program, *words], capture_output=True, text=True, timeout=600,
                          stdin=subprocess.DEVNULL, check=False)


@pytest.fixture(scope="module")
def place(program, tmp_path_factory):
    """A folder with the spec, the catalogue in `all`, its kits drawn alone in `alone`."""
    place = tmp_path_factory.mktemp("catalogue")
    (place / "windows.toml").write_text(SPEC, encoding="utf-8")
    made = run(program, "catalogue", place / "windows.toml", "--out", place / "all",
               "--only", "json,dxf,csv,svg,pdf")
    assert made.returncode == 1 and "OSL-0700-TALL-800-50, and likewise 3 more" in made.stderr
    alone = run(program, "draw", place / "windows.toml", "--out", place / "alone", "--only",
                "json,dxf,csv")
    assert alone.returncode in (1, 2), alone.stderr
    return place


def test_which_are_made(place):
    folder = place / "all/OSL-0700"
    assert sorted(kit.name for kit in (folder / "kits").iterdir()) == sorted(MADE)
    with (folder / "findings.csv").open(encoding="utf-8", newline="") as file:
        refused = {row["kit"] for row in csv.DictReader(file) if row["severity"] == "error"}
    assert refused == {f"OSL-0700-TALL-{width}-{foam}" for width in (800, 1060) for foam in (50, 75)}


@pytest.mark.parametrize("number", MADE)
def test_kit(place, number):
    """Right by every check from outside."""
    kit = Kit(place / "all/OSL-0700/kits" / number)
    troubles = [f"{name}: {t}" for name in NAMES for t in CHECKS[name](kit)]
    assert not troubles, f"{len(troubles)} troubles:\n" + "\n".join(troubles[:20])


@pytest.mark.parametrize("number", MADE)
def test_same_alone(place, number):
    """The shapes are those of the kit that is drawn alone; numbers are the only difference."""
    one = json.loads((place / "all/OSL-0700/kits" / number / "kit.json").read_text("utf-8"))
    other = json.loads((place / "alone" / number / "kit.json").read_text("utf-8"))
    names = {row["number"]: row["number_in_kit"] for row in one["catalogue"]["parts"]}
    assert [names[part["number"]] for part in one["parts"]] == [p["number"] for p in other["parts"]]
    for mine, theirs in zip(one["parts"], other["parts"], strict=True):
        assert mine["quantity"] == theirs["quantity"]
        assert corners(mine) == pytest.approx(corners(theirs), abs=1e-4)
        assert [b["angle"] for b in mine["bends"]] == pytest.approx(
            [b["angle"] for b in theirs["bends"]], abs=1e-6)
    assert one["fasteners"] == other["fasteners"]


@pytest.mark.parametrize("number", MADE)
def test_same_price(place, number):
    """A kit costs the same whether it is drawn in its catalogue or alone."""
    folders = place / "all/OSL-0700/kits" / number, place / "alone" / number
    prices = []
    for folder in folders:
        with (folder / "quote.csv").open(encoding="utf-8", newline="") as file:
            rows = [row for row in csv.DictReader(file) if row["kind"] == "price"]
        prices.append([(row["amount"], row["currency"]) for row in rows])
    assert prices[0] == prices[1] and len(prices[0]) == 1


def corners(part):
    """All coordinates of a blank in one row."""
    blank = part["blank"]
    row = [x for vertex in blank["outer"] for x in vertex]
    for inner in blank["inner"]:
        row += inner.get("circle") or [x for vertex in inner["loop"] for x in vertex]
    return row


def test_drawings_of_shared_parts(place):
    """The title block points to the list of uses, and has number and revision; it has no quantity,
    which differs from kit to kit."""
    folder = place / "all/OSL-0700"
    papers = sorted((folder / "parts").glob("*.pdf"))
    with (folder / "uses.csv").open(encoding="utf-8", newline="") as file:
        used = {row["number"] for row in csv.DictReader(file)}
    assert {paper.stem for paper in papers} == used
    for paper in papers:
        text = " ".join(page.extract_text() for page in PdfReader(paper).pages)
        text = " ".join(text.split())
        assert "quantity in each kit: uses.csv" in text and "quantity in one kit" not in text
        assert "Shared part of catalogue OSL-0700: commonality.html" in text
        assert paper.stem in text and "OSL-0700-" not in text, paper.name
        preview = paper.with_suffix(".svg").read_text("utf-8")
        assert "Rev. B" in preview and "pieces: uses.csv" in preview


def test_quantities(place):
    """The list of uses is what the kits say, and the table of parts is its sum."""
    folder = place / "all/OSL-0700"
    with (folder / "uses.csv").open(encoding="utf-8", newline="") as file:
        uses = list(csv.DictReader(file))
    found = {}
    for number in MADE:
        kit = json.loads((folder / "kits" / number / "kit.json").read_text("utf-8"))
        for part in kit["parts"]:
            found[number, part["number"]] = part["quantity"]
    assert {(row["kit"], row["number"]): int(row["quantity"]) for row in uses} == found
    with (folder / "commonality.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            own = [quantity for (_, part), quantity in found.items() if part == row["number"]]
            assert (len(own), sum(own)) == (int(row["kits"]), int(row["pieces"])), row
