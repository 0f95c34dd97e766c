"""A release stopped at any moment, by whatever stops it, is there whole or not at all."""

import os
import random
import re
import resource
import shutil
import signal
import statistics
import subprocess
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from releases import KIT, Yard, check_whole, run, thaw

SEED = 6
LEFTOVER = re.compile(r"\.A\.[0-9]+\.new")
NOBODY = 65534


@pytest.fixture
def yard(program, tmp_path):
    return Yard(program, tmp_path)



def timed(yard, spec, to):
    start = time.perf_counter()
    assert yard.release(spec, to=to).returncode == 0
    return time.perf_counter() - start


def staged(home):
    return any(LEFTOVER.fullmatch(name) for name in os.listdir(home)) if home.is_dir() else False


def kill_at_random(yard, spec, home, kills, seed):
    """Kills releases until `kills` of them died of it; yields after each. Every second one is
    killed while it writes."""
    whole = statistics.median(timed(yard, spec, yard.folder / f"time-{n}") for n in range(3))
    dice = random.Random(seed)
    killed = 0
    while killed < kills:
        process = yard.start(spec)
        if killed % 2:
            while process.poll() is None and not staged(home):
                time.sleep(0.0005)
            time.sleep(dice.uniform(0, whole / 2))
        else:
            time.sleep(dice.uniform(0, 1.1 * whole))
        process.kill()
        process.communicate()
        killed += process.returncode == -signal.SIGKILL
        yield


def two_at_a_time(program, folder, work):
    """Does the work in two folders at once, as the disk lets most of the time pass; the sums of
    what both counted."""
    yards = []
    for n in range(2):
        (folder / str(n)).mkdir()
        yards.append(Yard(program, folder / str(n)))
    with ThreadPoolExecutor(2) as pool:
        counts = list(pool.map(work, yards, (SEED, SEED + 1)))
    return [sum(both) for both in zip(*counts)]


def kill_one(yard, seed):
    """Leftovers stay for the next run, which is killed too; the last one is let through."""
    home, place = yard.to / KIT, yard.place()
    before = during = arrived = 0
    for _ in kill_at_random(yard, yard.spec, home, 250, seed):
        names = os.listdir(home) if home.is_dir() else []
        assert [n for n in names if n != "A" and not LEFTOVER.fullmatch(n)] == []
        if "A" in names:
            check_whole(place)
            arrived += 1
            clear(place)
        elif names:
            during += 1
        else:
            before += 1
    assert yard.release().returncode == 0
    assert os.listdir(home) == ["A"] and os.listdir(yard.to) == [KIT]
    check_whole(place)
    assert yard.verify(yard.to, "--rebuild").returncode == 0
    return before, during, arrived


def test_killed_at_500_random_moments(program, tmp_path):
    before, during, arrived = two_at_a_time(program, tmp_path, kill_one)
    print(f"killed before writing {before}, while writing {during}, arrived {arrived}")
    assert 100 <= during and 50 <= before, "the moments were not spread over the run"


def kill_pair(yard, seed):
    kits = ["OTS-0111", "OTS-0112"]
    spec, sets = yard.pair(), yard.to / "together/OTS-0111"
    none = both = 0
    for _ in kill_at_random(yard, spec, sets, 50, seed):
        if states(yard, kits):
            both += 1
            clear(sets)
            for kit in kits:
                yard.place(kit).unlink()
        else:
            none += 1
    assert yard.release(spec).returncode == 0
    assert sorted(os.listdir(yard.to)) == [*kits, "together"] and os.listdir(sets) == ["A"]
    assert yard.verify(yard.to, "--rebuild").returncode == 0
    return none, both


def test_several_kits_killed_at_random_moments(program, tmp_path):
    """The kits of one spec appear at the same instant."""
    none, both = two_at_a_time(program, tmp_path, kill_pair)
    print(f"none there {none}, both there {both}")
    assert 20 <= none


def states(yard, kits):
    """Which of the kits are there; they must be whole, and the same in both."""
    there = [yard.place(kit).exists() for kit in kits]
    assert len(set(there)) == 1
    for kit in kits if there[0] else []:
        check_whole(yard.place(kit))
    return there[0]


def clear(to):
    if to.exists():
        thaw(to)
        shutil.rmtree(to)


@pytest.fixture(scope="module")
def strace(tmp_path_factory):
    """A tracer that makes one system call fail, or kills at it."""
    found = shutil.which("strace")
    if not found or run([found, "-o", "/dev/null", "true"]).returncode:
        pytest.skip("no tracer is here, or it may not trace")
    return found


# How often a run makes each call at most, in one thread, and how many are passed over between two
# that are tried: the calls for one file are as those for another.
CALLS = {"mkdir": (12, 1), "openat": (60, 5), "write": (20, 1), "fchmod": (40, 3),
         "fsync": (12, 1), "symlink": (2, 1), "rename": (1, 1)}
FAULTS = [(call, fault) for call in CALLS for fault in ("signal=KILL", "error=ENOSPC")
          if (call, fault) != ("openat", "signal=KILL")]


