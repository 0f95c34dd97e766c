"""Kits of one box: each where the other says it is, sharing no volume, bolted where they say."""

import csv

import numpy as np

from . import clash, mesh, space

ASIDE = 0.05  # mm, the contract's limit for joints
FACING = 12.0  # mm along the axis, beyond which two sheets are not bolted


def check(kit):
    rows = kit.data.get("neighbours", [])
    return [t for row in rows for t in neighbour(kit, row)] or orders(kit, rows)


def neighbour(kit, row):
    folder = kit.folder.parent / row["kit"]
    if not (folder / "kit.json").is_file():
        return [f"neighbour {row['kit']} was not drawn"]
    other = type(kit)(folder)
    move = space.matrix(row["to_site"])
    trouble = space.rigid_trouble(move)
    if trouble:
        return [f"neighbour {row['kit']}: {trouble}"]
    return shared(kit, other, move) + back(kit, other, move) + bolts(kit, other, move, row)


def back(kit, other, move):
    """What the neighbour says of this kit undoes what this kit says of it."""
    rows = [r for r in other.data.get("neighbours", []) if r["kit"] == kit.name]
    if len(rows) != 1:
        return [f"{other.name} names {kit.name} {len(rows)} times"]
    whole = space.after(space.matrix(rows[0]["to_site"]), move)
    off = np.max(np.abs(whole - np.eye(3, 4)))
    return [f"{kit.name} and {other.name}: there and back is off by {off}"] if off > 1e-6 else []


def shared(kit, other, move):
    placed = [standing(of, by) for of, by in ((kit, np.eye(3, 4)), (other, move))]
    return [t for one, a in placed[0] for two, b in placed[1]
            for t in clash.pair_troubles(one, a, two, b)]


def standing(kit, move):
    all_placed = []
    for part, index, place in kit.instances():
        there = space.after(move, place)
        solids = [(name, piece.transform(there)) for name, piece in part.solids.items()]
        solids = [(name, solid, mesh.box_of(solid)) for name, solid in solids]
        all_placed.append((f"{part.number}[{index}]", solids))
    return all_placed


def met(kit, other, move):
    """How many open holes of the two stand on one axis, by fastener."""
    mine, theirs = open_holes(kit, np.eye(3, 4)), open_holes(other, move)
    found = {}
    for name, ends in mine:
        along = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
        if any(name == there and facing(ends, along, those) for there, those in theirs):
            found[name] = found.get(name, 0) + 1
    return found


def bolts(kit, other, move, row):
    """As many bolts as holes meet; both kits name the same one of the two that orders them."""
    found = met(kit, other, move)
    said = {}
    for bolt in row["bolts"]:
        said[bolt["fastener"]] = said.get(bolt["fastener"], 0) + bolt["count"]
    where = f"{kit.name} and {other.name}"
    if found != said:
        return [f"{where}: bolted with {said}, holes meet for {found}"]
    theirs = [r for r in other.data["neighbours"] if r["kit"] == kit.name]
    by = {bolt["ordered_by"] for r in [row, *theirs] for bolt in r["bolts"]}
    wrong = len(by) > 1 or not by <= {kit.name, other.name}
    return [f"{where}: their bolts are ordered by {sorted(by)}"] if wrong else []


def orders(kit, rows):
    """What fasteners.csv lists beyond the kit's own joints is what meets the neighbours for which
    it orders, with spares for it."""
    needed = {}
    for joint, _ in kit.fastener_members():
        needed[joint["fastener"]] = needed.get(joint["fastener"], 0) + 1
    for row in rows:
        if any(bolt["ordered_by"] == kit.name for bolt in row["bolts"]):
            other = type(kit)(kit.folder.parent / row["kit"])
            for name, count in met(kit, other, space.matrix(row["to_site"])).items():
                needed[name] = needed.get(name, 0) + count
    with (kit.folder / "fasteners.csv").open(encoding="utf-8", newline="") as file:
        listed = {row["id"]: row for row in csv.DictReader(file)}
    counts = {name: int(row["count"]) for name, row in listed.items()}
    troubles = [f"no spare {name}" for name, row in listed.items() if int(row["spare"]) < 1]
    return troubles + ([] if counts == needed else [f"fasteners.csv {counts}, needed {needed}"])


def facing(ends, along, those):
    step = those.mean(axis=0) - ends.mean(axis=0)
    apart = step @ along
    return abs(apart) < FACING and np.linalg.norm(step - apart * along) <= ASIDE


def open_holes(kit, move):
    """Holes for a fastener that no joint of their own kit uses, as (fastener, axis ends)."""
    known = {"bolt", "rivet", "self", "wood", "thread"}
    holes = []
    for part, index, _ in kit.instances():
        for hole in part.holes.values():
            if hole["joint"] is None and hole["for"].split("-")[0] in known:
                holes.append((hole["for"], space.apply(move, part.hole_axis(hole, index))))
    return holes
