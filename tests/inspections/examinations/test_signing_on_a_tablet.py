"""On a shared tablet whatever is signed asks for the PIN: an examination, a decision, an acceptance, a release."""

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from core.accounts import credentials, devices
from core.models import Tablet
from inspections.models import Draft, FindingDecision
from parts.domain.words import State
from parts.models import HoldPoint
from tests.factories import days, fresh
from tests.inspections.cracks.test_crack_check import MT, PT, at, marks, text_of
from tests.inspections.domain.test_piece_tests import PLATE
from tests.parts.holds import test_holds
from tests.parts.pieces import test_act

PIN = "83920"


@pytest.fixture
def bench(client, people):
    """The tablet on the bench, with the examiner signed in on it."""
    token = "of the bench"
    tablet = Tablet.objects.create(token_hash=devices.hashed(token), name="Bench tablet", marked_by=people.manager)
    client.cookies[settings.TABLET_COOKIE_NAME] = token
    people.examiner.set_password("long enough 9")
    people.examiner.save()
    credentials.set_pin(people.examiner, PIN)
    at_the_tablet(client, people.examiner, tablet)
    return client


def at_the_tablet(client, person, tablet):
    client.force_login(person)
    session = client.session
    session["tablet"] = tablet.pk
    session.save()


@pytest.fixture
def piece(works):
    return works.piece(State.CLEANED, place=works.critical_place(calls_for=[]))


def test_a_crack_check_is_signed_with_the_pin(bench, piece):
    assert "signature" not in bench.get(at(piece)).context["form"].fields, "it is asked where it is signed"
    nothing = bench.post(at(piece), MT)
    assert nothing.status_code == 422
    assert "Nothing was entered. Your PIN is your signature here." in text_of(nothing)
    assert bench.post(at(piece), MT | {"signature": "11111"}).status_code == 422
    assert not piece.examinations.exists()
    assert bench.post(at(piece), MT | {"signature": PIN}).status_code == 302


@pytest.mark.parametrize("step", ["add", "last", "out:1"])
def test_on_the_way_no_pin_is_asked_and_none_is_sent_back(bench, piece, step):
    page = bench.post(at(piece), MT | marks({"length": "5", "where": "web"}) | {"do": step, "signature": PIN})
    assert page.status_code == 200
    assert "signature" not in page.context["form"].fields
    assert PIN not in text_of(page)
    assert not piece.examinations.exists()


def test_what_is_wrong_is_said_without_asking_for_the_pin_when_it_is_only_looked_over(bench, piece):
    page = bench.post(at(piece), PT | {"method": "magnetic particle"})
    assert page.status_code == 422
    assert "signature" not in page.context["form"].errors


def test_a_hydraulic_test_is_signed_with_the_pin(bench, piece):
    address = reverse("hydraulic_test", args=[piece.tags.current_code()])
    entered = PLATE | {"result": "sound", "on": days(0)}
    assert bench.post(address, entered).status_code == 422
    assert bench.post(address, entered | {"signature": PIN}).status_code == 302
    assert not Draft.objects.exists()


def test_a_decision_is_signed_with_the_pin(bench, client, people, piece):
    bench.post(at(piece), MT | marks({"length": "5", "where": "web"}) | {"signature": PIN})
    record = piece.examinations.get()
    people.engineer.set_password("long enough 9")
    people.engineer.save()
    credentials.set_pin(people.engineer, "60417")
    at_the_tablet(client, people.engineer, Tablet.objects.get())
    entered = {"decision-1": "repair", "reason": "weld it"}
    assert client.post(reverse("decide", args=[record.pk]), entered).status_code == 422
    assert not FindingDecision.objects.exists()
    assert client.post(reverse("decide", args=[record.pk]), entered | {"signature": "60417"}).status_code == 302


def test_what_becomes_of_a_piece_is_decided_with_the_pin(bench, people, piece):
    credentials.set_pin(people.engineer, PIN)
    at_the_tablet(bench, people.engineer, Tablet.objects.get())
    address = reverse("decide_on_piece", args=[piece.tags.current_code()])
    entered = {"outcome": "repair", "reason": "worn", "method": "weld", "what": "build up", "seen": piece.last_event}
    assert "signature" in bench.get(address).context["form"].fields
    assert bench.post(address, entered).status_code == 422
    assert bench.post(address, entered | {"signature": "11111"}).status_code == 422
    assert not piece.decisions.exists()
    assert bench.post(address, entered | {"signature": PIN}).status_code == 302
    assert piece.decisions.exists()


def test_a_piece_is_accepted_with_the_pin(bench, works, people):
    credentials.set_pin(people.engineer, PIN)
    at_the_tablet(bench, people.engineer, Tablet.objects.get())
    piece = works.examined(works.place(calls_for=[]))
    address = test_act.do(piece, "accept")
    entered = {"protection": "oiled", "look_again": test_act.days(30), "seen": piece.last_event}
    assert "signature" in bench.get(address).context["form"].fields
    for wrong in ({}, {"signature": "11111"}):
        assert bench.post(address, entered | wrong).status_code == 422
        assert fresh(piece).state == State.CLEANED
    assert bench.post(address, entered | {"signature": PIN}).status_code == 302
    assert fresh(piece).state == State.ACCEPTED


def test_a_hold_point_is_released_with_the_pin(bench, works, people):
    credentials.set_pin(people.engineer, PIN)
    test_holds.set_hold(Client(), works)
    at_the_tablet(bench, people.engineer, Tablet.objects.get())
    hold = HoldPoint.objects.get()
    address = reverse("release_hold", args=[hold.pk])
    paper = {"reference": "Letter 26/7", "filed": "boiler file"}
    for wrong in ({}, {"signature": "11111"}):
        assert bench.post(address, paper | wrong).status_code == 422
        assert not HoldPoint.objects.get().released_on
    assert bench.post(address, paper | {"signature": PIN}).status_code == 302
    assert HoldPoint.objects.get().released_by == people.engineer
