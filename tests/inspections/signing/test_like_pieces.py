"""One examiner's report over like pieces: a line and a verdict for each, signed once."""

import json

import pytest
from django.test import Client
from django.urls import reverse

from core.models import Event, SignedText
from inspections.models import Examination
from inspections.records import digests
from parts.domain.words import State
from parts.photos.writers import add
from tests.factories import fresh
from tests.inspections.cracks.test_crack_check import MT, at, marks, text_of
from tests.inspections.signing.test_sign_record import SAID
from tests.pictures import a_photo
from tests.reads_over import sends


@pytest.fixture
def bench(client, works):
    client.force_login(works.people.examiner)
    return client


@pytest.fixture
def pins(works):
    return [
        works.piece(State.CLEANED, place=works.critical_place(name="brake hanger pin", axle=axle, calls_for=[]))
        for axle in ("leading", "driving", "trailing")
    ]


def verdict(piece, word: str, line: str = "") -> dict[str, str]:
    return {f"like-{piece.pk}": f"{word}.{piece.last_event}", f"like-{piece.pk}-line": line}


def test_like_pieces_are_read_over_and_signed_once_and_each_has_its_record(bench, works, pins):
    first, second, third = pins
    entered = MT | verdict(second, "sound", "light scoring, dressed") | verdict(third, "sound")
    reader = Client()
    reader.force_login(works.people.examiner)
    page = reader.post(at(first), entered | {"seen": first.last_event}, follow=True)
    assert "Sound. light scoring, dressed" in dict(page.context["lines"]).values()
    assert not Examination.objects.exists()
    answer = reader.post(page.request["PATH_INFO"], sends(page))
    report = Event.objects.get(action="sign report")
    assert answer.url == reverse("shared_report", args=[report.pk])
    records = [piece.examinations.get() for piece in pins]
    assert {record.result for record in records} == {"sound"}
    assert records[1].remarks == "light scoring, dressed"
    assert {record.crack_check.procedure for record in records} == {"WP 1"}
    assert {fresh(piece).state for piece in pins} == {State.CRACK_CHECKED}
    assert list(digests.differing(Examination.objects.all())) == []
    signed = json.loads(SignedText.objects.of("examination", [records[2].pk]).get().text)
    for piece in pins:
        code = piece.tags.current_code()
        assert f"{code[:4]} {code[4:]}" in " ".join(signed["record"]["subject"]["covers"]), "each record names each"
        assert f"in report {report.pk}" in text_of(reader.get(reverse("tag", args=[code])))
    listed = text_of(reader.get(answer.url))
    assert "3 like pieces, signed once by" in listed
    assert "light scoring, dressed" in listed


def test_a_piece_in_doubt_drops_out_and_is_named(bench, pins):
    first, second, third = pins
    bench.post(at(first), MT | {"seen": first.last_event} | verdict(second, "doubt") | verdict(third, "sound"))
    assert not second.examinations.exists()
    assert fresh(second).state == State.CLEANED
    told = text_of(bench.get(f"/examinations/{third.examinations.get().pk}/"))
    assert "Left out of it, in doubt" in told
    assert second.place.words.capitalize() in told


def test_no_verdict_is_preset_and_what_has_none_is_not_in_the_report(bench, pins):
    first, second, third = pins
    form = bench.get(at(first)).context["form"]
    assert not any(form[name].value() for name in form.like_names())
    bench.post(at(first), MT | {"seen": first.last_event} | verdict(second, "sound"))
    assert second.examinations.exists()
    assert not third.examinations.exists()


def test_a_piece_that_shows_something_is_signed_by_itself(bench, pins, people):
    first, second, _ = pins
    add([a_photo()], first, people.volunteer)
    shown = marks({"length": "5", "where": "fillet"})
    refused = bench.post(at(first), MT | shown | {"seen": first.last_event} | verdict(second, "sound"))
    assert "Sign this piece separately: it showed something." in text_of(refused)
    assert not Examination.objects.exists()


def test_a_piece_changed_since_is_looked_at_again_and_nothing_is_signed(bench, pins):
    first, second, third = pins
    old = {f"like-{second.pk}": f"sound.{second.last_event - 1}"}
    refused = bench.post(at(first), MT | {"seen": first.last_event} | old | verdict(third, "sound"))
    assert refused.status_code == 422
    assert "Somebody recorded something on this piece since." in text_of(refused)
    assert not Examination.objects.exists()


def test_only_what_is_like_and_owes_the_look_is_offered(bench, works, pins):
    first, second, third = pins
    for other in ({"name": "hanger"}, {"material": "gunmetal"}, {"surfaces": ["head"]}, {"crack_check": "penetrant"}):
        works.piece(State.CLEANED, place=works.critical_place(**{"name": "brake hanger pin", "calls_for": []} | other))
    works.piece(State.STRIPPED, place=works.critical_place(name="brake hanger pin", calls_for=[]))
    assert bench.get(at(first)).context["form"].like == [second, third]


@pytest.mark.engine
def test_a_plain_look_covers_like_pieces_too(bench, works):
    brackets = [
        works.piece(State.CLEANED, place=works.critical_place(name="bracket", crack_check="", surfaces=[], side=side))
        for side in ("LH", "RH")
    ]
    first, second = brackets
    bench.post(f"/t/{first.tags.current_code()}/examine", SAID | {"seen": first.last_event} | verdict(second, "sound"))
    assert second.examinations.get().subject["report"] == Event.objects.get(action="sign report").pk
    assert second.examinations.get().remarks == "by the north window"


def test_the_page_of_a_report_asks_to_sign_in_and_no_other_event_has_one(bench, pins):
    first, second, _ = pins
    bench.post(at(first), MT | {"seen": first.last_event} | verdict(second, "sound"))
    report = reverse("shared_report", args=[Event.objects.get(action="sign report").pk])
    assert bench.post(report).status_code == 405
    assert bench.get(reverse("shared_report", args=[first.last_event])).status_code == 404
    bench.logout()
    assert bench.get(report).status_code == 302
