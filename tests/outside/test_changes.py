"""Two revisions compared from outside: what `compare` says against what the two kit.json show."""

import json
import math
import subprocess

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
