"""A check that cannot fail is a defect: the hand-built kit passes all, and each fault is found."""

import copy
import math

import maker
import pytest
import writer
from checks import CHECKS
from faults import FAULTS
from file_faults import nested
from kitcheck import plane, space
from kitcheck.kit import Kit


@pytest.fixture(scope="module")
def good():
    return maker.kit_data()


@pytest.mark.parametrize("name", CHECKS)
def test_right_kit_passes(name, good, tmp_path):
    assert CHECKS[name](Kit(writer.write_kit(good, tmp_path))) == []


def test_right_sheet_passes(good, tmp_path):
    data = copy.deepcopy(good)
    nested()(data)
    assert CHECKS["sheets"](Kit(writer.write_kit(data, tmp_path))) == []


@pytest.mark.parametrize("fault", FAULTS, ids=lambda f: f"{f.check}: {f.title}")
def test_fault_is_found(fault, good, tmp_path):
    data = copy.deepcopy(good)
    if fault.kind == "data":
        fault.make(data)
        folder = writer.write_kit(data, tmp_path)
    else:
        folder = writer.write_kit(data, tmp_path)
        if fault.kind == "json":
            fault.make(data)
            writer.write_json(data, folder)
        else:
            fault.make(folder)
    assert CHECKS[fault.check](Kit(folder)), "the fault was not found"


def test_every_check_has_a_fault():
    assert {fault.check for fault in FAULTS} == set(CHECKS)


def test_fold_by_hand():
    """An L of legs 50 and 30 (outside), 2 mm, inside radius 2: worked on paper.

    Flats are 50 - 4 and 30 - 4. Bent up by 90 degrees, the leg's outer face (z = 0) stands at
    x = 50 and its tip at z = 30; its inner face at x = 48.
    """
    bend = {"line": [[46 + maker.BA / 2, 0], [46 + maker.BA / 2, 10]], "angle": 90.0,
            "direction": "up", "inside_radius": 2.0, "allowance": maker.BA}
    fold = space.fold(bend, 2.0, (1.0, 0.0))
    tip = 46 + maker.BA + 26
    found = space.apply(fold, [[tip, 0, 0], [tip, 0, 2], [46 + maker.BA, 10, 0]])
    assert abs(found - [[50, 0, 30], [48, 0, 30], [50, 10, 4]]).max() < 1e-12
    bend["direction"] = "down"
    found = space.apply(space.fold(bend, 2.0, (1.0, 0.0)), [[tip, 0, 0], [tip, 0, 2]])
    assert abs(found - [[48, 0, -28], [50, 0, -28]]).max() < 1e-12


def test_fold_by_hand_at_another_angle():
    """30 degrees up, radius 3, 1 mm, K 0.5: the far tangent point lies at R' sin, R'(1 - cos)."""
    allowance = math.radians(30) * 3.5
    bend = {"line": [[10 + allowance / 2, 0], [10 + allowance / 2, 5]], "angle": 30.0,
            "direction": "up", "inside_radius": 3.0, "allowance": allowance}
    fold = space.fold(bend, 1.0, (1.0, 0.0))
    found = space.apply(fold, [[10 + allowance, 0, 0], [10 + allowance + 20, 0, 0]])
    c, s = math.sqrt(3) / 2, 0.5
    wanted = [[10 + 4 * s, 0, 4 * (1 - c)], [10 + 4 * s + 20 * c, 0, 4 * (1 - c) + 20 * s]]
    assert abs(found - wanted).max() < 1e-12


def test_bent_sheet_keeps_its_radii():
    """Points of a bend zone lie at the inside radius and at radius plus thickness of its axis."""
    bend = {"line": [[0, 0], [0, 10]], "angle": 90.0, "direction": "up", "inside_radius": 2.0,
            "allowance": 4.0}
    found = space.bent(bend, 2.0, (1.0, 0.0), [[-2, 0, 2], [0, 0, 2], [2, 0, 2], [2, 0, 0]])
    h = math.sqrt(0.5)
    wanted = [[-2, 0, 2], [-2 + 2 * h, 0, 4 - 2 * h], [0, 0, 4], [2, 0, 4]]
    assert abs(found - wanted).max() < 1e-12


def test_measures_of_loops():
    """A square with one side bulged to a half-circle; a circle of two halves."""
    loop = [[0, 0, 0], [4, 0, 1.0], [4, 4, 0], [0, 4, 0]]
    assert plane.loop_area(loop) == pytest.approx(16 + 2 * math.pi, abs=1e-12)
    assert plane.loop_length(loop) == pytest.approx(12 + 2 * math.pi, abs=1e-12)
    assert plane.loop_bounds(loop) == pytest.approx((0, 0, 6, 4), abs=1e-12)
    circle = plane.circle_loop(1, 1, 2)
    assert plane.loop_area(circle) == pytest.approx(-math.pi, abs=1e-12)
    assert plane.region(circle, []).area == pytest.approx(math.pi, rel=1e-3)
