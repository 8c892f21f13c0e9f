"""A survey of a plate on screen: begun, read on the grid or from the gauge's file, and told as its map."""

import re
import time
from fractions import Fraction

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from inspections.boiler_records import writers
from inspections.models import BoilerRecord
from parts.models import Photo
from tests.factories import days, fresh
from tests.inspections.boiler_records.conftest import surveyed

HEAD = {
    "unit": "mm", "down": "2", "across": "3", "zones": "", "block": "10", "opening": "10", "tolerance": "0.1",
    "velocity": "5890", "couplant": "gel", "reader": "A", "writer": "B",
}  # fmt: skip


def test_a_volunteer_begins_one_and_types_forty_readings(client, people, plate, gauge):
    client.force_login(people.volunteer)
    entered = HEAD | {"down": "5", "across": "8", "on": days(0).isoformat(), "instrument": gauge.pk}
    answer = client.post(reverse("begin_survey", args=[plate.pk]), entered)
    record = BoilerRecord.objects.get()
    assert answer.url == reverse("survey_readings", args=[record.pk])
    readings = {f"p{row}.{column}": "12.3" for row in range(1, 6) for column in range(1, 9)}
    assert client.post(answer.url, readings | {"closing": "10.0"}).status_code == 302
    assert len(fresh(record).entered["readings"]) == 40
    client.post(answer.url, {"p1.1": "12.2"})  # from a phone on which nothing else was changed
    assert (fresh(record).entered["readings"]["1.1"], fresh(record).entered["closing"]) == ("12.2", "10.0")
    text = client.get(record.get_absolute_url()).content.decode()
    assert "Say what was found of pits, by depth gauge" in text
    assert "Make the closing check" not in text


def test_a_missing_field_is_told_beside_it(client, people, plate):
    client.force_login(people.volunteer)
    answer = client.post(reverse("begin_survey", args=[plate.pk]), HEAD)
    assert (answer.status_code, "without one no reading counts" in answer.content.decode()) == (422, True)
    assert not BoilerRecord.objects.exists()


def test_copper_at_the_velocity_of_steel_is_questioned(client, people, survey, plate):
    plate.metal = "copper"
    plate.save()
    record = survey()
    client.force_login(people.examiner)
    text = client.get(record.get_absolute_url()).content.decode()
    assert "the gauge would show 26 per cent too thick" in text
    assert client.post(reverse("sign_boiler_record", args=[record.pk])).status_code == 422
    writers.save(record, people.volunteer, {"velocity_reason": "Measured on a piece of it"})
    assert client.post(reverse("sign_boiler_record", args=[record.pk])).status_code == 302


def test_a_survey_with_points_that_have_nothing_is_not_offered_for_signing(client, people, survey):
    record = survey(readings={"1.1": "12.4"})
    client.force_login(people.examiner)
    for answer in (client.get(record.get_absolute_url()), client.post(reverse("sign_boiler_record", args=[record.pk]))):
        text = answer.content.decode()
        assert "5 of 6: row 1, column 2; row 1, column 3; row 2, column 1; 2 more." in text
    assert (answer.status_code, fresh(record).signed_at) == (422, None)
    assert "Sign record" not in client.get(record.get_absolute_url()).content.decode()
    writers.save(record, people.volunteer, {"readings": dict.fromkeys(("1.2", "1.3", "2.1", "2.2", "2.3"), "n")})
    assert "Sign record" in client.get(record.get_absolute_url()).content.decode()
    assert client.post(reverse("sign_boiler_record", args=[record.pk])).status_code == 302


def test_two_phones_do_not_undo_each_others_points(people, survey):
    record = survey(readings={})
    writers.save(record, people.volunteer, {"readings": {"1.1": "12"}})
    writers.save(record, people.fitter, {"readings": {"2.1": "11"}})
    assert fresh(record).entered["readings"] == {"1.1": "12", "2.1": "11"}


def test_what_was_looked_at_stays_when_another_phone_saves_its_readings(client, people, survey):
    record = survey(missed={})
    address = reverse("survey_readings", args=[record.pk])
    client.force_login(people.volunteer)

    def missed_after(**sent):
        client.post(address, sent)
        return fresh(record).entered["missed"]

    flanges = "flanges and knuckles"
    assert missed_after(**{"nothing-stay holes": "yes", f"missed-{flanges}": "grooved 2 mm"})[flanges] == "grooved 2 mm"
    assert set(missed_after(**{"p1.1": "12"})) == {"stay holes", flanges}  # a phone on which no tick was touched
    assert missed_after(**{f"nothing-{flanges}": "yes"})[flanges] == "grooved 2 mm"  # words stand before a tick
    assert set(missed_after(**{"nothing-stay holes": ""})) == {flanges}  # a tick taken away
    assert missed_after(**{f"missed-{flanges}": ""}) == {}


def test_a_tick_leaves_what_another_phone_writes_at_the_same_moment(client, people, survey, monkeypatch):
    record, change = survey(missed={}), writers.change

    def after_the_other(*args):
        writers.save(record, people.fitter, {"missed": {"stay holes": "one is oval"}})
        change(*args)

    monkeypatch.setattr(writers, "change", after_the_other)
    client.force_login(people.volunteer)
    client.post(reverse("survey_readings", args=[record.pk]), {"nothing-stay holes": "yes"})
    assert fresh(record).entered["missed"] == {"stay holes": "one is oval"}


