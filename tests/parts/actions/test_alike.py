"""Pieces of one kind, refitted and locked in the same way, said once. An invented works."""

import pytest

from core.models import Event
from parts.actions import alike
from parts.domain.plain import capital
from parts.domain.tagcodes import grouped
from parts.domain.words import State
from parts.kits import writers as kits
from parts.models import Consumable, ConsumableUse, Tag
from tests.factories import fresh


@pytest.fixture
def guides(works):
    places = [works.place(name="horn guide", side=side, axle=axle) for axle in (1, 2) for side in ("LH", "RH")]
    return [works.piece(State.ACCEPTED, place=place) for place in places]


def address(piece, word) -> str:
    return f"/t/{Tag.objects.get(component=piece, current=True).code}/do/{word}"


def send(client, works, piece, word, others, **entered):
    client.force_login(works.people.fitter)
    works.people.second_fitter.set_password("axlebox")
    works.people.second_fitter.save()
    names = {"checker": works.people.second_fitter.pk, "checker_password": "axlebox"}
    names = names if piece.place.safety_critical else {}
    seen = {"seen": fresh(piece).last_event} | {f"alike-{at}": one.pk for at, one in enumerate(others)}
    return client.post(address(piece, word), seen | names | entered)


def test_one_form_refits_and_locks_those_that_are_ticked(client, works, guides):
    one, two, three, four = guides
    client.force_login(works.people.fitter)
    page = client.get(address(one, "refit")).content.decode()
    assert "Done in the same way" in page
    assert grouped(Tag.objects.get(component=four).code) in page
    pin = Consumable.objects.create(name="split pin", in_stock=0)
    ConsumableUse.objects.create(consumable=pin, position=one.place, in_hand=1)  # what is used up is no piece
    told = send(client, works, one, "refit", [two, three], tightened="90 lbf ft", shims="one, 0.5 mm")
    assert told.status_code == 302
    assert "Refitted, and 2 more." in client.get(told.url).content.decode()
    assert [fresh(piece).state for piece in guides] == ["refitted"] * 3 + ["accepted"]
    events = Event.objects.filter(action="refit").order_by("pk")
    assert [event.data.get("tightened") for event in events] == ["90 lbf ft"] * 3
    assert [event.data.get("shims", "") for event in events] == ["one, 0.5 mm", "", ""]  # of the piece by itself
    locked = send(client, works, one, "lock", [two, three], locked="split pin")
    assert locked.status_code == 302
    assert Event.objects.filter(action="lock").count() == 3
    assert "Done in the same way" not in client.get(address(one, "lock")).content.decode()


def test_the_locked_ones_leave_room_in_the_box_for_the_next(client, works, guides, monkeypatch):
    monkeypatch.setattr(alike, "MOST", 2)
    one, two, three, four = guides
    send(client, works, four, "refit", [one, two])
    send(client, works, three, "refit", [])
    send(client, works, one, "lock", [two], locked="split pin")
    page = client.get(address(three, "lock")).content.decode()
    codes = {piece: grouped(Tag.objects.get(component=piece).code) for piece in (one, two, four)}
    box = page.partition("Done in the same way")[2]
    assert [code in box for code in codes.values()] == [False, False, True]


def test_one_that_may_not_go_on_stops_all_and_nothing_is_written(client, works, guides):
    one, two, *_ = guides
    works.withdraw(two)
    answer = send(client, works, one, "refit", [two])
    assert answer.status_code == 422
    assert fresh(one).state == State.ACCEPTED
    assert not Event.objects.filter(action="refit").exists()


def test_one_that_cannot_go_on_is_not_offered_and_a_refusal_names_it(client, works, guides):
    one, two, three, _ = guides
    client.force_login(works.people.fitter)
    code = {piece: grouped(Tag.objects.get(component=piece).code) for piece in guides}
    page = client.get(address(one, "refit")).content.decode()
    assert code[two] in page  # in the page that is open already
    kit = kits.begin(works.frames, works.people.volunteer)
    kits.miss(kit, two, works.people.volunteer)
    page = client.get(address(one, "refit")).content.decode()
    assert (code[two] in page, code[three] in page) == (False, True)
    refused = send(client, works, one, "refit", [two]).content.decode()
    assert f"{capital(two.place.words)} {code[two].replace(' ', '')}: Nobody knows where it lies." in refused
    assert fresh(one).state == State.ACCEPTED


def test_each_safety_critical_piece_keeps_both_names(client, works):
    places = [works.critical_place(name="crank pin washer", side=side) for side in ("LH", "RH")]
    pair = [works.piece(State.ACCEPTED, place=place) for place in places]
    assert send(client, works, pair[0], "refit", [pair[1]], checker="").status_code == 422
    assert send(client, works, pair[0], "refit", [pair[1]]).status_code == 302
    checkers = set(Event.objects.filter(action="refit").values_list("checker", flat=True))
    assert checkers == {works.people.second_fitter.pk}
    assert Event.objects.filter(action="refit").count() == 2
