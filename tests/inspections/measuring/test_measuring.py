"""Signing sizes: judged, kept with the edition they were judged by, and read by the rules."""

from datetime import date

import pytest
from django.db import IntegrityError, transaction

from inspections.concessions.writers import concede
from inspections.instruments.writers import calibrate
from inspections.limits.writers import Typed, set_limits
from inspections.models import Reading
from inspections.records.digests import of_examination
from parts.domain.words import State
from tests.parts.actions.standard import refused, standing


@pytest.fixture
def place(works):
    return works.place(name="piston rod")


@pytest.fixture
def size(works, place):
    return works.dimension(place)


@pytest.fixture
def piece(works, place, size):
    return works.piece(State.CLEANED, place=place)


def test_until_it_is_measured_the_place_waits_for_it(works, piece, place):
    works.look_at(piece)
    assert standing(place) == ("blocked", "measure")


def test_a_size_within_its_limits_is_kept_with_its_readings_and_the_edition(works, piece, size):
    record = works.measure(piece, {size: "124.96"})
    [kept] = record.measurements.all()
    assert (kept.size_class, kept.outside, kept.limits.edition) == ("as new", False, 1)
    assert [(x.typed, x.unit, x.value) for x in kept.readings.all()] == [("124.96", "mm", kept.value)]


def test_a_size_outside_its_shop_limit_is_a_defect_that_somebody_has_to_decide(works, piece, place, size):
    works.look_at(piece)
    record = works.measure(piece, {size: "122.5"})
    assert (record.result, standing(place)) == ("defect", ("blocked", "decide"))
    assert "beyond the shop limit, within the scrapping limit" in record.found


def test_a_concession_lets_it_go_back(works, people, piece, place, size):
    works.look_at(piece)
    record = works.measure(piece, {size: "122.5"})
    concede(record.measurements.get(), people.engineer, reason="runs light trains only", look_again=date(2100, 1, 1))
    assert standing(place) == ("blocked", "sign")


def test_no_concession_beyond_the_scrapping_limit(works, people, piece, size):
    record = works.measure(piece, {size: "119"})
    with refused("scrapping"):
        concede(record.measurements.get(), people.engineer, reason="it will do", look_again=date(2100, 1, 1))


def test_a_later_edition_leaves_the_verdict_as_it_was(works, people, piece, size):
    record = works.measure(piece, {size: "122.5"})
    set_limits(size, people.engineer, Typed(shop="122", source="invented sheet", source_edition="2"))
    assert record.measurements.get().limits.edition == 1


def test_an_instrument_out_of_date_blocks_signing(works, piece, size):
    old = works.instrument(calibrated_until=date(2021, 1, 1))
    with refused("instrument"):
        works.measure(piece, {size: "124.96"}, instrument=old)


def test_an_instrument_found_out_of_true_puts_what_it_measured_in_doubt(works, people, piece, place, size):
    works.look_at(piece)
    instrument = works.instrument()
    works.measure(piece, {size: "124.96"}, instrument=instrument)
    works.accept(piece)
    assert standing(place) == ("ready", "")
    calibrate(instrument, people.examiner, on=date(2026, 1, 1), certificate="C 2", found_out=True)
    assert standing(place) == ("blocked", "recheck")


def test_what_cannot_be_read_is_refused_by_name_and_nothing_is_written(works, piece, size):
    instrument = works.instrument()
    with refused("size") as caught:
        works.measure(piece, {size: "124,96 or so"}, instrument=instrument)
    assert "journal diameter" in caught.value.refusals[0].sentence


def test_the_digest_is_over_everything_that_the_record_says(works, piece, size):
    record = works.measure(piece, {size: "124.96"})
    record.refresh_from_db()
    assert record.digest == of_examination(record)


def test_the_database_refuses_a_reading_without_a_unit(works, piece, size):
    record = works.measure(piece, {size: "124.96"})
    with pytest.raises(IntegrityError), transaction.atomic():
        Reading.objects.create(measurement=record.measurements.get(), typed="1", unit="", value=1, station="x")
