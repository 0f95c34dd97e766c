"""Small kits to release, and what a release must be when it is looked at without the program."""

import hashlib
import json
import os
import stat
import subprocess
from pathlib import Path

KIT = "OTS-0101"

FAMILY = (Path(__file__).parents[1] / "cases/families/shelf-mat.toml").read_text()

HEAD = 'revision = "{revision}"\ndate = "2026-03-02"\ntitle = "Mat for the sample laboratory"\n'
ONE = 'kit = "{kit}"\ntemplate = "shelf-mat"\n' + HEAD + "\n[mat]\nwidth = {width}\ndepth = {depth}\n"
MORE = '\n[[kits]]\nkit = "{kit}"\ntemplate = "shelf-mat"\n[kits.mat]\nwidth = {width}\ndepth = {depth}\n'


class Yard:
    """A folder with a family of mats, and releases of them."""

    def __init__(self, program, folder):
        self.program, self.folder, self.to = program, folder, folder / "to"
        (folder / "families").mkdir()
        (folder / "families/shelf-mat.toml").write_text(FAMILY)
        self.spec = self.mat()

    def mat(self, name="mat.toml", kit=KIT, revision="A", width=300, depth=200, more=""):
        path = self.folder / name
        text = ONE.format(kit=kit, revision=revision, width=width, depth=depth)
        path.write_text(text + more)
        return path

    def pair(self, depths=(200, 210), name="pair.toml"):
        """A spec of two mats, which are released together."""
        path = self.folder / name
        kits = zip(("OTS-0111", "OTS-0112"), depths)
        path.write_text(HEAD.format(revision="A") +
                        "".join(MORE.format(kit=kit, width=300, depth=depth) for kit, depth in kits))
        return path

    def line(self, spec=None, *words, to=None):
        return [str(self.program), "release", str(spec or self.spec), "--to", str(to or self.to),
                "--templates", str(self.folder / "families"), *map(str, words)]

    def release(self, spec=None, *words, to=None):
        return run(self.line(spec, *words, to=to))

    def start(self, spec=None, to=None):
        return started(self.line(spec, to=to))

    def verify(self, folder=None, *words):
        return run([str(self.program), "verify", str(folder or self.to), *words])

    def place(self, kit=KIT, revision="A", to=None):
        return (to or self.to) / kit / revision


def run(line, **more):
    return subprocess.run(line, capture_output=True, text=True, stdin=subprocess.DEVNULL,
                          timeout=300, check=False, **more)


def started(line):
    return subprocess.Popen(line, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                            stderr=subprocess.PIPE, text=True)


def everything(folder):
    """Every path below a folder but folders that hold something, without following links."""
    found = {}
    for above, folders, files in os.walk(folder):
        for name in folders + files:
            path = os.path.join(above, name)
            if os.path.islink(path) or not os.path.isdir(path) or not os.listdir(path):
                found[os.path.relpath(path, folder)] = path
    return found


def check_whole(folder):
    """A release holds what its manifest and its list of digests say, nothing else, for reading."""
    listed = {}
    for line in (folder / "manifest.sha256").read_text().splitlines():
        digest, path = line.split("  ", 1)
        listed[path] = digest
    seen = everything(folder)
    assert set(seen) == set(listed) | {"manifest.sha256"}
    for path, digest in listed.items():
        assert hashlib.sha256((folder / path).read_bytes()).hexdigest() == digest, path
    manifest = json.loads((folder / "manifest.json").read_text())
    files = {row["path"]: row for row in manifest["files"]}
    assert set(files) == set(listed) - {"manifest.json"}
    for path, row in files.items():
        assert row["sha256"] == listed[path] and row["bytes"] == (folder / path).stat().st_size
    for row in manifest["inputs"]:
        assert row["sha256"] == files[row["path"]]["sha256"]
    for above, _, names in os.walk(folder):
        for path in [above, *(os.path.join(above, name) for name in names)]:
            assert not os.stat(path).st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH), path
    return manifest


def thaw(folder):
    """Lets everything below a folder be removed again."""
    for above, _, _ in os.walk(folder):
        os.chmod(above, 0o755)
