"""What the program says about shared space, held against a mesh kernel: kits drawn, one part moved
in kit.json, and proved from their files.

The program's depth is the least thickness of a convex body that two parts share. A body of least
thickness w holds a ball of radius w / (2 sqrt 3) and no larger one than w / 2 (Steinhagen). So what
shares volume after 0.05 mm is taken off each surface must be found, and what is found must share
volume after 0.015 mm is taken off (the kernel's bends are chords, up to 0.009 mm too small).
"""

import copy
import json
import random
import re
import shutil
import subprocess
from itertools import combinations

import numpy as np
import pytest
from kitcheck import mesh, space
from kitcheck.kit import Kit

SHIFTS = 8  # kits with a part moved anyhow
SEED = 20261124
NUMBER = re.compile(r"([A-Z]{3}-\d{4}(?:-[A-Z]+(?:-\d{3})?)?-\d{2}[LR]?) \(")


@pytest.fixture(scope="module")
def drawn(program, root, tmp_path_factory):
    """Every sample's folder with what a proof needs."""
    out = tmp_path_factory.mktemp("clash") / "drawn"
    subprocess.run([program, "draw", root / "sample-specs", "--out", out, "--only", "json,dxf,csv"],
                   check=True, capture_output=True, stdin=subprocess.DEVNULL, timeout=300)
    return sorted(path.parent for path in out.glob("*/kit.json"))


def moved(folder, place, changes):
    """Copies of a kit with one instance moved: {name of the copy: (part, index, vector)}."""
    data = json.loads((folder / "kit.json").read_text(encoding="utf-8"))
    for name, (number, index, vector) in changes.items():
        copied = place / name / folder.name
        shutil.copytree(folder, copied)
        other = copy.deepcopy(data)
        part = next(p for p in other["parts"] if p["number"] == number)
        for axis in range(3):
            part["places"][index][axis][3] += float(vector[axis])
        (copied / "kit.json").write_text(json.dumps(other), encoding="utf-8")


def clashes(program, place):
    """The program's clashes by copy: {name: {pair of part numbers: depth}}."""
    folders = sorted(path.parent for path in place.glob("*/*/kit.json"))
    result = subprocess.run([program, "prove", *folders, "--format", "json"], capture_output=True,
                            text=True, stdin=subprocess.DEVNULL, timeout=600, check=False)
    assert result.returncode in (0, 1), result.stderr
    found = {folder.parent.name: {} for folder in folders}
    for finding in json.loads(result.stdout):
        if finding["check"] == "fit.clash":
            name = next(n for n in finding["file"].split("/") if n in found)
            pair = frozenset(NUMBER.findall(finding["message"]))
            found[name][pair] = max(found[name].get(pair, 0.0), finding["found"])
    return found


def contacts(kit):
    """Touching pairs of parts and the direction that pushes the first into the second."""
    for joint in kit.data["joints"]:
        holes = [m for m in joint["pairs"][0] if "into" not in m][:2]
        if joint["gap"] != 0 or len({m["part"] for m in holes}) < 2:
            continue
        middles, axis = [], None
        for member in holes:
            part = kit.by_number[member["part"]]
            hole = part.holes[member["hole"]]
            pose = space.after(part.places[member["place"]], part.to_part[hole["face"]])
            middles.append(space.apply(pose, [[*hole["centre"], part.thickness / 2.0]])[0])
            axis = pose[:, 2] if axis is None else axis
        toward = axis * np.sign(axis @ (middles[1] - middles[0]))
        yield joint["id"], [m["part"] for m in holes], holes[0]["place"], toward


def test_known_depths(program, drawn, tmp_path):
    """Each joint's parts pushed into each other by 0.05 mm are none, by 0.15 mm a clash of that."""
    meant = {}
    for folder in drawn:
        changes = {}
        for joint, parts, index, toward in contacts(Kit(folder)):
            for depth in (0.05, 0.15):
                name = f"{folder.name}-{joint}-{depth}"
                changes[name] = (parts[0], index, toward * depth)
                meant[name] = (frozenset(parts), depth)
        moved(folder, tmp_path, changes)
    assert len(meant) > 40
    troubles = []
    for name, found in clashes(program, tmp_path).items():
        pair, depth = meant[name]
        if depth < 0.1 and pair in found:
            troubles.append(f"{name}: found {found[pair]}")
        elif depth > 0.1 and abs(found.get(pair, 0.0) - depth) > 0.005:
            troubles.append(f"{name}: {found.get(pair)} instead of {depth}")
    assert not troubles, "\n".join(troubles)


def shared_pairs(folder, less):
    """Pairs of part numbers that share volume after `less` is taken off every surface."""
    kit = Kit(folder)
    placed = []
    for part, _, place in kit.instances():
        solids = [s.transform(place) for s in mesh.folded(part, less).values()]
        placed.append((part.number, [(s, mesh.box_of(s)) for s in solids]))
    pairs = set()
    for (one, a), (two, b) in combinations(placed, 2):
        if any(not mesh.apart(box, other) and (s ^ t).volume() > 1e-4
               for s, box in a for t, other in b):
            pairs.add(frozenset((one, two)))
    return pairs


def test_moved_anyhow(program, drawn, tmp_path):
    """Parts moved by up to 0.6 mm in any direction: the same pairs as the kernel's."""
    dice = random.Random(SEED)
    folders = {}
    for number in range(SHIFTS):
        folder = drawn[number % len(drawn)]
        part, index, _ = dice.choice(list(Kit(folder).instances()))
        vector = [dice.uniform(-0.6, 0.6) for _ in range(3)]
        name = f"{folder.name}-{number}"
        moved(folder, tmp_path, {name: (part.number, index, vector)})
        folders[name] = tmp_path / name / folder.name
    found = clashes(program, tmp_path)
    assert sum(len(pairs) for pairs in found.values()) >= SHIFTS // 2
    for name, folder in folders.items():
        pairs = set(found[name])
        assert shared_pairs(folder, 0.05) <= pairs, name
        assert pairs <= shared_pairs(folder, 0.015), name
