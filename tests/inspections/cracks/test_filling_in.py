"""Filling the sheet of a crack check in as in the last one: what was given stays, and the page stays where it was."""

from parts.domain.plain import day
from tests.as_shown import text_of
from tests.factories import days
from tests.inspections.cracks.test_crack_check import MT, at, bench, piece

__all__ = ["bench", "piece"]


def test_a_reason_that_was_given_stays_through_a_step_and_the_day_is_told_as_a_day(bench, piece):
    low = {"light_lux": "400", "reason-light-low": "lamp failed", "reason-surface-missed": "tyre on"}
    for step in ("last", "add"):
        page = bench.post(at(piece), MT | low | {"do": step})
        assert 'value="lamp failed"' in page.content.decode(), step
        assert 'value="tyre on"' in page.content.decode(), step
        assert f'repair: <span class="quiet">{day(days(0))}' in text_of(page), step
        assert not page.context["form"].errors


def test_filling_in_leads_back_to_where_it_was_pressed(bench, piece):
    page = bench.get(at(piece)).content.decode()
    assert 'value="last" formaction="#last"' in page
    assert 'id="last"' in page
