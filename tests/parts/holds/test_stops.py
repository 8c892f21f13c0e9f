"""Stop: anybody at work stops a piece or a place at once; the responsible engineer or the works manager lifts it."""

from datetime import date

import pytest

from core.domain.refusals import Refused
from core.models import Event
from parts import facts
from parts.domain.words import State
from parts.holds import writers
from parts.holds.held import held_closing
from parts.models import HoldPoint, Repair
from parts.pieces.available_actions import available_actions
from tests.factories import fresh
from tests.pictures import a_photo
from tests.tables import for_each

WHY = "Suspected asbestos under the lagging"


def stop(client, person, thing, **entered):
    client.force_login(person)
    return client.post(address(thing), {"why": WHY} | entered)


def address(thing):
    code = thing.tags.current_code() if hasattr(thing, "tags") else ""
    return f"/t/{code}/stop" if code else f"/p/{thing.pk}/stop"


def lift(client, person, hold, **entered):
    client.force_login(person)
    return client.post(f"/holds/{hold.pk}/lift", {"reason": "Laboratory report 26/118: none found"} | entered)


def test_a_volunteer_stops_a_piece_and_every_action_on_it(client, works, people):
    piece = works.piece()
    answer = stop(client, people.volunteer, piece, photo=a_photo())
    assert answer.status_code == 302
    hold = HoldPoint.objects.get()
    assert (hold.component, hold.name, hold.stopped_by) == (piece, WHY, people.volunteer)
    assert {"strip", "clean", "accept", "refit", "withdraw"} <= set(hold.stops)
    with pytest.raises(Refused, match="stopped all work on it"):
        works.clean(piece)
    assert piece.photos.get().caption == WHY


def test_the_piece_says_at_its_top_who_stopped_it_and_why(client, works, people):
    piece = works.piece()
    stop(client, people.volunteer, piece)
    for person, offered in ((people.volunteer, False), (people.engineer, True), (people.manager, True)):
        client.force_login(person)
        text = client.get(f"/t/{piece.tags.current_code()}").content.decode()
        assert f"{WHY}. Volunteer stopped all work on it" in text
        assert text.index(WHY) < text.index("What it needs next")
        assert (f"/holds/{HoldPoint.objects.get().pk}/lift" in text) is offered


def test_a_stop_on_a_place_stops_its_piece_and_leads_its_needs(client, works, people):
    piece = works.piece()
    assert stop(client, people.fitter, piece.place).status_code == 302
    piece.place.refresh_from_db()
    assert piece.place.need == "release"
    with pytest.raises(Refused, match="stopped all work on it"):
        works.clean(piece)
    client.force_login(people.trustee)
    text = client.get(piece.place.get_absolute_url()).content.decode()
    assert "Only the responsible engineer or the works manager lifts the stop" in text


@pytest.mark.parametrize("state", [State.STRIPPED, State.CLEANED, State.REFITTED])
def test_it_is_the_leading_need_whatever_the_state(works, people, state):
    piece = works.piece(state)
    writers.stop(piece, people.volunteer, why="A crack at the root")
    fresh(piece).place.refresh_from_db()
    assert piece.place.need == "release"
    doing = available_actions(facts.context(piece, people.volunteer), "/t/X", {})
    assert doing.step.deed == "lift stop"
    assert doing.for_others == "a responsible engineer or a works manager"


def test_a_piece_of_no_locomotive_is_stopped_too(works, people):
    donor = works.donor()
    writers.stop(donor, people.volunteer, why="Unknown powder on it")
    with pytest.raises(Refused, match="Unknown powder"):
        works.clean(donor)


def test_a_place_inside_no_open_overhaul_is_stopped_too(works, people):
    piece = works.piece()
    works.locomotive.overhauls.update(opened=date(2026, 1, 1), closed=date(2026, 1, 2))
    writers.stop(piece.place, people.volunteer, why="An unsafe lift")
    with pytest.raises(Refused, match="An unsafe lift"):
        works.clean(piece)


def test_nobody_passes_it_with_a_reason(works, people):
    piece = works.piece()
    writers.stop(piece, people.volunteer, why="A crack")
    with pytest.raises(Refused, match="A crack"):
        works.do("clean", piece, people.engineer, method="steam", override="it is only paint")


@pytest.mark.parametrize("who", ["engineer", "manager"])
def test_engineer_or_manager_lifts_it_with_a_reason_and_work_goes_on(client, works, people, who):
    piece = works.piece()
    hold = writers.stop(piece, people.volunteer, why="A crack")
    assert lift(client, getattr(people, who), hold).status_code == 302
    assert (fresh(hold).released_by, hold.reference) == (getattr(people, who), "Laboratory report 26/118: none found")
    assert hold.releases.get().event.action == "lift stop"
    works.clean(piece)
    assert fresh(piece).state == State.CLEANED


