"""The page of a position: what it calls for, what is in it, and what stands against it."""

import pytest
from django.urls import reverse

from core.domain.refusals import Refused
from parts.models import Position
from parts.structure.writers import structure
from tests.factories import events_of
from tests.tables import for_each


@pytest.fixture
def place(works):
    return works.critical_place()


def seen(client, person, place):
    client.force_login(person)
    return client.get(place.get_absolute_url())


def test_it_says_what_the_place_calls_for_and_what_it_needs_next(client, works, people, place):
    text = seen(client, people.volunteer, place).content.decode()
    assert "crack check, magnetic particle, dimensional" in text
    assert "journal, wheel seat" in text
    assert "has not been looked at yet" in text
    assert reverse("strip") + f"?position={place.pk}" in text


def test_a_trustee_reads_and_is_offered_nothing_to_do(client, works, people, place):
    text = seen(client, people.trustee, place).content.decode()
    assert "Edit the place" not in text
    assert "It is known to be empty" not in text
    assert reverse("strip") not in text


def test_a_stranger_signs_in_first(client, place):
    answer = client.get(place.get_absolute_url())
    assert answer.status_code == 302
    assert answer["Location"].startswith("/sign-in/")


def test_no_such_position(client, people):
    client.force_login(people.volunteer)
    assert client.get("/p/999999/").status_code == 404


def test_known_to_be_empty_says_by_whom_and_on_what_evidence(client, works, people, place):
    client.force_login(people.engineer)
    answer = client.post(reverse("known_empty", args=[place.pk]), {"evidence": "Four holes and a rub mark."})
    assert answer.status_code == 302
    place.refresh_from_db()
    assert (place.known_empty_by, place.evidence, place.need) == (
        people.engineer,
        "Four holes and a rub mark.",
        "source",
    )
    assert "Four holes and a rub mark." in seen(client, people.trustee, place).content.decode()


@pytest.mark.parametrize(("evidence", "words"), [("", "Say how it is known"), ("   ", "Say how it is known")])
def test_empty_without_evidence_is_refused_and_nothing_is_written(client, people, place, evidence, words):
    client.force_login(people.engineer)
    answer = client.post(reverse("known_empty", args=[place.pk]), {"evidence": evidence})
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not Position.objects.get(pk=place.pk).known_empty


def test_a_filled_place_is_not_empty(client, works, people, place):
    works.piece(place=place)
    client.force_login(people.engineer)
    answer = client.post(reverse("known_empty", args=[place.pk]), {"evidence": "Nothing there."})
    assert answer.status_code == 422
    assert "Withdraw its piece first." in answer.content.decode()


def test_a_volunteer_may_not_say_that_it_is_empty(client, people, place):
    client.force_login(people.volunteer)
    assert client.post(reverse("known_empty", args=[place.pk]), {"evidence": "x"}).status_code == 403


def test_known_empty_is_posted(client, people, place):
    client.force_login(people.engineer)
    assert client.get(reverse("known_empty", args=[place.pk])).status_code == 405


FORM = {"name": "horn guide", "quantity": "1", "required": "on", "needed_first": "on", "side": ""}


def test_the_works_manager_edits_it_and_the_event_keeps_what_it_said(client, works, people):
    place = works.plain_place()
    client.force_login(people.manager)
    surfaces = "journal\n  wheel   seat \n\njournal"
    entered = FORM | {
        "name": "axle",
        "end": "front",
        "crack_check": "ultrasonic",
        "surfaces": surfaces,
        "calls_for-0": "dimensional",
    }
    assert client.post(reverse("edit_position", args=[place.pk]), entered).status_code == 302
    place.refresh_from_db()
    assert (place.name, place.crack_check, place.surfaces, place.calls_for) == (
        "axle",
        "ultrasonic",
        ["journal", "wheel seat"],
        ["dimensional"],
    )
    assert events_of(place).filter(action="edit position").get().data["name"] == ["horn guide", "axle"]


def test_the_form_shows_what_it_is_now(client, works, people, place):
    client.force_login(people.manager)
    text = client.get(reverse("edit_position", args=[place.pk])).content.decode()
    assert "journal\nwheel seat" in text


def test_two_places_of_one_name_are_told_apart(client, works, people):
    taken = works.plain_place()
    client.force_login(people.manager)
    entered = FORM | {"name": taken.name.upper(), "end": taken.end}
    answer = client.post(reverse("add_position", args=[works.locomotive.slug, works.frames.code]), entered)
    assert answer.status_code == 422
    assert "Tell them apart by side, axle or end." in answer.content.decode()


def test_a_place_is_added(client, works, people):
    client.force_login(people.manager)
    entered = FORM | {"name": "guard iron", "side": "LH", "quantity": "2"}
    assert (
        client.post(reverse("add_position", args=[works.locomotive.slug, works.frames.code]), entered).status_code
        == 302
    )
    place = works.frames.positions.get(name="guard iron")
    assert (place.side, place.quantity, place.standing, place.need) == ("LH", 2, "blocked", "strip")


@for_each("wrong", [{"quantity": "0"}, {"quantity": "many"}, {"name": ""}, {"side": "left"}, {"crack_check": "x-ray"}])
def test_what_cannot_be_is_refused_and_shown_as_typed(client, works, people, wrong):
    client.force_login(people.manager)
    before = Position.objects.count()
    entered = FORM | {"material": "gunmetal of the old kind"} | wrong
    answer = client.post(reverse("add_position", args=[works.locomotive.slug, works.frames.code]), entered)
    assert answer.status_code == 422
    assert "gunmetal of the old kind" in answer.content.decode()
    assert Position.objects.count() == before


def test_only_the_works_manager_edits(client, works, people, place):
    client.force_login(people.engineer)
    assert client.get(reverse("edit_position", args=[place.pk])).status_code == 403
    assert client.post(reverse("remove_position", args=[place.pk])).status_code == 403


def test_a_place_without_history_is_deleted(client, works, people):
    """Its adding is history too, so only one that a starting structure laid out can be deleted."""
    place = Position.objects.create(locomotive=works.locomotive, subassembly=works.frames, name="never touched")
    client.force_login(people.manager)
    client.post(reverse("remove_position", args=[place.pk]))
    assert not Position.objects.filter(pk=place.pk).exists()


def test_a_place_with_history_is_retired_and_its_page_stays(client, works, people, place):
    piece = works.piece(place=place)
    works.withdraw(piece)
    client.force_login(people.manager)
    assert client.post(reverse("remove_position", args=[place.pk])).status_code == 302
    assert Position.objects.get(pk=place.pk).retired
    assert "Retired" in client.get(place.get_absolute_url()).content.decode()


def test_a_place_with_a_piece_in_it_stays(client, works, people, place):
    works.piece(place=place)
    client.force_login(people.manager)
    answer = client.post(reverse("remove_position", args=[place.pk]))
    assert answer.status_code == 422
    assert "still there" in answer.content.decode()


def test_nothing_is_part_of_itself(client, works, people):
    outer = works.built_up()
    inner = outer.inner.first()
    with pytest.raises(Refused, match="inside this place"):
        structure.edit_position(outer, people.manager, part_of=inner)