def test_the_gauges_file_is_put_on_the_grid(client, people, survey):
    record = survey(readings={})
    client.force_login(people.volunteer)
    address = reverse("survey_csv", args=[record.pk])
    good = SimpleUploadedFile("a.csv", b"Row,Column,Thickness,Time\n1,1,12.3,9:00\n2,3,x,9:01\n")
    assert client.post(address, {"file": good}).status_code == 302
    assert fresh(record).entered["readings"] == {"1.1": "12.3", "2.3": "x"}
    off = SimpleUploadedFile("a.csv", b"row,column,thickness\n9,9,12.3\n")
    answer = client.post(address, {"file": off})
    assert (answer.status_code, "is not on this grid" in answer.content.decode()) == (422, True)
    assert client.get(address).status_code == 405


def test_a_plate_below_the_thickness_needed_stands_against_its_boiler(client, people, survey, plate):
    """By hand: 10.0 mm read, less the gauge's uncertainty, is below the 10 mm needed; needed 9 mm, it is not."""
    writers.sign(survey("10.0"), people.examiner)
    client.force_login(people.engineer)
    for needed, told in (("10", True), ("9", False)):
        type(plate).objects.filter(pk=plate.pk).update(needed=Fraction(needed))
        text = client.get(plate.boiler.get_absolute_url()).content.decode()
        assert ("Wrapper, LH, foot: a pressure rests on" in text) == told
    assert "Least 10 mm" in text


def test_the_grid_is_laid_on_a_photo_by_four_taps(client, works, people, plate, survey):
    plate.position = works.place(name="wrapper")
    plate.save()
    record = survey()
    address = reverse("survey_photo", args=[record.pk])
    client.force_login(people.volunteer)
    assert client.post(address, {"tap.x": "1", "tap.y": "1"}).status_code == 404  # on no photo yet
    photo = Photo.objects.create(name="a" * 32, position=plate.position, width=1000, height=500, by=people.volunteer)
    assert client.post(address, {"choose": "b" * 32}).status_code == 404
    assert client.post(address, {"choose": photo.name}).status_code == 302
    assert "Tap the top left corner" in client.get(address).content.decode()
    for x, y in ((34, 17), (306, 17), (306, 153)):
        assert client.post(address, {"tap.x": x, "tap.y": y}).url == address
    assert client.post(address, {"tap.x": "34", "tap.y": "153"}).url == record.get_absolute_url()
    assert fresh(record).entered["photo"]["corners"] == [[100, 100], [900, 100], [900, 900], [100, 900]]
    assert reverse("photo", args=[photo.name, "large"]) in client.get(record.get_absolute_url()).content.decode()
    client.post(address, {"again": "yes"})
    assert fresh(record).entered["photo"]["corners"] == []
    client.force_login(people.trustee)
    assert client.get(address).status_code == 403


def test_a_plate_without_a_place_leads_whoever_may_to_choose_it(client, people, plate, survey):
    address = reverse("survey_photo", args=[survey().pk])
    for person, led in ((people.engineer, True), (people.volunteer, False)):
        client.force_login(person)
        text = client.get(address).content.decode()
        assert (
            reverse("edit_boiler_part", args=[plate.boiler_id, plate.pk]) in text,
            "The office chooses" in text,
        ) == (led, not led)


def test_loss_is_told_as_arithmetic_against_the_survey_before(client, people, survey):
    """By hand: (12.4 - 12.0) / 4 years = 0.1 a year; (12.0 - 10) / 0.1 = 20 years (API 510, 7.1)."""
    first = survey("12.4", on=days(0).replace(year=days(0).year - 4, day=1))
    writers.sign(first, people.examiner)
    second = survey("12.0", on=days(0).replace(day=1))
    client.force_login(people.trustee)
    text = client.get(second.get_absolute_url()).content.decode()
    assert "Long term: (12.4 - 12) / 4.000 years = 0.1 mm a year." in text
    assert "(12 - 10) / 0.1 = 20 years" in text
    assert "Nothing here makes it later" in text


def test_a_large_survey_stays_small_and_quick(client, people, survey):
    readings = {f"{row}.{column}": "12.4" for row in range(1, 21) for column in range(1, 21)}
    record = survey(down=20, across=20, readings=readings)
    client.force_login(people.examiner)
    for address in (record.get_absolute_url(), reverse("survey_readings", args=[record.pk])):
        client.get(address)
        began = time.process_time()  # other programs may be at work
        answer = client.get(address)
        assert time.process_time() - began < 0.3
        assert len(answer.content) < 150_000


@pytest.mark.parametrize(("down", "across"), [(2, 3), (20, 20)])
def test_the_page_asks_the_database_as_often_however_large(client, people, survey, down, across):
    record = survey(down=down, across=across, readings={"1.1": "12"})
    client.force_login(people.examiner)
    client.get(record.get_absolute_url())
    with CaptureQueriesContext(
        connection,
    ) as asked:
        client.get(record.get_absolute_url())
    assert len(asked) <= 12


def test_who_may_and_what_is_not_there(client, people, plate, survey):
    record = survey()
    for name, thing in (("begin_survey", plate), ("survey_readings", record)):
        address = reverse(name, args=[thing.pk])
        assert re.search("/sign-in/", client.get(address).url)
        client.force_login(people.trustee)
        assert client.get(address).status_code == 403
        client.force_login(people.volunteer)
        assert client.put(address).status_code == 405
        assert client.get(reverse(name, args=[99999])).status_code == 404
        client.logout()


def test_a_signed_survey_takes_no_further_reading(client, people, survey):
    record = writers.sign(survey(), people.examiner)
    client.force_login(people.volunteer)
    assert client.post(reverse("survey_readings", args=[record.pk]), {"p1.1": "99"}).status_code == 404
    assert fresh(record).entered["readings"] == surveyed()["readings"]
