"""Counting a place: what is missed, what is found, what should not be there; and nothing before it is confirmed."""

import pytest

from core.domain.refusals import Refused
from parts.domain.stocktaking import Outcome, mark_of
from parts.models import Component, StockTake
from parts.stock_take import writers as stocktaking
from parts.stores import writers as moving
from tests.factories import events_of, fresh
from tests.parts.jobs import stands
from tests.remembered import numbers


def counted(works, *seen, place=None, **entered) -> StockTake:
    stocktake = stocktaking.begin(place or works.crate, works.people.storekeeper, **entered)
    for piece in seen:
        stocktaking.see(stocktake, piece, works.people.volunteer)
    return stocktake


def mark(stocktake) -> str:
    return mark_of((line.piece.pk, line.outcome) for line in stocktaking.lines_of(stocktake))


def outcomes(stocktake) -> dict:
    return {line.piece.pk: line.outcome for line in stocktaking.lines_of(stocktake)}


def confirm(works, stocktake, **entered):
    return stocktaking.confirm(stocktake, works.people.storekeeper, mark=mark(stocktake), **entered)


def refused(do, *args, **entered) -> list[str]:
    with pytest.raises(Refused) as caught:
        do(*args, **entered)
    return [refusal.code for refusal in caught.value.refusals]


def a_shelf(works):
    return moving.add_location(works.people.storekeeper, f"Shelf {next(numbers)}", "shelf")


def piece_in(works, location) -> Component:
    piece = works.piece("cleaned", place=works.plain_place())
    moving.move(piece, location, works.people.storekeeper)
    return fresh(piece)


def test_one_seen_one_missing_one_that_should_be_elsewhere(works):
    there, gone, stray = piece_in(works, works.crate), piece_in(works, works.crate), piece_in(works, a_shelf(works))
    stocktake = counted(works, there, stray)
    assert outcomes(stocktake) == {there.pk: Outcome.SEEN, gone.pk: Outcome.MISSING, stray.pk: Outcome.STRAY}
    assert (fresh(gone).missed_on, fresh(stray).location) == (None, stray.location)

    assert confirm(works, stocktake) == []
    assert stands(gone.place) == ("blocked", "find")
    assert fresh(stray).location == works.crate
    assert [line.outcome for line in stocktake.lines.order_by("component")] == ["seen", "missing", "should not be here"]
    assert stocktake.lines.get(component=stray).moved
    assert events_of(works.crate).filter(action="stock-take").exists()
    assert StockTake.objects.last_of(works.crate).missing == 1


def test_what_was_missed_is_found_at_the_next_count_or_by_putting_it_somewhere(works):
    first, second = piece_in(works, works.crate), piece_in(works, works.crate)
    confirm(works, counted(works))
    assert fresh(first).missed_on
    confirm(works, counted(works, first))
    assert (fresh(first).missed_on, fresh(second).missed_on is None) == (None, False)
    moving.move(fresh(second), works.crate, works.people.volunteer)
    assert fresh(second).missed_on is None
    assert events_of(second).filter(action="found again").exists()
    assert stands(second.place) != ("blocked", "find")


def test_a_piece_whose_place_nobody_knew_lies_there_now(works):
    lost = works.piece("cleaned", place=works.plain_place(), location=None)
    Component.objects.filter(pk=lost.pk).update(location=None)
    stocktake = counted(works, lost)
    assert outcomes(stocktake)[lost.pk] is Outcome.FOUND
    confirm(works, stocktake)
    assert fresh(lost).location == works.crate


def test_a_stray_may_be_left_where_the_register_has_it(works):
    stray = piece_in(works, a_shelf(works))
    stocktake = counted(works, stray)
    confirm(works, stocktake, leave={stray.pk})
    assert fresh(stray).location != works.crate
    assert not stocktake.lines.get().moved


def test_what_somebody_moves_meanwhile_is_neither_missing_nor_stray(works):
    away, came = piece_in(works, works.crate), piece_in(works, a_shelf(works))
    stocktake = counted(works, away)
    moving.move(fresh(away), a_shelf(works), works.people.volunteer)
    moving.move(fresh(came), works.crate, works.people.volunteer)
    assert set(outcomes(stocktake).values()) == {Outcome.MEANWHILE}
    confirm(works, stocktake)
    assert fresh(came).missed_on is None
    assert fresh(away).location != works.crate