@for_each("who", ["volunteer", "storekeeper", "fitter", "examiner", "trustee"])
def test_nobody_else_lifts_it(client, works, people, who):
    hold = writers.stop(works.piece(), people.volunteer, why="A crack")
    assert lift(client, getattr(people, who), hold).status_code == 403
    assert fresh(hold).released_on is None


@pytest.mark.engine
def test_it_is_not_lifted_without_a_reason_nor_twice_nor_released_as_a_hold_point(client, works, people):
    hold = writers.stop(works.piece(), people.volunteer, why="A crack")
    assert lift(client, people.engineer, hold, reason=" ").status_code == 422
    assert client.post(f"/holds/{hold.pk}/release", {"reference": "Letter"}).status_code == 302
    with pytest.raises(Refused, match="lifts it"):
        writers.release(hold, people.engineer, reference="Letter")
    assert fresh(hold).released_on is None
    lift(client, people.engineer, hold)
    assert lift(client, people.engineer, hold).status_code == 422
    assert Event.objects.filter(action="lift stop").count() == 1


def test_the_same_sentence_twice_and_a_blank_one_are_refused(client, works, people):
    piece = works.piece()
    stop(client, people.volunteer, piece)
    answer = stop(client, people.fitter, piece)
    assert answer.status_code == 422
    assert "stopped for that already" in answer.content.decode()
    assert stop(client, people.volunteer, piece, why=" ").status_code == 422
    assert HoldPoint.objects.count() == 1


@pytest.mark.parametrize("stopped", ["the piece", "its place"])
def test_no_repair_is_begun_while_it_is_stopped(client, works, people, stopped):
    piece = works.piece(State.CLEANED)
    stop(client, people.volunteer, piece if stopped == "the piece" else piece.place)
    client.force_login(people.fitter)
    page = f"/t/{piece.tags.current_code()}"
    assert f"{page}/repair" not in client.get(page).content.decode()
    answer = client.post(f"{page}/repair", {"method": "weld", "what": "crack at the eye", "currency": "GBP"})
    assert answer.status_code == 422
    assert "Volunteer stopped all work on it" in answer.content.decode()
    assert not Repair.objects.exists()
    lift(client, people.engineer, HoldPoint.objects.get())
    client.force_login(people.fitter)
    assert f"{page}/repair" in client.get(page).content.decode()


def test_a_trustee_and_a_stranger_stop_nothing(client, works, people):
    piece = works.piece()
    assert stop(client, people.trustee, piece).status_code == 403
    client.logout()
    assert client.post(address(piece), {"why": WHY}).status_code == 302
    assert not HoldPoint.objects.exists()


def test_wrong_methods_and_unknown_things(client, works, people):
    piece = works.piece()
    client.force_login(people.volunteer)
    assert client.delete(address(piece)).status_code == 405
    assert client.get("/p/999999/stop").status_code == 404
    form = client.get(address(piece)).content.decode()
    assert "data-keep=" in form
    assert "data-keep-whole" in form


def test_an_overhaul_does_not_close_over_a_stop(works, people):
    hold = writers.stop(works.piece(State.REFITTED), people.volunteer, why="A crack")
    assert [r.code for r in held_closing(hold.overhaul)] == ["hold"]


@pytest.mark.parametrize("reason", ["ok", "all fine", "n/a - x", " . . . "])
def test_a_stop_is_not_lifted_without_saying_what_was_found(client, works, people, reason):
    piece = works.piece()
    stop(client, people.volunteer, piece)
    answer = lift(client, people.engineer, HoldPoint.objects.get(), reason=reason)
    assert answer.status_code == 422
    assert "Say what was found and what was done about it" in answer.content.decode()
    assert HoldPoint.objects.get().released_on is None


@pytest.mark.parametrize(("who", "lifts"), [("volunteer", False), ("engineer", True)])
def test_stops_stand_first_wherever_work_is_listed(client, works, people, who, lifts):
    works.piece()
    piece = works.piece()
    stop(client, people.volunteer, piece)
    person = getattr(people, who)
    client.force_login(person)
    slug = works.locomotive.slug
    for address, after in ((f"/l/{slug}/", "How far"), (f"/l/{slug}/holds/", "Waiting for a release")):
        text = client.get(address).content.decode()
        assert 0 < text.index("Volunteer stopped everything on it") < text.index(after)
        assert ("Lift the stop" in text) is lifts


def test_a_stopped_piece_is_not_offered_for_moving_first(client, works, people):
    piece = works.piece()
    stop(client, people.volunteer, piece)
    text = client.get(f"/t/{piece.tags.current_code()}/move").content.decode()
    assert text.index("Leave the piece where it lies") < text.index("It had to be moved") < text.index("Save place")
    assert "Ask Volunteer or the responsible engineer or the works manager" in text
