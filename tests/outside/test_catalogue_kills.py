"""A catalogue's run that is killed at any moment leaves a folder from which the next one goes on."""

import csv
import hashlib
import json
import random
import signal
import subprocess
import time

KILLS = 60
SEED = 8
SPEC = """\
kit = "OSL-0800"
template = "sample-tray"
revision = "{revision}"
title = "Trays"
date = "2026-11-28"
[sweep]
tray.width = {{ from = 400, to = {last}, step = 20 }}
[[variant]]
suffix = "D"
tray.depth = 400
[[variant]]
suffix = "X"
tray.depth = {refused}
"""
# What the runs change between: another revision of every kit, more kits, some no longer refused.
TEXTS = [SPEC.format(revision="A", last=500, refused=3000),
         SPEC.format(revision="B", last=560, refused=3000),
         SPEC.format(revision="B", last=500, refused=300)]


def tree(folder):
    """Every file below a folder by its path, with a digest of its bytes."""
    return {str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in sorted(folder.rglob("*")) if path.is_file()}


def start(program, spec, out):
    return subprocess.Popen([program, "catalogue", spec, "--out", out, "--only", "json,dxf,svg"],
                            stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                            stderr=subprocess.DEVNULL)


def look_over(folder):
    """What must hold of a folder at any moment: every kit is whole and is what was recorded of it,
    every file of a part is whole, and a list that is there can be read."""
    for kit in (folder / "kits").glob("[!.]*"):
        record = json.loads((kit / ".made.json").read_text(encoding="utf-8"))
        for file in record["files"]:
            found = hashlib.sha256((kit / file["path"]).read_bytes()).hexdigest()
            assert found == file["sha256"], f"{kit.name}: {file['path']}"
        for part in record["parts"]:
            for file in part["files"]:
                assert (folder / file["path"]).is_file(), f"{kit.name}: {file['path']}"
    for part in (folder / "parts").glob("[!.]*.dxf"):
        assert part.read_text(encoding="ascii").rstrip().endswith("EOF"), part.name
    for part in (folder / "parts").glob("[!.]*.svg"):
        assert part.read_text(encoding="utf-8").rstrip().endswith("</svg>"), part.name
    if (folder / "uses.csv").is_file():
        with (folder / "uses.csv").open(encoding="utf-8", newline="") as file:
            assert all(len(row) == 4 for row in csv.reader(file))


def test_kills(program, tmp_path):
    """Runs over three texts in turn are killed at random moments in one folder. At every moment
    each kit is whole; the folder says that a run did not finish; and a run that is left alone makes
    of any of these folders what it makes of none."""
    specs, whole = [], []
    for number, text in enumerate(TEXTS):
        spec = tmp_path / f"{number}.toml"
        spec.write_text(text, encoding="utf-8")
        began = time.perf_counter()
        start(program, spec, tmp_path / f"whole-{number}").wait(timeout=300)
        span = time.perf_counter() - began
        specs.append(spec)
        whole.append(tree(tmp_path / f"whole-{number}" / "OSL-0800"))
    assert len({len(files) for files in whole}) == 3, "the texts make no difference"
    out, dice, killed, turn, told = tmp_path / "out", random.Random(SEED), 0, 0, 0
    folder = out / "OSL-0800"
    while killed < KILLS:
        turn += 1
        run = start(program, specs[turn % 3], out)
        time.sleep(dice.uniform(0, 1.1 * span))
        run.kill()
        run.wait(timeout=60)
        if run.returncode != -signal.SIGKILL:
            continue
        killed += 1
        if not folder.is_dir():
            continue
        look_over(folder)
        record = folder / ".catalogue.json"
        if record.is_file():
            finished = json.loads(record.read_text(encoding="utf-8"))["finished"]
            assert finished or (folder / "UNFINISHED.txt").is_file()
        if record.is_file() and not json.loads(record.read_text(encoding="utf-8"))["finished"]:
            told += 1
            if told % 10 == 1:
                proof = subprocess.run([program, "prove", folder], capture_output=True, text=True,
                                       timeout=300, check=False)
                assert proof.returncode == 1 and "proof.catalogue" in proof.stderr
        if killed % 6 == 0:
            again = dice.randrange(3)
            start(program, specs[again], out).wait(timeout=300)
            assert tree(folder) == whole[again], f"after {killed} kills"
    assert told > KILLS // 4, f"only {told} of {killed} kills came while a run was at work"
