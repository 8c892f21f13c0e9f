"""What was typed and not signed, kept as typed."""

from inspections.domain.typed_sheets import merged


def one(**figures) -> dict:
    return {"figures": {int(n[1:]): text for n, text in figures.items()}, "instrument": "3", "unit": "mm"}


def test_a_page_of_one_size_leaves_the_others_as_they_were():
    entered = merged({}, {"sizes": {"5": one(s0="1"), "6": one(s0="2")}})
    entered = merged(entered, {"sizes": {"6": one(s0="3")}})
    assert {number: size["typed"] for number, size in entered["sizes"].items()} == {"5": ["1"], "6": ["3"]}


def test_a_page_of_one_spot_leaves_the_other_spots():
    entered = merged(merged({}, {"sizes": {"5": one(s0="1", s1="2", s2="3")}}), {"sizes": {"5": one(s1="9")}})
    assert entered["sizes"]["5"]["typed"] == ["1", "9", "3"]


def test_a_later_spot_first_leaves_room_for_those_before():
    assert merged({}, {"sizes": {"5": one(s2="3")}})["sizes"]["5"]["typed"] == ["", "", "3"]


def test_a_size_that_was_rubbed_out_is_gone_with_its_instrument():
    entered = merged(merged({}, {"sizes": {"5": one(s0="1")}}), {"sizes": {"5": one(s0=" ")}})
    assert entered["sizes"] == {}


def test_the_instrument_in_hand_is_that_of_the_last_size_with_a_figure():
    entered = merged({}, {"sizes": {"5": one(s0="1"), "6": one(s0="") | {"instrument": "8"}}})
    assert entered["instrument"] == "3"


def test_an_instrument_chosen_before_anything_is_typed_is_remembered():
    assert merged({"instrument": "3"}, {"sizes": {"5": one(s0="") | {"instrument": "8"}}})["instrument"] == "8"


def test_the_fields_of_the_signature_are_kept_beside():
    entered = merged({"record": {"remarks": "cold", "on": "2026-01-01"}}, {"record": {"remarks": "warm"}})
    assert entered["record"] == {"remarks": "warm", "on": "2026-01-01"}
