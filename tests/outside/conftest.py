"""Where the checks find kits: the folder named by BLANKWRIGHT_KITS, drawn by `tests/run.sh`."""

import os
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from kitcheck.kit import Kit  # noqa: E402  (the path is set just above)

ROOT = Path(__file__).resolve().parents[2]


def kit_folders():
    """Every drawn kit's folder, in order."""
    place = os.environ.get("BLANKWRIGHT_KITS")
    return sorted(p.parent for p in Path(place).glob("*/kit.json")) if place else []


def pytest_generate_tests(metafunc):
    if "kit" in metafunc.fixturenames:
        folders = kit_folders()
        metafunc.parametrize("kit", folders, ids=[f.name for f in folders], indirect=True,
                             scope="session")


@pytest.fixture(scope="session")
def kit(request):
    return Kit(request.param)


@pytest.fixture(scope="session")
def program():
    """The built program."""
    path = Path(os.environ.get("BLANKWRIGHT_BIN", ROOT / "target/release/blankwright"))
    assert path.is_file(), f"no program at {path}; run tests/run.sh"
    return path


@pytest.fixture(scope="session")
def root():
    return ROOT
