"""Releases from outside: what is recorded, what is refused, what `verify` finds."""

import json
import os
import shutil
from hashlib import sha256
from pathlib import Path

import pytest
from conftest import ROOT
from releases import FAMILY, KIT, Yard, check_whole, everything, run, thaw

SAMPLES = sorted((ROOT / "sample-specs").glob("*.toml"))


@pytest.fixture
def yard(program, tmp_path):
    return Yard(program, tmp_path)


@pytest.fixture
def released(yard):
    result = yard.release()
    assert result.returncode == 0, result.stderr
    return yard


def findings(yard, *words):
    """What `verify` finds, as pairs of check and subject."""
    result = run([str(yard.program), "verify", *map(str, words or (yard.to,)), "--format", "json"])
    rows = json.loads(result.stdout)
    return result.returncode, [(row["check"], row["subject"]) for row in rows]


def open_up(folder):
    thaw(folder)
    for path in everything(folder).values():
        if not os.path.islink(path):
            os.chmod(path, 0o644)


def test_a_release_holds_what_draw_writes(released):
    yard, place = released, released.place()
    manifest = check_whole(place)
    line = [str(yard.program), "draw", str(yard.spec), "--out", str(yard.folder / "out"),
            "--templates", str(yard.folder / "families")]
    assert run(line).returncode == 0
    drawn = everything(yard.folder / "out" / KIT)
    for path in drawn:
        assert (place / path).read_bytes() == (yard.folder / "out" / KIT / path).read_bytes()
    own = {"manifest.json", "manifest.sha256"}
    copies = {row["path"] for row in manifest["inputs"]}
    assert set(everything(place)) == set(drawn) | own | copies
    assert (place / "inputs/spec.toml").read_bytes() == yard.spec.read_bytes()
    assert (place / "inputs/templates/shelf-mat.toml").read_text() == FAMILY
    roles = [(row["role"], row["name"], row["built_in"]) for row in manifest["inputs"]]
    assert roles[:2] == [("spec", "mat.toml", False), ("template", "shelf-mat.toml", False)]
    assert {row[0] for row in roles[2:]} == {"shop"} and all(row[2] for row in roles[2:])
    assert (manifest["kit"], manifest["revision"]) == (KIT, "A")
    said = run([str(yard.program), "--version"]).stdout
    assert manifest["program"]["version"] in said and manifest["program"]["build"] in said
    assert yard.verify().returncode == 0
    assert run([str(yard.program), "prove", str(place)]).returncode == 0


def test_the_list_of_digests_is_read_by_a_common_tool(released):
    tool = shutil.which("sha256sum")
    if not tool:
        pytest.skip("no sha256sum is here")
    result = run([tool, "--strict", "-c", "manifest.sha256"], cwd=released.place())
    assert result.returncode == 0, result.stdout


@pytest.mark.parametrize("spec", SAMPLES, ids=lambda p: p.stem)
def test_samples_are_made_again_byte_for_byte(program, tmp_path, spec):
    """From the copies alone: the second run stands elsewhere and sees no other data."""
    to = tmp_path / "to"
    result = run([str(program), "release", str(spec), "--to", str(to), "--allow-warnings"],
                 cwd=ROOT)
    assert result.returncode == 0, result.stderr
    places = [p.parent for p in to.glob("*/*/manifest.json")]
    assert places
    for place in places:
        check_whole(place)
    moved = tmp_path / "moved"
    to.rename(moved)
    result = run([str(program), "verify", str(moved), "--rebuild"], cwd=tmp_path)
    assert result.returncode == 0, result.stderr
    assert result.stdout.count("made again byte for byte") == len(places)


