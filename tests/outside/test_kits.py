"""Every check on every drawn kit."""

import pytest
from checks import CHECKS
from conftest import kit_folders


def test_kits_were_drawn():
    assert kit_folders(), "BLANKWRIGHT_KITS names no folder with kits; run tests/run.sh"


@pytest.mark.parametrize("name", CHECKS)
def test_kit(kit, name):
    troubles = CHECKS[name](kit)
    assert not troubles, f"{len(troubles)} troubles:\n" + "\n".join(troubles[:20])


def test_stackup_is_told(kit):
    assert kit.data["stackup"]["joints"], "the check of the stack-up had nothing to check"
