"""Numbers of drawings compared, and dates as they stand on them."""

from datetime import date

import pytest

from parts.domain.drawing_words import dated, number_key, numbers_in, read_date

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(("first", "second"), [("GW/114 - B", "gw 114b"), ("742.31", "742/31"), ("№ 5", "NO5")])
def test_numbers_are_the_same_however_they_are_spelt(first, second):
    same = number_key(first) == number_key(second)
    assert same is (first != "№ 5")  # a sign that is no letter says nothing


def test_a_line_names_several():
    assert numbers_in("742/31; 742/32 and GA 5,") == ["742/31", "742/32", "GA 5"]
    assert numbers_in("") == []


@pytest.mark.parametrize(
    ("typed", "sentence"), [("", ""), (" 1911 ", "1911"), ("1911-03-31", "31 Mar 1911"), ("2026", "2026")]
)
def test_a_date_is_kept_as_far_as_it_is_known(typed, sentence):
    assert dated(*read_date(typed, TODAY)) == sentence


@pytest.mark.parametrize("typed", ["c. 1911", "31/3/1911", "2027", "2026-11-26", "1911-02-30", "0099"])
def test_anything_else_is_refused_with_a_mend(typed):
    with pytest.raises(ValueError, match="Write"):
        read_date(typed, TODAY)
