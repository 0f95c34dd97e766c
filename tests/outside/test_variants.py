"""What is drawn is right all over the range of parameters, not only for the samples."""

import json
import subprocess

import pytest
import variants
from checks import CHECKS
from kitcheck.kit import Kit

COUNT = 12
# The slow ones are left out here: they see the same code on the samples.
NAMES = [name for name in CHECKS if name not in ("svg", "pdf", "solid")]


@pytest.fixture(scope="module")
def drawn(program, tmp_path_factory):
    """The folder of kits and, by spec, the findings."""
    place = tmp_path_factory.mktemp("variants")
    specs, out = place / "specs", place / "out"
    specs.mkdir()
    for number in range(COUNT):
        (specs / f"{number:04d}.toml").write_text(variants.spec(number), encoding="utf-8")
    result = subprocess.run(
        [program, "draw", specs, "--out", out, "--only", "json,dxf,csv,pdf", "--format", "json"],
        capture_output=True, text=True, stdin=subprocess.DEVNULL, timeout=300, check=False)
    assert result.returncode in (0, 1), result.stdout[:2000] + result.stderr
    return out, json.loads(result.stdout)


@pytest.mark.parametrize("number", range(COUNT))
def test_variant(drawn, number):
    """Either refused with an error that names what is wrong, or right by every check."""
    out, findings = drawn
    folder = out / f"VAR-{number:04d}"
    if not folder.is_dir():
        own = [f for f in findings if f["file"].endswith(f"{number:04d}.toml")]
        assert any(f["severity"] == "error" and f["message"] for f in own)
        return
    kit = Kit(folder)
    troubles = [f"{name}: {t}" for name in NAMES for t in CHECKS[name](kit)]
    assert not troubles, f"{len(troubles)} troubles:\n" + "\n".join(troubles[:20])


def test_most_variants_are_drawn(drawn):
    """Were most refused, this file would check next to nothing."""
    out, findings = drawn
    errors = [f"{f['file'][-9:]} {f['message']}" for f in findings if f["severity"] == "error"]
    assert len(list(out.iterdir())) >= COUNT * 2 // 3, "\n".join(errors)
