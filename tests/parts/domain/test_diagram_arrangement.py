"""Reading wheel arrangements for the drawing.

Sources: WHYTE marks the public encyclopedia's article "Whyte notation", UIC its article "UIC classification of
locomotive axle arrangements", each in the copy that was read on the web. The rest: common practice, no source.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.domain.diagram.arrangement import ArrangementError, read
from parts.domain.whyte import Tank
from tests.tables import for_each


def axles(written):
    return [(group.leading, group.coupled, group.trailing) for group in read(written).groups]


@for_each(
    ("written", "groups"),
    [
        ("4-6-2", [(2, 3, 1)]),  # WHYTE: two leading axles, three driving axles, one trailing axle
        ("4-8-8-4", [(2, 4, 0), (0, 4, 2)]),  # WHYTE: four leading wheels, eight, eight, four trailing
        ("4-6-2+2-6-4", [(2, 3, 1), (1, 3, 2)]),  # WHYTE
        ("2-6-0+0-6-2", [(1, 3, 0), (0, 3, 1)]),  # WHYTE
        ("0-4-4-0T", [(0, 2, 0), (0, 2, 0)]),
        ("0-4-4T", [(0, 2, 2)]),  # one group and a trailing bogie
        ("2'C1'", [(2, 3, 1)]),  # UIC: the same as 4-6-2
        ("(2′D)D2′", [(2, 4, 0), (0, 4, 2)]),  # UIC: the same as 4-8-8-4
        ("C", [(0, 3, 0)]),  # UIC
        ("1'D1'", [(1, 4, 1)]),  # UIC
        ("1′E1′h2Gt", [(1, 5, 1)]),  # UIC
        ("1′Dn4vP", [(1, 4, 0)]),  # UIC
        ("D′Dh4vtG", [(0, 4, 0), (0, 4, 0)]),  # UIC
        ("B'B'", [(0, 2, 0), (0, 2, 0)]),
        ("2'C1'+1'C2'", [(2, 3, 1), (1, 3, 2)]),
    ],
)
def test_groups_of_axles(written, groups):
    assert axles(written) == groups


@for_each(
    ("written", "tank", "tender"),
    [("0-6-0", Tank.TENDER, True), ("0-6-0T", Tank.SIDE, False), ("0-6-0ST", Tank.SADDLE, False),
     ("0-6-0PT", Tank.PANNIER, False), ("0-6-0WT", Tank.WELL, False), ("1'C1'h2t", Tank.SIDE, False),
     ("2'C1'", Tank.TENDER, True), ("0-4-0VBT", Tank.SIDE, False)],
)  # fmt: skip
def test_where_the_water_is(written, tank, tender):
    assert (read(written).tank, read(written).has_tender) == (tank, tender)


def test_a_boiler_slung_between_two_engines_has_no_tender():
    assert read("0-4-0+0-4-0").slung
    assert not read("0-4-0+0-4-0").has_tender
    assert not read("0-4-4-0").slung


def test_fireless_and_vertical_boilers_are_told_by_their_letters():
    assert read("0-6-0F").fireless
    assert read("0-4-0VBT").vertical


@for_each(
    "written",
    [
        "",
        "engine",
        "0-6",
        "0-5-0",
        "Bo'Bo'",
        "A1A-A1A",
        "0-0-4T",
        "0-16-0",
        "8-6-0",
        "2-2-2-2-2-2-2-2",
        "0-6-0X",
        "1'",
        "+",
    ],
)
def test_what_cannot_be_drawn_is_refused_in_a_sentence(written):
    with pytest.raises(ArrangementError, match=r"\.$"):
        read(written)


def read_or_refused(text):
    try:
        return read(text).axles > 0
    except ArrangementError as error:
        return str(error).endswith(".")


@given(st.text(max_size=20) | st.from_regex(r"[0-9(][-0-9A-F'()+]{0,14}[hnt]?", fullmatch=True))
def test_any_text_is_read_or_refused(text):
    assert read_or_refused(text)
