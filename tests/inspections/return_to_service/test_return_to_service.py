"""The list for the return to service: asked for, ticked, taken back, signed, printed. Invented works and people."""

import pytest
from django.db import DatabaseError, connection, transaction
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from core.log.chain import sealed
from inspections.concessions.writers import concede
from inspections.models import AskedItem, ReturnToService, Tick
from inspections.return_to_service import writers
from inspections.return_to_service.signed import RETURN_LIST
from parts.domain.words import State
from tests.factories import days
from tests.parts.actions.standard import refused
from tests.printed import text_of

INSPECTOR = "M. Vane, inspecting body (invented)"


@pytest.fixture
def item(works) -> AskedItem:
    return asked(works, "Brake test under steam")


def asked(works, words) -> AskedItem:
    overhaul = works.locomotive.open_overhaul()
    return writers.ask_for(overhaul, works.people.manager, words=words, asked_by=INSPECTOR)


def ticked(works, item):
    return writers.tick(item, works.people.examiner, by_what="test sheet 14")


def signed(works, actor=None, **more) -> ReturnToService:
    return writers.sign(works.locomotive.open_overhaul(), actor or works.people.engineer, **more)


def at(works, name="return_to_service") -> str:
    return reverse(name, args=[works.locomotive.slug])


def page_of(client, works, address=None, who="trustee") -> str:
    client.force_login(getattr(works.people, who))
    return client.get(address or at(works)).content.decode()


def test_an_item_is_asked_for_and_ticked_from_the_page(client, works):
    client.force_login(works.people.engineer)
    assert client.post(at(works), {"words": "Brake test", "asked_by": INSPECTOR}).status_code == 302
    item = AskedItem.objects.get()
    address = reverse("tick_item", args=[item.pk])
    assert address in client.get(at(works)).content.decode()
    assert client.post(address, {"by_what": "test sheet 14"}).headers["Location"] == at(works)
    page = page_of(client, works)
    assert "1 of 1 ticked" in page
    assert "Shown by test sheet 14. Engineer" in page
    assert "grants nothing" in page
    assert address not in page


def test_what_and_who_are_written_and_nothing_twice(client, works, item):
    client.force_login(works.people.manager)
    assert client.post(at(works), {"words": "", "asked_by": ""}).status_code == 422
    with refused("words"):
        asked(works, "brake test  under steam")


def test_a_tick_names_its_paper_and_stands_once(works, item):
    with refused("by_what"):
        writers.tick(item, works.people.examiner, by_what=" ")
    ticked(works, item)
    with refused("twice"):
        ticked(works, item)


@pytest.mark.engine
def test_a_tick_is_taken_back_with_a_reason_and_stays_on_record(client, works, item):
    with refused("not-ticked"):
        writers.take_back(item, works.people.examiner, reason="wrong sheet")
    ticked(works, item)
    with refused("reason"):
        writers.take_back(item, works.people.examiner, reason="")
    client.force_login(works.people.examiner)
    answer = client.post(reverse("take_back_tick", args=[item.pk]), {"reason": "wrong sheet"})
    assert answer.status_code == 302
    assert "Not ticked yet" in page_of(client, works)
    assert Tick.objects.count() == 2


@pytest.mark.engine
def test_a_dropped_item_is_no_longer_on_the_list(client, works, item):
    client.force_login(works.people.manager)
    address = reverse("drop_item", args=[item.pk])
    assert client.post(address, {"reason": ""}).status_code == 422
    assert client.post(address, {"reason": "asked for by mistake"}).status_code == 302
    assert "Nothing is on the list yet." in page_of(client, works, who="manager")
    assert client.get(address).status_code == 404
    with refused("dropped"):
        ticked(works, item)


def test_the_list_is_signed_once_everything_is_ticked(client, works, item):
    with refused("open"):
        signed(works)
    ticked(works, item)
    client.force_login(works.people.engineer)
    answer = client.post(at(works, "sign_return"))
    record = ReturnToService.objects.get()
    assert answer.headers["Location"] == record.get_absolute_url()
    page = page_of(client, works, record.get_absolute_url())
    for words in ("Brake test under steam", INSPECTOR, "test sheet 14", sealed(RETURN_LIST, record).digest):
        assert words in page
    assert "has changed since" not in page


def test_an_empty_list_is_not_signed(works):
    with refused("items"):
        signed(works)


def test_what_is_taken_back_later_shows_on_the_signed_list_which_stays_as_it_was(client, works, item):
    ticked(works, item)
    record = signed(works)
    writers.take_back(item, works.people.examiner, reason="the gauge was out")
    page = page_of(client, works, record.get_absolute_url())
    assert "has changed since this was signed" in page
    assert "test sheet 14" in page


def test_whoever_signs_an_older_page_is_told(works, item):
    ticked(works, item)
    with refused("stale"):
        signed(works, seen=0)


def conceded(works, look_again):
    place = works.plain_place()
    size = works.dimension(place)
    piece = works.piece(State.CLEANED, place=place)
    works.look_at(piece)
    worn = works.measure(piece, {size: "122.5"}).measurements.get()
    return concede(worn, works.people.engineer, reason="light trains only", look_again=look_again)


def test_a_concession_stands_on_the_list_with_its_day(client, works, item):
    conceded(works, days(200))
    ticked(works, item)
    page = page_of(client, works, signed(works).get_absolute_url())
    assert "Concessions that stood on it" in page
    assert "No concession stood" not in page


def test_only_these_roles(client, works, item):
    assert client.get(at(works)).status_code == 302
    with refused("role"):
        writers.tick(item, works.people.fitter, by_what="test sheet 14")
    with refused("role"):
        signed(works, works.people.manager)
    client.force_login(works.people.fitter)
    assert client.get(reverse("tick_item", args=[item.pk])).status_code == 403
    assert client.post(at(works), {"words": "Mine", "asked_by": "me"}).status_code == 403
    assert client.get(reverse("signed_return", args=[9])).status_code == 404


@pytest.mark.parametrize("change", [
    lambda: Tick.objects.update(by_what="another"),
    lambda: ReturnToService.objects.update(content={}),
    lambda: ReturnToService.objects.all().delete(),
])  # fmt: skip
def test_the_database_keeps_ticks_and_signed_lists(works, item, change):
    ticked(works, item)
    signed(works)
    with pytest.raises(DatabaseError), transaction.atomic():
        change()


@pytest.mark.needs_poppler
def test_the_print_says_that_it_grants_nothing(client, works, item, tmp_path):
    client.force_login(works.people.trustee)
    text = text_of(client.get(at(works, "return_list_pdf")).content, tmp_path)
    assert "not signed" in text
    assert "not shown yet" in text
    ticked(works, item)
    record = signed(works)
    text = text_of(client.get(reverse("signed_return_pdf", args=[record.pk])).content, tmp_path)
    for words in ("Brake test under steam", "test sheet 14", "List signed by Engineer", "grants nothing"):
        assert words in text


def test_queries_do_not_grow_with_the_items(client, works, item):
    client.force_login(works.people.engineer)
    few = queries_of(client, works)
    for number in range(4):
        ticked(works, asked(works, f"Paper {number}"))
    assert queries_of(client, works) == few


def queries_of(client, works) -> int:
    client.get(at(works))
    with CaptureQueriesContext(connection) as asked_for:
        client.get(at(works))
    return len(asked_for)
