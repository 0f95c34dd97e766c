"""Two releases at once: the first wins, the other is told so; neither harms the other."""

import os
import shutil
import signal
import time

import pytest
from releases import KIT, Yard, check_whole, run, started, thaw


@pytest.fixture
def yard(program, tmp_path):
    return Yard(program, tmp_path)


def clear(to):
    thaw(to)
    shutil.rmtree(to)


def one_wins(yard, ends, depths):
    codes = [process.returncode for process, _ in ends]
    assert sorted(codes) == [0, 1], [error for _, error in ends]
    winner = codes.index(0)
    refused = ends[1 - winner][1]
    assert "error[release.released]" in refused and "is already released" in refused, refused
    manifest = check_whole(yard.place())
    assert os.listdir(yard.to / KIT) == ["A"] and manifest["revision"] == "A"
    spec = (yard.place() / "inputs/spec.toml").read_text()
    assert f"depth = {depths[winner]}\n" in spec
    return refused


def ended(processes):
    return [(process, process.communicate(timeout=60)[1]) for process in processes]


def test_two_at_once(yard):
    """50 rounds; in every second one both release the same."""
    same = other = 0
    for n in range(50):
        depths = (200, 200 if n % 2 else 210)
        specs = [yard.mat(f"mat-{i}.toml", depth=depths[i]) for i in range(2)]
        specs = specs[:1] * 2 if n % 2 else specs
        refused = one_wins(yard, ended([yard.start(spec) for spec in specs]), depths)
        same += "with the same content" in refused
        other += "the spec" in refused and 'to "B"' in refused
        clear(yard.to)
    assert (same, other) == (25, 25)


def test_a_living_run_is_waited_for(yard):
    """A run that stands still while it writes is no leftover: the next one waits for it."""
    home = yard.to / KIT
    for _ in range(200):
        first = yard.start()
        while first.poll() is None and not (home.is_dir() and os.listdir(home)):
            pass
        first.send_signal(signal.SIGSTOP)
        staged = os.listdir(home)
        if staged == [".A.0.new"]:
            break
        # It was done before it could be stopped.
        first.send_signal(signal.SIGCONT)
        first.communicate(timeout=60)
        clear(yard.to)
    assert staged == [".A.0.new"], "no run was met while it wrote"
    second = yard.start()
    time.sleep(0.5)
    assert second.poll() is None and os.listdir(home) == staged
    first.send_signal(signal.SIGCONT)
    refused = one_wins(yard, ended([first, second]), (200, 200))
    assert "waiting for another run" in refused and first.returncode == 0


def test_two_at_once_without_locks(yard):
    """Some network drives cannot lock a folder: then the rename alone decides."""
    strace = shutil.which("strace")
    if not strace or run([strace, "-o", "/dev/null", "true"]).returncode:
        pytest.skip("no tracer is here, or it may not trace")
    blind = [strace, "-f", "-qq", "-o", "/dev/null", "-e", "inject=flock:error=EOPNOTSUPP"]
    for _ in range(10):
        specs = [yard.mat(f"mat-{i}.toml", depth=200 + 10 * i) for i in range(2)]
        processes = [started(blind + yard.line(spec)) for spec in specs]
        one_wins(yard, ended(processes), (200, 210))
        clear(yard.to)
