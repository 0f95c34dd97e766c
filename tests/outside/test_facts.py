"""Bend facts worked out here and compared with printed values, then with every bend that was drawn.

Printed values of v at 90 degrees are those of common German metalwork table books (to 0.05 mm);
the exact ones follow from DIN 6935's formulas on the stated inputs.
"""

import math

import pytest
from kitcheck.folding import din_6935_k, din_6935_v

# radius, thickness, bend angle from flat, v by the formulas, v as tables print it (or none)
DIN_6935 = [(1.0, 1.0, 90, -1.9187, -1.9), (1.6, 1.5, 90, -2.9045, -2.9),
            (2.5, 1.5, 90, -3.1766, -3.2), (2.0, 2.0, 90, -3.8374, None),
            (2.5, 2.0, 90, -3.9759, -4.0), (4.0, 2.0, 90, -4.4594, -4.5),
            (3.0, 3.0, 90, -5.7561, None), (4.0, 3.0, 90, -6.0381, -6.0),
            (6.0, 4.0, 90, -8.2566, -8.3), (12.0, 2.0, 90, -7.5796, None),
            (2.5, 2.0, 60, -1.8467, None), (4.0, 3.0, 45, -1.8180, None),
            (4.0, 3.0, 120, -3.3841, None), (2.0, 1.5, 135, -1.0286, None)]


@pytest.mark.parametrize("radius, thickness, angle, exact, printed", DIN_6935)
def test_din_6935(radius, thickness, angle, exact, printed):
    v = din_6935_v(radius, thickness, angle, din_6935_k(radius, thickness))
    assert v == pytest.approx(exact, abs=1e-4)
    assert printed is None or v == pytest.approx(printed, abs=0.05)


def test_bends_of_kit_by_din_6935(kit):
    """For every bend whose K is DIN 6935's: legs to the sharp corner plus v make the blank.

    The allowance as written must equal v plus both setbacks, with v computed here.
    """
    for part in kit.parts:
        for bend in part.bends:
            if not bend["k_source"].startswith("DIN 6935"):
                continue
            r, t, angle = bend["inside_radius"], part.thickness, bend["angle"]
            v = din_6935_v(r, t, angle, din_6935_k(r, t))
            setback = math.tan(math.radians(angle) / 2.0) if angle < 90.0 else 1.0
            developed = 2.0 * (r + t) * setback + v
            assert bend["allowance"] == pytest.approx(developed, abs=1e-9), bend["name"]
