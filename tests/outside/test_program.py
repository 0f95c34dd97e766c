"""The program from outside: same bytes on every run, exit codes, nothing half written."""

import hashlib
import json
import os
import re
import shutil
import subprocess
import time
from pathlib import Path

import pytest
from conftest import ROOT

BAD = sorted((ROOT / "tests/cases/bad").glob("*.toml"))
SAMPLES = ROOT / "sample-specs"


def run(program, *words, cwd=ROOT):
    return subprocess.run([program, *map(str, words)], cwd=cwd, capture_output=True, text=True,
                          stdin=subprocess.DEVNULL, timeout=300, check=False)


def files_under(folder):
    return {str(p.relative_to(folder)): p.read_bytes()
            for p in sorted(Path(folder).rglob("*")) if p.is_file()}


@pytest.fixture(scope="module")
def drawn(program, tmp_path_factory):
    """All sample specs drawn on one thread."""
    folder = tmp_path_factory.mktemp("one")
    result = run(program, "draw", SAMPLES, "--out", folder, "--jobs", 1)
    assert result.returncode == 0, result.stderr
    return folder


@pytest.mark.parametrize("jobs", [1, 2])
def test_same_bytes_on_any_number_of_threads(program, drawn, tmp_path, jobs):
    assert run(program, "draw", SAMPLES, "--out", tmp_path, "--jobs", jobs).returncode == 0
    one, two = files_under(drawn), files_under(tmp_path)
    assert one.keys() == two.keys() and one
    assert [name for name in one if one[name] != two[name]] == []


def test_same_bytes_from_another_folder(program, drawn, tmp_path):
    """Neither the place it is run from nor the time zone nor the language shows in the output."""
    spec = sorted(SAMPLES.glob("*.toml"))[0]
    shutil.copy(spec, tmp_path / spec.name)
    env = {**os.environ, "TZ": "Pacific/Chatham", "LC_ALL": "C.UTF-8", "LANG": "de_DE.UTF-8"}
    subprocess.run([program, "draw", spec.name, "--out", "out"], cwd=tmp_path, env=env, check=True,
                   stdin=subprocess.DEVNULL, capture_output=True, timeout=300)
    (kit,) = (tmp_path / "out").iterdir()
    assert files_under(kit) == files_under(drawn / kit.name)


def test_drawing_again_replaces_the_kit_whole(program, drawn, tmp_path):
    """A second run over an older folder leaves what a first run leaves, and nothing beside it."""
    spec = sorted(SAMPLES.glob("*.toml"))[0]
    assert run(program, "draw", spec, "--out", tmp_path).returncode == 0
    (kit,) = tmp_path.iterdir()
    (kit / "parts" / "stale.dxf").write_text("0\nEOF\n")
    assert run(program, "draw", spec, "--out", tmp_path).returncode == 0
    assert [p.name for p in tmp_path.iterdir()] == [kit.name]
    assert files_under(kit) == files_under(drawn / kit.name)


def test_spec_digests(kit):
    """`spec_sha256` is that of the sample spec that names the kit."""
    specs = {hashlib.sha256(p.read_bytes()).hexdigest(): p for p in SAMPLES.glob("*.toml")}
    assert kit.data["spec_sha256"] in specs
    text = specs[kit.data["spec_sha256"]].read_text(encoding="utf-8")
    # A variant's number goes on from that of its catalogue.
    numbers = re.findall(r'^kit = "([^"]+)"', text, re.MULTILINE)
    assert any(kit.name == number or kit.name.startswith(f"{number}-") for number in numbers)


def test_bad_cases_are_there():
    assert BAD, "tests/cases/bad holds no specs"


@pytest.mark.parametrize("spec", BAD, ids=lambda p: p.stem)
def test_bad_spec(program, tmp_path, spec):
    """A bad spec gives its exit code, a finding with file, line and column, and no file."""
    result = run(program, "draw", spec, "--out", tmp_path, "--format", "json")
    findings = json.loads(result.stdout)
    assert findings, "no finding"
    errors = [f for f in findings if f["severity"] == "error"]
    assert errors
    unusable = any(f.get("line") for f in errors)
    assert result.returncode == (2 if unusable else 1), result.stderr
    if unusable:
        located = next(f for f in errors if f.get("line"))
        assert located["file"].endswith(spec.name) and located["column"] >= 1
    assert all(f["message"] and f["check"] for f in errors)
    assert list(tmp_path.rglob("*")) == []


@pytest.mark.parametrize("spec", BAD, ids=lambda p: p.stem)
def test_bad_spec_for_people(program, tmp_path, spec):
    """The same in plain text: no panic, no control characters, a place and a way out."""
    result = run(program, "draw", spec, "--out", tmp_path)
    text = result.stdout + result.stderr
    assert result.returncode in (1, 2)
    assert "error[" in text and "panicked" not in text
    assert not any(ord(c) < 32 and c not in "\n\t" for c in text)


def test_missing_spec(program, tmp_path):
    result = run(program, "draw", tmp_path / "none.toml", "--out", tmp_path / "out")
    assert result.returncode == 3 and "none.toml" in result.stderr + result.stdout
    assert not (tmp_path / "out").exists() or not any((tmp_path / "out").iterdir())


def test_output_that_is_a_file(program, tmp_path):
    (tmp_path / "out").write_text("kept")
    spec = sorted(SAMPLES.glob("*.toml"))[0]
    assert run(program, "draw", spec, "--out", tmp_path / "out").returncode == 3
    assert (tmp_path / "out").read_text() == "kept"


def test_bad_kit_leaves_the_others_alone(program, drawn, tmp_path):
    """One unusable spec among good ones: the good ones are drawn, the worst exit code is given."""
    specs = tmp_path / "specs"
    specs.mkdir()
    good = sorted(SAMPLES.glob("*.toml"))[0]
    shutil.copy(good, specs / "a-good.toml")
    (specs / "b-bad.toml").write_text("kit = [\n")
    result = run(program, "draw", specs, "--out", tmp_path / "out")
    assert result.returncode == 2
    (kit,) = (tmp_path / "out").iterdir()
    assert files_under(kit) == files_under(drawn / kit.name)


def test_watch_draws_again_what_changed(program, tmp_path):
    """A change is drawn without being asked for; a broken spec leaves the last good kit alone."""
    spec = tmp_path / "tray.toml"
    shutil.copy(SAMPLES / "lab-tray.toml", spec)
    running = subprocess.Popen([program, "watch", spec.name, "--out", "out", "--only", "json"],
                               cwd=tmp_path, stdin=subprocess.DEVNULL, stderr=subprocess.PIPE,
                               stdout=subprocess.DEVNULL, text=True)

    def kit_says(word):
        files = list(tmp_path.glob("out/*/kit.json"))
        return any(f'"revision": "{word}"' in file.read_text() for file in files)

    def comes(condition):
        return any(condition() or time.sleep(0.05) for _ in range(600))

    try:
        assert comes(lambda: kit_says("A"))
        text = spec.read_text()
        assert 'revision = "A"' in text
        beside = tmp_path / "tray.new"
        beside.write_text(text.replace('revision = "A"', 'revision = "B"'))
        beside.rename(spec)
        assert comes(lambda: kit_says("B"))
        spec.write_text("kit = = 1")
        told = iter(running.stderr.readline, "")
        assert any("spec.syntax" in line for line in told)
        assert kit_says("B")
    finally:
        running.kill()
        running.wait()
