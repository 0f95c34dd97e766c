"""Two revisions compared from outside: what `compare` says against what the two kit.json show."""

import copy
import json
import math
import subprocess

import pytest
from conftest import ROOT

SPEC = ROOT / "sample-specs/lab-tray.toml"

AMENDMENT = """
[[amendments]]
part = "tray"
move = { face = "base", hole = "drain", near = [40, 40], by = [3.2, -1.1] }
reason = "it stood over the rail"
revision = "B"
"""


def run(program, *words):
    return subprocess.run([program, *map(str, words)], capture_output=True, text=True,
                          stdin=subprocess.DEVNULL, timeout=300, check=True)


def test_the_moved_hole_is_the_one_that_moved(program, tmp_path):
    text = SPEC.read_text()
    new = tmp_path / "b.toml"
    new.write_text(text.replace('revision = "A"', 'revision = "B"', 1) + AMENDMENT)
    kits = []
    for spec, out in ((SPEC, "old"), (new, "new")):
        run(program, "draw", spec, "--out", tmp_path / out, "--only", "json,dxf")
        kits.append(json.loads((tmp_path / out / "OSL-0410/kit.json").read_text()))
    trays = [next(p for p in kit["parts"] if p["name"] == "tray") for kit in kits]
    centres = [{tuple(h["centre"]) for h in tray["holes"]} for tray in trays]
    (was,), (now,) = centres[0] - centres[1], centres[1] - centres[0]
    far = math.dist(was, now)
    assert abs(far - math.hypot(3.2, 1.1)) < 1e-6
    (told,) = json.loads(run(program, "compare", tmp_path / "old/OSL-0410",
                             tmp_path / "new/OSL-0410", "--format", "json").stdout)
    states = {p["new"]["name"]: p for p in told["parts"]}
    assert any(f"moved {far:.2f} mm" in line for line in states["tray"]["changes"])
    for name, part in states.items():
        old, new = (next(p for p in kit["parts"] if p["name"] == name) for kit in kits)
        laser = [(tmp_path / o / f"OSL-0410/parts/{p['number']}.dxf").read_bytes()
                 for o, p in (("old", old), ("new", new))]
        same = laser[0] == laser[1] and old["bends"] == new["bends"]
        assert (part["state"] == "unchanged") == same, name
        assert (part["shelf"]["folded"]["verdict"] == "good") == same, name


# One property of a part's file each, as laser, brake or store would meet it; the words that must
# tell it; what an old piece, flat and folded, is then good for.
SINGLE = {
    "material": (("material_id", "mild-steel"), "material", "scrap", "scrap"),
    "thickness": (("thickness", 2.0), "sheet 1.5 to 2 mm", "scrap", "scrap"),
    "gauge": (("gauge", "16 ga"), "gauge none to 16 ga", "good", "good"),
    "grain": (("grain", False), "no longer keeps to the grain", "good", "good"),
    "face down": (("mirror", True), "may now lie face down", "good", "good"),
    "remark": (("remarks", ["Drill after folding."]), "Drill after folding", "good", "good"),
    "angle": (("bends", 0, "angle", 87.5), "90° to 87.5°", "rework", "scrap"),
    "sense": (("bends", 0, "direction", "down"), "up to down", "rework", "scrap"),
    "radius": (("bends", 0, "inside_radius", 3.5), "inside radius 2.5 to 3.5", "rework", "scrap"),
    "allowance": (("bends", 0, "allowance", 5.25), "to 5.25 mm", "rework", "scrap"),
    "factor": (("bends", 0, "k", 0.25), "to 0.25", "good", "good"),
    "order": (("bends", 0, "order", 40), "to 40", "good", "good"),
    "purpose": (("holes", 0, "for", "lamp"), "now for lamp", "good", "good"),
    "etching": (("etch", 0, "text", "PIER"), "etched PIER", "rework", "rework"),
    "countersink": (("holes", 0, "countersink", {"diameter": 8.0, "angle": 90.0, "side": "upper"}),
                    "countersink ⌀8 × 90°", "rework", "rework"),
    "punch": (("brake", "steps", 0, "punch", "name", "swan"), "to swan", "good", "good"),
    "set angle": (("brake", "steps", 0, "angle_set", 95.0), "to 95°", "good", "good"),
}


@pytest.fixture(scope="module")
def tray(program, tmp_path_factory):
    out = tmp_path_factory.mktemp("tray")
    run(program, "draw", SPEC, "--out", out, "--only", "json")
    return json.loads((out / "OSL-0410/kit.json").read_text())


def put(folder, kit):
    folder.mkdir()
    (folder / "kit.json").write_text(json.dumps(kit))
    return folder


@pytest.mark.parametrize("name", SINGLE)
def test_a_single_change_is_told(program, tray, tmp_path, name):
    (*path, last, value), words, flat, folded = SINGLE[name]
    new = copy.deepcopy(tray)
    place = part = next(p for p in new["parts"] if p["name"] == "tray")
    for key in path:
        place = place[key]
    assert place.get(last) != value
    place[last] = value
    (told,) = json.loads(run(program, "compare", put(tmp_path / "old", tray),
                             put(tmp_path / "new", new), "--format", "json").stdout)
    row = next(p for p in told["parts"] if p["new"]["number"] == part["number"])
    assert any(words in line for line in row["changes"]), row["changes"]
    assert [row["shelf"][way]["verdict"] for way in ("flat", "folded")] == [flat, folded]
    others = [p for p in told["parts"] if p is not row]
    assert others and all(p["state"] == "unchanged" and not p["changes"] for p in others)
