"""The order of assembly changed on screen: what follows is read before it is saved, and a loop is named."""

from decimal import Decimal

import pytest
from django.urls import reverse

from core.models import Event
from parts.domain.words import State
from parts.forecast import writers as plan
from parts.models.planning import DAYS
from parts.structure.writers import order as writers
from parts.structure.writers.structure import add_subassembly, set_order
from tests.parts.actions.standard import refused


@pytest.fixture
def wheels(works):
    wheels = add_subassembly(works.locomotive, "Wheelsets", works.people.manager)
    works.plain_place(name="wheelset", subassembly=wheels)
    works.piece(State.ACCEPTED)  # the frames are clear to assemble
    return wheels


def address(works) -> str:
    return reverse("edit_order", args=[works.locomotive.slug, works.frames.code])


def send(client, works, *after, where=None, who="manager", **more):
    client.force_login(getattr(works.people, who))
    entered = {f"after-{at}": sub.pk for at, sub in enumerate(after)}
    return client.post(where or address(works), entered | more)


@pytest.mark.engine
def test_what_follows_is_read_first_and_saved_then(client, works, wheels):
    page = send(client, works, wheels)
    text = page.content.decode()
    assert page.status_code == 200
    assert "No longer clear to assemble: Frames." in text
    assert "Frames waits for Wheelsets, where 1 place is not refitted." in text
    assert not works.frames.goes_on_after.exists()
    assert not Event.objects.filter(action="set order").exists()
    answer = send(client, works, wheels, read=page.context["form"]["read"].value(), seen="0")
    assert answer.status_code == 302
    assert [edge.after for edge in works.frames.goes_on_after.all()] == [wheels]


def test_another_choice_than_the_one_read_is_told_anew(client, works, wheels):
    read = send(client, works, wheels).context["form"]["read"].value()
    assert send(client, works, read=read).status_code == 200
    assert not works.frames.goes_on_after.exists()


def test_dropping_says_what_becomes_clear(works, wheels):
    set_order(works.frames, [wheels], works.people.manager)
    assert writers.would_change(works.frames, [], works.people.manager) == [
        "Clear to assemble by it: Frames.", "Frames waits no longer for Wheelsets.",
    ]  # fmt: skip
    assert works.frames.goes_on_after.exists()


def test_it_says_when_what_follows_could_be_done_with_it_and_without(works, wheels):
    """One hand, open each day, and 10 open days of guess for each of the two: side by side one pair of hands does them
    one after the other either way, so the whole stays; the frames, which now wait for the wheels, move."""
    manager = works.people.manager
    plan.set_working_week(manager, **dict.fromkeys(DAYS, 480), poor=2, usual=2, good=2)
    for sub in (works.frames, wheels):
        guess = dict.fromkeys(("least", "likely", "most"), Decimal(10))
        plan.guess_work_left(manager, sub, **guess, hands=1, steps=1)
    told = writers.would_change(works.frames, [wheels], manager)
    (whole,) = [one for one in told if one.startswith("The whole locomotive: half of the runs are done by ")]
    assert "without it" in whole
    assert any(one.startswith("Frames: half of the runs are done by ") and "without it" in one for one in told)
    assert told[-1].startswith("A forecast and no promise. ")
    assert not works.frames.goes_on_after.exists()


def test_a_loop_is_refused_and_named(client, works, wheels):
    set_order(wheels, [works.frames], works.people.manager)
    answer = send(client, works, wheels)
    assert answer.status_code == 422
    assert "makes a loop. Frames goes on after Wheelsets, which goes on after Frames." in answer.content.decode()
    assert not works.frames.goes_on_after.exists()


def test_one_place_may_have_an_order_of_its_own(client, works, wheels):
    stay = works.plain_place(name="horn stay")
    where = reverse("edit_own_order", args=[stay.pk])
    page = send(client, works, wheels, where=where)
    assert f"{stay.words.capitalize()} waits for Wheelsets, where 1 place is not refitted." in page.content.decode()
    read = page.context["form"]["read"].value()
    assert send(client, works, wheels, where=where, read=read).headers["Location"] == stay.get_absolute_url()
    assert stay.goes_on_after.get().after == wheels


def test_a_place_is_neither_offered_nor_given_its_own_subassembly_to_go_on_after(client, works, wheels):
    stay = works.plain_place(name="horn stay")
    client.force_login(works.people.manager)
    new = client.get(reverse("add_position", args=[works.locomotive.slug, works.frames.code]))
    for page in (new, client.get(reverse("edit_own_order", args=[stay.pk]))):
        assert set(page.context["form"].fields["after"].queryset) == {wheels}
    with refused("order"):
        set_order(stay, [works.frames], works.people.manager)


def test_whoever_saves_second_is_told(works, wheels):
    set_order(works.frames, [wheels], works.people.manager)
    with refused("stale"):
        writers.change_order(works.frames, [], works.people.manager, seen=0)


def test_what_changes_nothing_says_so(works, wheels):
    assert writers.would_change(works.frames, [], works.people.manager) == [
        "Nothing becomes clear or blocked by it today."
    ]


def test_others_may_not_and_a_stranger_signs_in(client, works, wheels):
    assert client.get(address(works)).status_code == 302
    assert send(client, works, wheels, who="fitter").status_code == 403
    order = reverse("order", args=[works.locomotive.slug])
    assert address(works) not in client.get(order).content.decode()
    client.force_login(works.people.manager)
    assert address(works) in client.get(order).content.decode()
    assert client.get(reverse("edit_own_order", args=[10**6])).status_code == 404
