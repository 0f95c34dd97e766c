"""Several specs, kits or variants released by one command: whole, or refused with a way out."""

import os

import pytest
from releases import KIT, Yard, check_whole, run

VARIANTS = """
[[variant]]
suffix = "S"
mat.width = 300
[[variant]]
suffix = "L"
mat.width = {width}
"""


@pytest.fixture
def yard(program, tmp_path):
    return Yard(program, tmp_path)


def kits(yard):
    found = os.listdir(yard.to) if yard.to.exists() else []
    return sorted(name for name in found if not name.startswith((".", "together")))


def test_a_folder_of_specs_is_released_spec_by_spec(yard):
    specs = yard.folder / "specs"
    (specs / "below").mkdir(parents=True)
    yard.mat("specs/one.toml", kit="OTS-0121")
    yard.mat("specs/below/two.toml", kit="OTS-0122", depth=180)
    yard.pair(name="specs/three.toml")
    result = yard.release(specs)
    assert result.returncode == 0, result.stderr
    assert kits(yard) == ["OTS-0111", "OTS-0112", "OTS-0121", "OTS-0122"]
    for kit in kits(yard):
        check_whole(yard.place(kit))
    assert yard.verify(yard.to, "--rebuild").stdout.count("made again byte for byte") == 4


def test_one_spec_of_a_folder_that_is_refused_keeps_no_other_back(yard):
    specs = yard.folder / "specs"
    specs.mkdir()
    yard.mat("specs/good.toml", kit="OTS-0121")
    yard.mat("specs/deep.toml", kit="OTS-0122", depth=310)
    result = yard.release(specs)
    assert result.returncode == 1 and "error[require]" in result.stderr
    assert kits(yard) == ["OTS-0121"]
    assert yard.verify(yard.to, "--rebuild").returncode == 0


def test_one_number_in_two_specs_releases_neither(yard):
    specs = yard.folder / "specs"
    specs.mkdir()
    yard.mat("specs/a.toml")
    yard.mat("specs/b.toml", depth=180)
    result = yard.release(specs)
    assert result.returncode != 0 and KIT in result.stderr
    assert kits(yard) == [] and result.stderr.count("help:") >= 1


def test_a_catalogue_is_released_together_or_not_at_all(yard):
    wide = yard.mat("wide.toml", more=VARIANTS.format(width=9000))
    result = yard.release(wide)
    assert result.returncode != 0 and "error[spec.range]" in result.stderr
    assert f"{KIT}-L of the same spec is not released" in result.stderr
    assert kits(yard) == []
    result = yard.release(yard.mat("good.toml", more=VARIANTS.format(width=450)))
    assert result.returncode == 0, result.stderr
    assert kits(yard) == [f"{KIT}-L", f"{KIT}-S"]
    for kit, mate in ((f"{KIT}-L", f"{KIT}-S"), (f"{KIT}-S", f"{KIT}-L")):
        manifest = check_whole(yard.place(kit))
        assert [row["kit"] for row in manifest["together"]] == [mate]
    assert yard.verify(yard.to, "--rebuild").returncode == 0


def test_a_large_catalogue_is_refused_with_a_way_out(yard):
    sweep = "\n[sweep]\nmat.width = { from = 300, to = 450, step = 1 }\n"
    result = yard.release(yard.mat("large.toml", more=sweep))
    assert result.returncode != 0 and kits(yard) == []
    assert "151" in result.stderr and "blankwright catalogue" in result.stderr, result.stderr
    told = run([str(yard.program), "verify", str(yard.folder / "families")])
    assert told.returncode != 0, "nothing of it is a release"
