"""Two people at what was settled for one open record of a boiler: the second is told, and sees both values."""

import pytest
from django.urls import reverse

from core.models import Event
from core.web.two_at_once import was
from inspections.boiler_records import writers
from tests.factories import days, fresh
from tests.inspections.boiler_records.test_stay_maps import HEAD as GRID
from tests.inspections.boiler_records.test_surveys import HEAD
from tests.inspections.domain.test_boiler_test_paper import HYDRAULIC


@pytest.fixture
def open_record(boiler, plate, stays, gauge, people):
    """Makes one of a kind: it, what its form sends, and a line of that which two people know differently."""

    def make(kind: str):
        name, part, entered, more, line = {
            "thickness survey": ("survey_head", plate, HEAD, {"instrument": gauge}, "couplant"),
            "stay map": ("stay_map_head", stays, GRID, {}, "allowed_from"),
            "test": ("boiler_test", None, HYDRAULIC | {"sort": "hydraulic test"}, {}, "reached"),
        }[kind]
        made = writers.begin(
            boiler, people.fitter, kind=kind, title="odd one", on=days(0), entered=dict(entered), part=part, **more
        )
        sent = entered | {"on": days(0).isoformat()} | {name: thing.pk for name, thing in more.items()}
        return made, reverse(name, args=[made.pk]), sent, line

    return make


@pytest.mark.parametrize("kind", ["thickness survey", "stay map", "test"])
def test_whoever_saves_second_is_told_and_nothing_is_overwritten(client, people, open_record, kind):
    record, address, entered, line = open_record(kind)
    client.force_login(people.examiner)
    showed = client.get(address).context["form"]
    opened = {"seen": showed["seen"].value(), "was": was(showed)}
    client.force_login(people.fitter)
    first = client.post(address, entered | opened | {line: "as the fitter has it"})
    assert (first.status_code, fresh(record).entered[line]) == (302, "as the fitter has it")

    client.force_login(people.examiner)
    second = client.post(address, entered | opened | {line: "as the examiner has it"})
    text = second.content.decode()
    assert (second.status_code, fresh(record).entered[line]) == (409, "as the fitter has it")
    assert "as the fitter has it" in text
    assert "as the examiner has it" in text
    again = {"seen": second.context["form"]["seen"].value()}
    assert client.post(address, entered | again | {line: "as the examiner has it"}).status_code == 302
    assert fresh(record).entered[line] == "as the examiner has it"


@pytest.mark.engine
def test_what_changed_stands_in_the_log_and_saving_the_same_leaves_no_line(client, people, open_record):
    record, address, entered, line = open_record("thickness survey")
    client.force_login(people.fitter)
    for words in ("oil", "oil"):
        assert client.post(address, entered | {line: words}).status_code == 302
    (event,) = Event.objects.filter(action="describe boiler record")
    assert event.data["changed"][line] == ["gel", "oil"]


def test_readings_make_no_head_stale(client, people, open_record):
    """Several phones type into one survey: only what was settled for it belongs to one person at a time."""
    record, address, entered, line = open_record("thickness survey")
    client.force_login(people.fitter)
    seen = client.get(address).context["form"]["seen"].value()
    client.post(reverse("survey_readings", args=[record.pk]), {"p1.1": "12.2"})
    assert client.post(address, entered | {"seen": seen, line: "oil"}).status_code == 302
    assert fresh(record).entered["readings"] == {"1.1": "12.2"}
