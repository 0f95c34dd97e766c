"""Times `blankwright catalogue` from 100 to 10 000 variants, each size drawn once and then again
with nothing changed. Prints processor milliseconds a variant and the two ratios that count: the cost
of a variant at each size over that at the first, and the second run over the first. Then the same
with a third of the variants refused, and with sheets laid out for every kit.

    python3 tests/bench/catalogue.py [SIZE...]
"""

import os
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = os.environ.get("BLANKWRIGHT_BIN", ROOT / "target/release/blankwright")

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

# Every third variant has a rim that its family does not allow.
A_THIRD_REFUSED = """
[[variant]]
suffix = "A"
[[variant]]
suffix = "B"
tray.rim = 16
[[variant]]
suffix = "C"
tray.rim = 900
"""
EXTRA = 300


def seconds(*words):
    """Processor time of one run."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    ran = subprocess.run([PROGRAM, *words], cwd=ROOT, capture_output=True, check=False)
    assert ran.returncode in (0, 1), ran.stderr
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def timed(size, more="", *words):
    """Milliseconds a variant, and the share of a run with nothing changed in it."""
    rows = min(100, size // 10)
    with tempfile.TemporaryDirectory() as place:
        spec = Path(place) / "trays.toml"
        text = SPEC.format(width=500 + size // rows - 1, depth=300 + rows - 1)
        spec.write_text(text + more, encoding="utf-8")
        line = ["catalogue", str(spec), "--out", f"{place}/out", "--jobs", "1", *words]
        full, again = seconds(*line), seconds(*line)
    return 1000 * full / size, 100 * again / full


def main():
    sizes = [int(word) for word in sys.argv[1:]] or [100, 1000, 10_000]
    first = None
    for size in sizes:
        each, again = timed(size)
        first = first or each
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        print(f"{size:6d} variants: {each:7.2f} ms each, {each / first:5.2f} of the first size; "
              f"again with nothing changed {again:5.2f} %; peak so far {peak:.0f} MB", flush=True)
    each, again = timed(EXTRA, A_THIRD_REFUSED)
    print(f"{3 * EXTRA:6d} variants, a third refused: {each / 3:.2f} ms each; again with nothing "
          f"changed {again:.2f} %", flush=True)
    each, again = timed(EXTRA, "", "--sheets")
    print(f"{EXTRA:6d} variants with sheets: {each:.2f} ms each; again with nothing changed "
          f"{again:.2f} %", flush=True)


if __name__ == "__main__":
    main()