@pytest.mark.parametrize(("call", "fault"), FAULTS)
def test_every_call_failing_in_turn(yard, strace, call, fault):
    """Each call that writes fails once, or is the last thing the run does."""
    kits, spec = ["OTS-0111", "OTS-0112"], yard.pair()
    refused = 0
    most, step = CALLS[call]
    # The first to be opened are the system's own libraries, which is no matter of ours.
    for count in range(1 if call != "openat" else 8, most + 1, step):
        inject = f"inject={call}:{fault}:when={count}"
        line = [strace, "-f", "-qq", "-o", "/dev/null", "-e", inject, *yard.line(spec)]
        code = run(line).returncode
        there = states(yard, kits)
        if fault == "signal=KILL":
            refused += code != 0
        elif code == 0:
            assert there
        else:
            refused += 1
            names = os.listdir(yard.to) if yard.to.exists() else []
            left = [n for n in names if os.listdir(yard.to / n)]
            assert there or left == [], "a failed run left something"
        if there:
            clear(yard.to)
    assert refused, f"{call} was never called"
    assert yard.release(spec).returncode == 0 and states(yard, kits)


def test_no_file_beyond_a_size(yard):
    """The system forbids files beyond a size, as a full quota does."""
    ends = set()
    for size in [0, 100, 400, 1000, 4000, 10_000, 20_000, 40_000, 80_000, 160_000, 1 << 20]:
        def limit(size=size):
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))
        result = subprocess.run(yard.line(), preexec_fn=limit, stdin=subprocess.DEVNULL,
                                capture_output=True, text=True, check=False)
        ends.add(result.returncode)
        if result.returncode:
            assert result.returncode == 3 and "error[write." in result.stderr, result.stderr
            assert os.listdir(yard.to) == []
        else:
            check_whole(yard.place())
            clear(yard.to)
    assert ends == {0, 3}


def apart(*script):
    """Runs a shell script in a mount namespace of its own; skips where that may not be."""
    return run(["unshare", "--mount", "sh", "-c", *map(str, script)])


@pytest.fixture
def mounts(tmp_path):
    trial = shutil.which("unshare") and apart('mount -t tmpfs tmpfs "$0"', tmp_path)
    if not trial or trial.returncode:
        pytest.skip("no file system may be mounted here" + (f": {trial.stderr}" if trial else ""))


FULL = """
mount -t tmpfs -o "$0" tmpfs "$1" || exit 99
out="$2"; to="$1"; shift 2
"$@"; code=$?
cp -a "$to/." "$out"
exit $code
"""


@pytest.mark.parametrize("kind", ["size", "nr_inodes"])
def test_full_disk(yard, mounts, tmp_path, kind):
    """On disks of all sizes, in bytes or in files, a release fits or is not there."""
    yard.to.mkdir()
    sizes = [f"{k}k" for k in range(4, 1600, 40)] if kind == "size" else range(2, 40)
    ends = {0: 0, 3: 0}
    for size in sizes:
        out = tmp_path / f"out-{size}"
        out.mkdir()
        result = apart(FULL, f"{kind}={size}", yard.to, out, *yard.line())
        ends[result.returncode] += 1
        if result.returncode:
            assert "no room is left" in result.stderr, result.stderr
            assert os.listdir(out) == []
        else:
            check_whole(yard.place(to=out))
    print(f"{kind}: fitted {ends[0]}, did not fit {ends[3]}")
    assert 5 <= ends[0] and 5 <= ends[3]


READ_ONLY = 'mount -t tmpfs tmpfs "$0" && mount -o remount,ro "$0" || exit 99; "$@"'


def test_read_only_disk(yard, mounts):
    yard.to.mkdir()
    result = apart(READ_ONLY, yard.to, *yard.line())
    assert result.returncode == 3 and "may not be written" in result.stderr, result.stderr


def as_nobody(line):
    """Runs as a user who owns nothing; permissions do not bind the superuser."""
    if os.geteuid():
        return run(line)
    return run(line, user=NOBODY, group=NOBODY, extra_groups=[])


@pytest.fixture
def open_yard(program):
    """A yard that every user can reach, with the program in it."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        copy = shutil.copy(program, folder / "program")
        yield Yard(Path(copy), folder)


def test_folder_that_may_not_be_written(open_yard):
    open_yard.to.mkdir()
    open_yard.to.chmod(0o555)
    result = as_nobody(open_yard.line())
    assert result.returncode == 3 and "may not be written" in result.stderr, result.stderr
    assert os.listdir(open_yard.to) == []


def test_what_is_released_cannot_be_written(open_yard):
    """Neither a file nor a folder of it, by the one who released it; the next revision can."""
    to = open_yard.to
    to.mkdir()
    if not os.geteuid():
        os.chown(to, NOBODY, NOBODY)
    assert as_nobody(open_yard.line()).returncode == 0
    place = open_yard.place()
    for words in ['echo >> "$0/kit.json"', ': > "$0/parts/new"', 'rm "$0/kit.json"', 'rm -r "$0"']:
        assert as_nobody(["sh", "-c", words, str(place)]).returncode != 0, words
    check_whole(place)
    assert as_nobody(open_yard.line(open_yard.mat(revision="B"))).returncode == 0
    check_whole(open_yard.place(revision="B"))
