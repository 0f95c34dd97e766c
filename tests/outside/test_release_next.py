"""A released revision that follows another one: what is recorded, what stays, what is made again."""

import csv
import json
import shutil
from hashlib import sha256

import pypdf
import pytest
from conftest import ROOT
from kitcheck import lists, pdf
from kitcheck.kit import Kit
from releases import KIT, Yard, check_whole, run, thaw

SPEC = (ROOT / "sample-specs/lab-tray.toml").read_text()
TRAY = "OSL-0410"
REASON = "the sensor's plug did not pass"
AMENDMENT = f"""
[[amendments]]
part = "tray"
notch = {{ on = "left_side.top", from = 20, to = 50, depth = 9 }}
reason = "{REASON}"
revision = "B"
"""


def following(more=""):
    head = SPEC.replace('revision = "A"', 'revision = "B"', 1)
    head = head.replace('date = "', 'date = "2026-12-24"\n# was "', 1)
    return more + head + AMENDMENT


def release(program, spec, to, *words):
    result = run([str(program), "release", str(spec), "--to", str(to), "--allow-warnings", *words])
    assert result.returncode == 0, result.stderr


def since_folder(program, folder, old):
    (folder / "b.toml").write_text(following())
    release(program, folder / "b.toml", folder / "to", "--since", str(old))


def named_folder(program, folder, old):
    (folder / "b.toml").write_text(following(f'previous = "{old.relative_to(folder)}"\n'))
    release(program, folder / "b.toml", folder / "to")


def named_spec(program, folder, _):
    """The revision before as a spec: its kit.json is worked out for the release."""
    (folder / "b.toml").write_text(following('previous = "a.toml"\n'))
    release(program, folder / "b.toml", folder / "to")


@pytest.fixture(params=[since_folder, named_folder, named_spec], ids=lambda way: way.__name__)
def both(request, program, tmp_path):
    """Revisions A and B of a tray, B released after A in one of three ways."""
    (tmp_path / "a.toml").write_text(SPEC)
    release(program, tmp_path / "a.toml", tmp_path / "to")
    old = tmp_path / "to" / TRAY / "A"
    request.param(program, tmp_path, old)
    return old, tmp_path / "to" / TRAY / "B"


def read(folder):
    return json.loads((folder / "kit.json").read_text())


def test_the_revision_before_is_an_input_and_is_all_that_is_needed(program, tmp_path, both):
    old, new = both
    manifest = check_whole(new)
    (row,) = [row for row in manifest["inputs"] if row["role"] == "previous"]
    kept = (new / row["path"]).read_bytes()
    assert row["path"] == f"inputs/previous/{TRAY}.json" and not row["built_in"]
    assert row["sha256"] == sha256(kept).hexdigest() == read(new)["previous"]["kit_sha256"]
    assert json.loads(kept)["parts"] == read(old)["parts"]
    thaw(tmp_path)
    moved = tmp_path / "elsewhere"
    new.rename(moved)
    shutil.rmtree(tmp_path / "to")
    (tmp_path / "a.toml").unlink()
    (tmp_path / "b.toml").unlink()
    result = run([str(program), "verify", str(moved), "--rebuild"], cwd="/")
    assert result.returncode == 0, result.stderr
    assert "made again byte for byte" in result.stdout


def test_title_block_list_and_kit_json_agree_on_each_parts_revision(both):
    old, new = both
    parts = {part["name"]: part for part in read(new)["parts"]}
    assert {name: part["revision"] for name, part in parts.items()} == {
        name: "B" if name == "tray" else "A" for name in parts}
    with open(new / "parts.csv", encoding="utf-8", newline="") as file:
        listed = {row["number"]: row["revision"] for row in csv.DictReader(file)}
    assert listed == {part["number"]: part["revision"] for part in parts.values()}
    kit = Kit(new)
    assert lists.check(kit) + pdf.check(kit) == []
    for part in parts.values():
        dxf = f"parts/{part['number']}.dxf"
        same = (old / dxf).read_bytes() == (new / dxf).read_bytes()
        assert same == (part["revision"] == "A"), dxf


