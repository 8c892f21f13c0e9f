"""Wheel arrangements.

Sources: LNWR marks the London and North Western Railway Society's glossary, entry "Whyte Wheel Arrangement" (the
letters and their arrangements); SVR marks the Severn Valley Railway wiki, page "Whyte notation" (the count spelt out).
The other arrangements, letters and the names of axles: common practice, no source.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.domain.axles import carrying_axles, coupled_axles, tender_axles, usual_driven
from parts.domain.choices import Boiler
from parts.domain.whyte import Tank, Whyte, WhyteError, parse
from tests.tables import for_each


@for_each(
    ("written", "wheels", "tank"),
    [
        ("0-6-2T", (0, 6, 2), Tank.SIDE),  # LNWR
        ("0-4-0ST", (0, 4, 0), Tank.SADDLE),  # LNWR
        ("0-6-0PT", (0, 6, 0), Tank.PANNIER),  # LNWR
        ("0-4-2WT", (0, 4, 2), Tank.WELL),  # LNWR
        ("4-6-2", (4, 6, 2), Tank.TENDER),  # SVR: 4 leading, 6 coupled, 2 trailing wheels, a tender
        ("0-6-0T", (0, 6, 0), Tank.SIDE),  # SVR: 6 coupled, no leading or trailing wheels, side tanks
        ("2-6-2T", (2, 6, 2), Tank.SIDE),
        ("4-4-0", (4, 4, 0), Tank.TENDER),
        ("0-6-0WT", (0, 6, 0), Tank.WELL),
        ("2-6-0", (2, 6, 0), Tank.TENDER),
        ("0-4-4T", (0, 4, 4), Tank.SIDE),  # four coupled and a trailing bogie: not articulated
        ("2-10-0", (2, 10, 0), Tank.TENDER),
    ],
)
def test_arrangements_are_read(written, wheels, tank):
    found = parse(written)
    assert (found.leading, found.coupled, found.trailing) == wheels
    assert found.tank is tank


def test_a_4_6_2_has_four_leading_six_coupled_and_two_trailing_wheels_on_six_axles():
    wheels = parse("4-6-2")  # SVR
    assert (wheels.leading, wheels.coupled, wheels.trailing, wheels.coupled_axles, wheels.axles) == (4, 6, 2, 3, 6)


@pytest.mark.parametrize("written", [" 0-6-0t ", "0 - 6 - 0 T", "0–6–0T", "0—6—0 t"])
def test_spaces_case_and_kind_of_dash_do_not_matter(written):
    assert parse(written) == Whyte(0, 6, 0, Tank.SIDE)


@pytest.mark.parametrize(
    ("written", "units"),
    [
        ("0-4-4-0T", [(0, 4, 0), (0, 4, 0)]),
        ("2-6-6-2", [(2, 6, 0), (0, 6, 2)]),
        ("4-8-8-4", [(4, 8, 0), (0, 8, 4)]),
        ("2-8-8-8-2", [(2, 8, 0), (0, 8, 0), (0, 8, 2)]),
        ("4-6-2+2-6-4", [(4, 6, 2), (2, 6, 4)]),
        ("(4-6-2)+(2-6-4)", [(4, 6, 2), (2, 6, 4)]),
        ("0-6-0+0-6-0", [(0, 6, 0), (0, 6, 0)]),
    ],
)
def test_several_engine_units_are_read(written, units):
    found = parse(written)
    assert [(unit.leading, unit.coupled, unit.trailing) for unit in found.units] == units
    assert found.plus is ("+" in written)
    assert parse(str(found)) == found


@pytest.mark.parametrize(
    ("written", "tank", "boiler"),
    [
        ("0-4-0VB", Tank.WELL, Boiler.VERTICAL),
        ("0-4-0VBT", Tank.SIDE, Boiler.VERTICAL),
        ("0-6-0F", Tank.NONE, Boiler.FIRELESS),
        ("0-4-0CT", Tank.CRANE, Boiler.LOCOMOTIVE),
        ("0-6-0DM", Tank.NONE, Boiler.NONE),
    ],
)
def test_the_letters_say_what_it_carries_instead_of_a_fired_boiler_and_tanks(written, tank, boiler):
    assert (parse(written).tank, parse(written).boiler) == (tank, boiler)


@for_each(
    ("written", "mend"),
    [
        ("", "is blank: write it as three numbers"),
        ("   ", "is blank"),
        ("six coupled", "is not a wheel arrangement: write three numbers"),
        ("0-6", "has 2 of the three numbers"),
        ("060T", "has 1 of the three numbers"),
        ("0-6-0X", "“X” after the wheels .* write T for side tanks"),
        ("0-6-0T+T", "“T\\+T” after the wheels"),
        ("0-3-0T", "3 coupled wheels .* odd number.* write 2 for each axle"),
        ("1-6-0", "1 leading wheels .* odd number"),
        ("0-0-4T", "no driving wheels.* a carriage or a wagon write UIC notation, such as 2 or 2'2'"),
        ("0-12-0", "12 coupled wheels .* write at most 10"),
        ("2-6-6T", "6 trailing wheels .* write at most 4"),
        ("0-99999999999-0", "more than Cotter can lay out"),
        ("0-6-0+0-6", "three numbers on each side of it"),
        ("2-8-8-8-8-2", "4 engine units"),
        ("0--6-0", "is not a wheel arrangement"),
        ("-2-6-0", "is not a wheel arrangement"),
        ("٠-٦-٠", "is not a wheel arrangement"),  # digits, but not those of the notation
    ],
)
def test_a_bad_arrangement_says_what_to_write(written, mend):
    with pytest.raises(WhyteError, match=mend):
        parse(written)


def refusal_of(text):
    try:
        return "" if parse(text) else "nothing read"
    except WhyteError as error:
        return str(error)


@given(st.text(max_size=40) | st.from_regex(r"[0-9]{1,3}([-+][0-9]{0,3}){0,4}[STPWX]{0,3}", fullmatch=True))
def test_any_text_is_read_or_refused_in_a_sentence(text):
    assert refusal_of(text)[-1:] in ("", ".")


@given(st.sampled_from([0, 2, 4]), st.sampled_from([2, 4, 6, 8, 10]), st.sampled_from([0, 2, 4]), st.sampled_from(Tank))
def test_what_is_written_is_read_back(leading, coupled, trailing, tank):
    wheels = Whyte(leading, coupled, trailing, tank)
    assert parse(str(wheels)) == wheels


@pytest.mark.parametrize(
    ("wheels", "names"),
    [
        ("2-2-2", ["driving"]),
        ("0-4-0ST", ["leading", "driving"]),
        ("4-4-0", ["driving", "trailing"]),
        ("0-6-0T", ["leading", "driving", "trailing"]),
        ("0-8-0", ["leading", "intermediate", "driving", "trailing"]),
        ("2-10-0", ["leading", "leading intermediate", "driving", "trailing intermediate", "trailing"]),
    ],
)
def test_british_names_of_coupled_axles(wheels, names):
    wheels = parse(wheels)
    found = coupled_axles(wheels.coupled_axles, usual_driven(wheels), british=True)
    assert [axle.name for axle in found] == names
    assert [axle.name for axle in found if axle.driven] == ["driving"]


def test_american_names_of_coupled_axles():
    assert [axle.name for axle in coupled_axles(3, 2, british=False)] == ["No. 1", "main", "No. 3"]


@pytest.mark.parametrize("count", range(1, 6))
def test_no_two_coupled_axles_share_a_name_whichever_is_driven(count):
    for driven in range(1, count + 1):
        for british in (True, False):
            names = [axle.name for axle in coupled_axles(count, driven, british=british)]
            assert len(set(names)) == count
            assert names[driven - 1] == ("driving" if british else "main")


@pytest.mark.parametrize(
    ("wheels", "names"),
    [
        ("0-6-0T", []),
        ("2-6-2T", ["leading carrying", "trailing carrying"]),
        ("4-4-0", ["bogie leading", "bogie trailing"]),
        ("4-6-2", ["bogie leading", "bogie trailing", "trailing carrying"]),
        ("0-4-4T", ["bogie leading", "bogie trailing"]),
        (
            "4-4-4T",
            ["leading bogie leading", "leading bogie trailing", "trailing bogie leading", "trailing bogie trailing"],
        ),
    ],
)
def test_names_of_carrying_axles(wheels, names):
    assert [axle.name for axle in carrying_axles(parse(wheels), british=True)] == names


def test_names_of_tender_axles():
    assert [axle.name for axle in tender_axles(3, british=True)] == [
        "tender leading",
        "tender middle",
        "tender trailing",
    ]
    assert [axle.name for axle in tender_axles(2, british=False)] == ["tender No. 1", "tender No. 2"]
