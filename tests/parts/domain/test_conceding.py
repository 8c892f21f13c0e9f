"""What no concession is given on: the project's own rule."""

import pytest

from parts.domain.conceding import never_conceded


@pytest.mark.parametrize("name", ["axle", "crank axle", "crank pin", "Tyre", "tender tyre", "truck tire", "wheelset"])
def test_axles_crank_pins_and_tyres_are_never_conceded(name):
    assert never_conceded(name)


@pytest.mark.parametrize("name", ["axlebox", "tyre set screws", "crank pin collar", "wheel centre", "coupling rod", ""])
def test_what_only_has_their_name_in_it_may_be(name):
    assert not never_conceded(name)
