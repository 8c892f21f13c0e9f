"""How far it has come and what was spent: the log added up, drawn, and told in a table."""

import re
from datetime import date, timedelta
from decimal import Decimal

import pytest

from parts.actions import writing
from parts.domain.curves import FOOT, TOP, Stood, columns, curves
from parts.domain.words import State
from parts.models import Component
from parts.morning.over_time import OverTime, last_months
from tests.factories import days
from tests.parts.jobs import a_repair
from tests.tables import for_each

pytestmark = pytest.mark.django_db


def address(works, query: str = "") -> str:
    return f"{works.locomotive.get_absolute_url()}over-time/{query}"


def shown(client, works, person="manager", query="") -> str:
    client.force_login(getattr(works.people, person))
    return client.get(address(works, query)).content.decode()


@pytest.mark.engine
def test_today_counts_what_the_register_holds(works):
    """The log added up against the states that the pieces have."""
    for state in (State.REFITTED, State.REFITTED, State.ACCEPTED, State.CLEANED):
        works.piece(state)
    mistaken = works.piece(State.REFITTED)  # as an import that was undone leaves it
    Component.objects.filter(pk=mistaken.pk).update(struck=True)
    log = OverTime(works.locomotive, writing.today())
    live = Component.objects.filter(locomotive=works.locomotive)
    expected = Stood(
        day=writing.today(),
        refitted=live.filter(state=State.REFITTED).count(),
        accepted=live.filter(state__in=(State.ACCEPTED, State.RENEWED)).count(),
    )
    assert (expected.refitted, expected.accepted) == (2, 1)
    assert log.weeks()[-1] == log.months([])[-1].stood == expected
    assert log.stood([days(-1)])[0].refitted == 0


@for_each("until", ["0001-01-01", "9999-12-31", "soon"])
def test_a_week_that_nobody_can_mean_is_no_trouble(client, works, until):
    client.force_login(works.people.manager)
    assert client.get(address(works, f"?until={until}")).status_code == 200


def test_months_go_back_over_the_turn_of_a_year():
    assert last_months(date(2026, 2, 28), 3) == [date(2025, 12, 1), date(2026, 1, 1), date(2026, 2, 1)]


def test_the_curves_fill_from_the_foot_as_far_as_it_has_come():
    begin = date(2026, 1, 5)
    stood = [Stood(day=begin + timedelta(days=7 * n), refitted=n, accepted=10 - n) for n in range(6)]
    drawn = curves(stood, 20)
    heights = [int(y) for y in re.findall(r" (\d+)", drawn.solid)][: len(stood)]
    assert heights == sorted(heights, reverse=True)
    assert (heights[0], heights[-1]) == (FOOT, FOOT - (FOOT - TOP) * 5 // 20)
    assert {int(y) for y in re.findall(r" (\d+)", drawn.hatched)[: len(stood)]} == {FOOT - (FOOT - TOP) // 2}
    assert [mark.words for mark in drawn.ends] == ["5 refitted", "5 accepted", "20 in all"]
    assert [mark.words for mark in drawn.months] == ["Feb"]


def test_words_beside_the_curves_never_lie_on_each_other():
    drawn = curves([Stood(day=days(-7), refitted=0, accepted=0), Stood(day=days(0), refitted=0, accepted=0)], 0)
    heights = [mark.at for mark in drawn.ends]
    assert all(below - above >= 16 for below, above in zip(heights, heights[1:], strict=False))


def test_columns_stand_as_high_as_the_sums():
    drawn, scale = columns(
        [(date(2026, 1, 1), Decimal(400), Decimal(100)), (date(2026, 2, 1), Decimal(-50), Decimal(0))]
    )
    assert [one.ordered for one in drawn] == [(TOP, FOOT - TOP), (FOOT, 0)]
    assert drawn[0].paid[1] * 4 == FOOT - TOP
    assert [mark.words for mark in scale] == ["0", "100", "200", "300", "400"]


def test_one_sees_who_did_what_in_any_week(client, works):
    works.clean(works.piece(), works.people.second_fitter)
    name = f"<b>{works.people.second_fitter}</b>: "
    assert name in shown(client, works)
    assert name not in shown(client, works, query=f"?until={days(-7)}")
    assert name in shown(client, works, query="?until=nonsense")


def test_only_who_may_read_money_reads_sums(client, works):
    a_repair(works, committed=Decimal("815.00"))
    assert "GBP 815.00" in shown(client, works)
    assert "815.00" not in shown(client, works, "volunteer")


def test_strangers_sign_in_first_and_nothing_is_posted(client, works):
    assert client.get(address(works)).status_code == 302
    client.force_login(works.people.manager)
    assert client.post(address(works)).status_code == 405
    assert client.get("/l/nonsense/over-time/").status_code == 404
