"""Times `blankwright draw` beside tests/bench/yardstick.py, and from 100 to 1000 kits.

Three times are held against the yardstick's, which writes geometry that is drawn already: `draw` as
a user runs it, files synced to disk; the way from spec to files in memory; and the writing alone.

Both sides make the same kit's files again and again on one thread, in turns, on the same machine in
the same run; the ratio of their times is what counts, the times themselves depend on the machine.
"""

import argparse
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = ROOT / "target/release/blankwright"
YARDSTICK = ROOT / "tests/bench/yardstick.py"


def main():
    options = arguments()
    with tempfile.TemporaryDirectory() as place:
        place = Path(place)
        ratio = beside_yardstick(options, place)
        growth, memory = from_100_to_1000(options, place)
    trouble = []
    if options.least_ratio and ratio < options.least_ratio:
        trouble.append(f"ratio {ratio:.1f} is under {options.least_ratio}")
    if options.most_memory and memory > options.most_memory:
        trouble.append(f"peak memory {memory:.0f} MB is over {options.most_memory}")
    if options.most_growth and growth > options.most_growth:
        trouble.append(f"growth {growth:.1f} is over {options.most_growth}")
    for line in trouble:
        print("FAILED:", line)
    return 1 if trouble else 0


def arguments():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("spec", nargs="?", type=Path,
                        default=sorted((ROOT / "sample-specs").glob("*.toml"))[0])
    parser.add_argument("--kits", type=int, default=40, help="kits in one timed run")
    parser.add_argument("--rounds", type=int, default=5, help="runs of each side, median taken")
    parser.add_argument("--many", type=int, default=1000, help="kits in the large batch")
    parser.add_argument("--least-ratio", type=float)
    parser.add_argument("--most-growth", type=float)
    parser.add_argument("--most-memory", type=float, help="MB")
    return parser.parse_args()


def specs(spec, count, folder):
    """A folder of `count` specs that differ in the kit's number alone."""
    folder.mkdir()
    text = spec.read_text(encoding="utf-8")
    for i in range(count):
        numbered, found = re.subn(r'(?m)^kit\s*=\s*"[^"]*"', f'kit = "BEN-{i:04d}"', text, count=1)
        assert found, f"{spec} has no line that names its kit"
        (folder / f"{i:04d}.toml").write_text(numbered, encoding="utf-8")
    return folder


def draw(folder, out, jobs):
    """Draws a folder of specs; seconds and peak memory in MB of that one process."""
    shutil.rmtree(out, ignore_errors=True)
    command = [str(PROGRAM), "draw", str(folder), "--out", str(out), "--jobs", str(jobs)]
    start = time.perf_counter()
    child = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                             stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    seconds = time.perf_counter() - start
    code = os.waitstatus_to_exitcode(status)
    if code != 0:
        sys.exit(f"draw ended with {code}: {' '.join(command)}")
    return seconds, usage.ru_maxrss / 1024.0


def beside_yardstick(options, place):
    """How many times as long as ours the yardstick takes for one kit."""
    folder, out = specs(options.spec, options.kits, place / "few"), place / "out"
    draw(folder, out, 1)
    shutil.copytree(sorted(out.glob("*/kit.json"))[0].parent, place / "kit")
    kit_json = place / "kit" / "kit.json"
    ours, theirs = [], []
    for _ in range(options.rounds):
        ours.append(draw(folder, out, 1)[0] / options.kits * 1000.0)
        theirs.append(yardstick(kit_json))
    mine, other = statistics.median(ours), statistics.median(theirs)
    print(f"one kit ({options.spec.name}), one thread, median of {options.rounds}:")
    print(f"  draw       {mine:8.2f} ms   ({min(ours):.2f} to {max(ours):.2f}; "
          f"start of the program included, {options.kits} kits a run)")
    print(f"  yardstick  {other:8.2f} ms   ({min(theirs):.2f} to {max(theirs):.2f})")
    print(f"  ratio      {other / mine:8.1f}")
    for title, time in in_memory(options.spec):
        print(f"  {title}: {time:.2f} ms, ratio {other / time:.1f}")
    return other / mine


def in_memory(spec):
    """What the bench says: (title, ms) of the whole way, and of the writing alone."""
    bench = ["cargo", "bench", "--locked", "--quiet", "--bench", "writers", "--", str(spec)]
    said = subprocess.run(bench, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return [(title, float(time)) for title, time in re.findall(r"(?m)^(.+) ([0-9.]+) ms$", said)]


def yardstick(kit_json):
    """Milliseconds a kit as the yardstick prints them."""
    done = subprocess.run([sys.executable, str(YARDSTICK), str(kit_json)], check=True, text=True,
                          capture_output=True, stdin=subprocess.DEVNULL)
    found = re.findall(r"([0-9.]+)\s*ms", done.stdout)
    assert found, f"the yardstick printed no figure in ms: {done.stdout!r}"
    return float(found[-1])


def from_100_to_1000(options, place):
    """How the time grows from a tenth of the batch to the whole, and the peak memory."""
    few, many = max(1, options.many // 10), options.many
    first = draw(specs(options.spec, few, place / "tenth"), place / "out", os.cpu_count())
    second = draw(specs(options.spec, many, place / "whole"), place / "out", os.cpu_count())
    growth = second[0] / first[0]
    print(f"{few} kits: {first[0]:.2f} s, {first[1]:.0f} MB;  {many} kits: {second[0]:.2f} s, "
          f"{second[1]:.0f} MB (all cores)")
    print(f"  growth     {growth:8.2f} times the time for {many // few} times the kits")
    print(f"  peak       {second[1]:8.0f} MB")
    return growth, second[1]


if __name__ == "__main__":
    sys.exit(main())