def test_every_changed_or_missing_file_is_found(released):
    """Each file of the release in turn: one bit, one byte less, gone, a link, a folder."""
    yard, place = released, released.place()
    open_up(place)
    for path in sorted(everything(place)):
        file = place / path
        whole = file.read_bytes()
        subject = "manifest.json" if path == "manifest.sha256" else path
        check = "verify.manifest" if path.startswith("manifest.") else "verify.changed"
        for changed in (bytes([whole[0] ^ 1]) + whole[1:], whole[:-1] + bytes([whole[-1] ^ 1])):
            file.write_bytes(changed)
            code, found = findings(yard)
            assert code == 1 and {c for c, _ in found} <= {check}, (path, found)
            assert {s for _, s in found} <= {subject, path} and found
        file.unlink()
        assert findings(yard) == (1, [("verify.missing", path)])
        file.write_bytes(whole)
    kit = place / "kit.json"
    whole = kit.read_bytes()
    kit.unlink()
    (yard.folder / "copy.json").write_bytes(whole)
    kit.symlink_to(yard.folder / "copy.json")
    assert findings(yard) == (1, [("verify.changed", "kit.json")])
    kit.unlink()
    kit.mkdir()
    assert findings(yard)[0] == 1
    kit.rmdir()
    kit.write_bytes(whole)
    assert findings(yard) == (0, [])


@pytest.mark.parametrize("path", ["parts/more.dxf", ".hidden", "inputs/templates/other.toml",
                                  "parts/deep/more", "manifest.json~"])
def test_every_file_besides_is_found(released, path):
    place = released.place()
    open_up(place)
    (place / path).parent.mkdir(exist_ok=True)
    (place / path).write_text("")
    assert findings(released) == (1, [("verify.extra", path)])


def test_an_empty_folder_besides_is_found(released):
    open_up(released.place())
    (released.place() / "old").mkdir()
    assert findings(released) == (1, [("verify.extra", "old")])


def test_a_release_that_was_moved_to_another_revision_is_found(released):
    thaw(released.place())
    released.place().rename(released.to / KIT / "B")
    code, found = findings(released)
    assert code == 1 and [check for check, _ in found] == ["verify.place"]
    assert findings(released, released.to / KIT / "B") == (0, [])


def test_all_changed_alike_shows_in_the_printed_digest_alone(program, yard):
    """What verify cannot know: so the digest of the manifest is printed, to be kept elsewhere."""
    printed = yard.release().stdout.split("manifest ")[1].split()[0]
    assert printed in yard.verify().stdout
    thaw(yard.to)
    shutil.rmtree(yard.to)
    yard.release(yard.mat(depth=201))
    result = yard.verify()
    assert result.returncode == 0 and printed not in result.stdout


def test_recorded_inputs_that_would_make_something_else_are_found(released):
    """Input, manifest and list agree, yet the files did not come of that input."""
    yard, place = released, released.place()
    other = yard.folder / "other"
    assert yard.release(yard.mat("other.toml", depth=210), to=other).returncode == 0
    open_up(place)
    (place / "parts.csv").write_bytes((other / KIT / "A/parts.csv").read_bytes() + b"\n")
    manifest = json.loads((place / "manifest.json").read_text())
    data = (place / "parts.csv").read_bytes()
    for row in manifest["files"]:
        if row["path"] == "parts.csv":
            row.update(bytes=len(data), sha256=sha256(data).hexdigest())
    text = json.dumps(manifest).encode()
    (place / "manifest.json").write_bytes(text)
    lines = [f"{sha256(text).hexdigest()}  manifest.json\n"]
    lines += [f"{row['sha256']}  {row['path']}\n" for row in manifest["files"]]
    (place / "manifest.sha256").write_text("".join(lines))
    assert findings(yard) == (0, [])
    code, found = findings(yard, yard.to, "--rebuild")
    assert code == 1 and ("verify.rebuild", "parts.csv") in found


def before_and_after(yard, spec, *words):
    before = {path: os.stat(real).st_mtime_ns for path, real in everything(yard.to).items()}
    result = yard.release(spec, *words)
    after = {path: os.stat(real).st_mtime_ns for path, real in everything(yard.to).items()}
    assert before == after, "a refused release touched what is there"
    return result


def test_a_spec_that_changed_under_the_same_revision_is_refused(released):
    result = before_and_after(released, released.mat(depth=210))
    assert result.returncode == 1
    assert "since then has changed: the spec" in result.stderr, result.stderr
    assert "raise `revision` in the spec, to \"B\" for example" in result.stderr
    assert released.release(released.mat(depth=210, revision="B")).returncode == 0
    assert sorted(os.listdir(released.to / KIT)) == ["A", "B"]
    assert released.verify(released.to, "--rebuild").returncode == 0