def test_one_taken_away_unseen_is_on_the_record_all_the_same(works):
    away = piece_in(works, works.crate)
    stocktake = counted(works)
    moving.move(away, a_shelf(works), works.people.volunteer)
    assert outcomes(stocktake) == {away.pk: Outcome.MEANWHILE}


def test_what_is_seen_after_somebody_moved_it_away_lies_here_after_all(works):
    away = piece_in(works, works.crate)
    stocktake = counted(works)
    moving.move(away, a_shelf(works), works.people.volunteer)
    stocktaking.see(stocktake, away, works.people.volunteer)
    assert outcomes(stocktake) == {away.pk: Outcome.STRAY}
    confirm(works, stocktake)
    assert fresh(away).location == works.crate


def test_a_crate_put_onto_the_rack_or_taken_off_it_meanwhile_has_nothing_missing(works):
    rack, keeper = a_shelf(works), works.people.storekeeper
    came, went = (moving.add_location(keeper, f"Crate {next(numbers)}", "crate") for _ in range(2))
    moving.move_location(went, rack, keeper)
    pieces = piece_in(works, came), piece_in(works, went)
    stocktake = counted(works, place=rack)
    moving.move_location(came, fresh(rack), keeper)
    moving.move_location(fresh(went), None, keeper)
    assert outcomes(stocktake) == {piece.pk: Outcome.MEANWHILE for piece in pieces}


def test_a_withdrawn_piece_seen_where_it_is_kept_is_no_stray(works):
    kept = piece_in(works, works.crate)
    works.withdraw(kept, reason="worn", destination="set aside for display")
    stocktake = counted(works, kept)
    assert outcomes(stocktake) == {kept.pk: Outcome.SEEN}
    assert outcomes(counted(works, place=a_shelf(works))) == {}


def test_a_fitted_piece_seen_loose_is_told_and_not_moved(works):
    fitted = works.piece("refitted")
    stocktake = counted(works, fitted)
    (line,) = [line for line in stocktaking.lines_of(stocktake) if line.piece == fitted]
    assert (line.outcome, line.may_lie_here) == (Outcome.STRAY, False)
    assert confirm(works, stocktake) == []
    assert fresh(fitted).fitted_id


def test_a_late_page_confirms_nothing(works):
    piece = piece_in(works, works.crate)
    stocktake = counted(works)
    old = mark(stocktake)
    stocktaking.see(stocktake, piece, works.people.volunteer)
    assert refused(stocktaking.confirm, stocktake, works.people.storekeeper, mark=old) == ["stale"]
    assert not stocktake.lines.exists()


def test_two_people_count_one_place_together_and_see_each_piece_once(works):
    piece = piece_in(works, works.crate)
    first = counted(works)
    assert stocktaking.begin(works.crate, works.people.storekeeper) == first
    assert stocktaking.see(first, piece, works.people.volunteer)
    assert not stocktaking.see(first, piece, works.people.fitter)
    stocktaking.see_not(first, piece, works.people.fitter)
    assert outcomes(first)[piece.pk] is Outcome.MISSING


@pytest.mark.engine
def test_who_may_and_what_is_closed(works):
    stocktake = counted(works)
    assert refused(stocktaking.begin, works.crate, works.people.volunteer) == ["role"]
    assert refused(confirm_by, works, stocktake, works.people.volunteer) == ["role"]
    assert refused(stocktaking.give_up, stocktake, works.people.storekeeper, reason=" ") == ["reason"]
    stocktaking.give_up(stocktake, works.people.storekeeper, reason="the lamp went out")
    assert refused(stocktaking.see, stocktake, works.piece(), works.people.volunteer) == ["closed"]
    assert StockTake.objects.last_of(works.crate) is None


def confirm_by(works, stocktake, actor):
    return stocktaking.confirm(stocktake, actor, mark=mark(stocktake))