def test_an_amendment_shows_wherever_its_part_is_shown(program, both):
    old, new = both
    kit = read(new)
    (amended,) = kit["amendments"]
    assert (amended["reason"], amended["revision"]) == (REASON, "B")
    number = next(part["number"] for part in kit["parts"] if part["name"] == "tray")
    assert amended["part"] == number and "notch 30 × 9 mm" in amended["text"]
    for rows in (kit["revisions"], next(p for p in kit["parts"] if p["number"] == number)["revisions"]):
        assert [REASON in row["text"] for row in rows if row["index"] == "B"] == [True]
    for name in (f"parts/{number}.pdf", "drawings.pdf"):
        pages = [page.extract_text() for page in pypdf.PdfReader(new / name).pages]
        assert any("notch 30" in " ".join(page.split()) for page in pages), name
    told = run([str(program), "compare", str(old), str(new)])
    assert told.returncode == 0 and "9 × 30 cut away at the edge of left side" in told.stdout
    line = f"amendment of B: {amended['text']} ({REASON})"
    assert line in told.stdout, told.stdout
    assert run([str(program), "prove", str(new)]).returncode == 0


def without_previous(folder, number=TRAY):
    """A release that says nothing of the revision before, though its kit follows one."""
    thaw(folder)
    manifest = json.loads((folder / "manifest.json").read_text())
    path = f"inputs/previous/{number}.json"
    (folder / path).unlink()
    (folder / path).parent.rmdir()
    manifest["inputs"] = [row for row in manifest["inputs"] if row["path"] != path]
    manifest["files"] = [row for row in manifest["files"] if row["path"] != path]
    text = (json.dumps(manifest, indent=2, ensure_ascii=False) + "\n").encode()
    lines = [f"{sha256(text).hexdigest()}  manifest.json\n"]
    lines += [f"{row['sha256']}  {row['path']}\n" for row in manifest["files"]]
    for name, data in (("manifest.json", text), ("manifest.sha256", "".join(lines).encode())):
        (folder / name).chmod(0o644)
        (folder / name).write_bytes(data)


def test_a_revision_before_that_is_not_kept_is_named(program, both):
    _, new = both
    without_previous(new)
    assert run([str(program), "verify", str(new)]).returncode == 0
    result = run([str(program), "verify", str(new), "--rebuild"])
    assert result.returncode == 1
    assert f"revision A of {TRAY}, which it follows, is not among its inputs" in result.stderr
    assert result.stderr.count("error[") == 1, result.stderr


def test_kits_of_one_spec_follow_together(program, tmp_path):
    yard = Yard(program, tmp_path)
    assert yard.release(yard.pair()).returncode == 0
    pair = yard.pair((200, 220))
    pair.write_text(pair.read_text().replace('revision = "A"', 'revision = "B"'))
    result = yard.release(pair, "--since", yard.to)
    assert result.returncode == 2 and "name one revision, such as" in result.stderr
    result = yard.release(pair, "--since", yard.place("OTS-0111"))
    assert result.returncode == 0, result.stderr
    for kit, revision in (("OTS-0111", "A"), ("OTS-0112", "B")):
        place = yard.place(kit, "B")
        (part,) = read(place)["parts"]
        assert part["revision"] == revision, "the one that did not change stays behind"
        roles = [row["path"] for row in check_whole(place)["inputs"] if row["role"] == "previous"]
        assert roles == [f"inputs/previous/{number}.json" for number in ("OTS-0111", "OTS-0112")]
    assert yard.verify(yard.to, "--rebuild").returncode == 0
    one = yard.mat(revision="B")
    result = yard.release(one, "--since", yard.to / "OTS-0111")
    assert result.returncode == 2 and "holds OTS-0111 twice" in result.stderr, result.stderr
    result = yard.release(one, "--since", yard.place("OTS-0111", "B"))
    assert result.returncode == 2 and f"the earlier revision has no kit {KIT}" in result.stderr