def test_a_family_or_shop_that_changed_is_named(released):
    family = released.folder / "families/shelf-mat.toml"
    family.write_text(FAMILY + "\n# one line more\n")
    result = before_and_after(released, released.spec)
    assert "since then has changed: the kit family\n" in result.stderr, result.stderr
    family.write_text(FAMILY)
    shop = released.folder / "shop"
    shutil.copytree(ROOT / "templates/shop", shop)
    with open(shop / "shop.toml", "a", encoding="utf-8") as file:
        file.write("\n# one line more\n")
    result = before_and_after(released, released.spec, "--shop", shop)
    assert "since then has changed: the shop's data\n" in result.stderr, result.stderr


def test_the_same_again_is_refused_and_says_so(released):
    result = before_and_after(released, released.spec)
    assert result.returncode == 1 and "with the same content" in result.stderr


def test_errors_and_warnings_that_nobody_weighed_are_refused(yard):
    result = yard.release(yard.mat(depth=400))
    assert result.returncode == 1 and not list(yard.to.iterdir())
    narrow = {"width": 90, "depth": 60}
    result = yard.release(yard.mat(**narrow))
    assert result.returncode == 1 and "error[release.warnings]" in result.stderr
    assert not list(yard.to.iterdir())
    reason = '\n[[accept]]\ncheck = "require"\nsubject = "mat-drain"\nreason = "it hangs upright"\n'
    accepted = yard.mat(**narrow, more=reason)
    result = yard.release(accepted)
    assert result.returncode == 0, result.stderr
    (row,) = check_whole(yard.place())["accepted"]
    assert row["accepted"] == "it hangs upright"
    result = yard.release(yard.mat(**narrow, revision="B"), "--allow-warnings")
    assert result.returncode == 0, result.stderr
    manifest = check_whole(yard.place(revision="B"))
    assert manifest["accepted"] == [] and len(manifest["allowed"]) == 1


def test_kits_of_one_spec_are_released_together_or_not_at_all(yard):
    result = yard.release(yard.pair((200, 400)))
    assert result.returncode == 1 and "error[release.together]" in result.stderr
    assert not list(yard.to.iterdir())
    assert yard.release(yard.pair()).returncode == 0
    for kit, mate in [("OTS-0111", "OTS-0112"), ("OTS-0112", "OTS-0111")]:
        manifest = check_whole(yard.place(kit))
        assert [row["kit"] for row in manifest["together"]] == [mate]
    # One of them alone, under a number that is taken: neither comes.
    other = yard.folder / "other"
    assert yard.release(yard.mat(kit="OTS-0112"), to=other).returncode == 0
    result = yard.release(yard.pair(), to=other)
    assert result.returncode == 1 and os.listdir(other) == ["OTS-0112"]
    assert yard.verify(other).returncode == 0


def test_a_kit_missing_beside_its_mate_is_found(yard):
    assert yard.release(yard.pair()).returncode == 0
    yard.place("OTS-0112").unlink()
    code, found = findings(yard)
    assert code == 1 and [check for check, _ in found] == ["verify.together"]


def test_folders_that_hold_no_release(yard, tmp_path):
    empty = tmp_path / "empty"
    empty.mkdir()
    assert yard.verify(empty).returncode == 2
    assert yard.verify(tmp_path / "nowhere").returncode == 3
    assert yard.verify(yard.spec).returncode == 2


def test_folders_that_hold_something_else_are_left_alone(yard):
    drawn = yard.to / KIT
    drawn.mkdir(parents=True)
    (drawn / "kit.json").write_text("{}")
    assert before_and_after(yard, yard.spec).returncode == 3
    (drawn / "kit.json").unlink()
    (drawn / "A").write_text("somebody's")
    assert before_and_after(yard, yard.spec).returncode == 3
    assert Path(drawn / "A").read_text() == "somebody's"
