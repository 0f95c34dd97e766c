"""Times `blankwright catalogue` from 100 to 10 000 variants, each size drawn once and then again
with nothing changed. Prints processor seconds a variant and the two ratios that count: the cost of
a variant at each size over that at the first, and the second run over the first.

    python3 tests/bench/catalogue.py [SIZE...]
"""

import resource
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = ROOT / "target/release/blankwright"

# A tray of 600 x 400 mm with more or less depth and width in whole millimetres.
SPEC = """\
kit = "OSL-9000"
template = "sample-tray"
revision = "A"
title = "Trays, every size"
date = "2026-11-20"

[sweep]
tray.width = {{ from = 500, to = {width}, step = 1 }}
tray.depth = {{ from = 300, to = {depth}, step = 1 }}
"""


def seconds(*words):
    """Processor time of one run."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([PROGRAM, *words], cwd=ROOT, check=True, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main():
    sizes = [int(word) for word in sys.argv[1:]] or [100, 1000, 10_000]
    first = None
    for size in sizes:
        rows = min(100, size // 10)
        with tempfile.TemporaryDirectory() as place:
            spec = Path(place) / "trays.toml"
            text = SPEC.format(width=500 + size // rows - 1, depth=300 + rows - 1)
            spec.write_text(text, encoding="utf-8")
            line = ["catalogue", str(spec), "--out", f"{place}/out", "--jobs", "1"]
            full, again = seconds(*line), seconds(*line)
        each = full / size
        first = first or each
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        print(f"{size:6d} variants: {1000 * each:7.2f} ms each, {each / first:5.2f} of the first "
              f"size; again with nothing changed {100 * again / full:5.2f} %; "
              f"peak so far {peak:.0f} MB", flush=True)


if __name__ == "__main__":
    main()
