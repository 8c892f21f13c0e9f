"""The button in the bar that says it was done, and the list of what one did in the last ten minutes."""

import re
from datetime import timedelta

import pytest

from core.models import Event
from parts.consumables import writers as consumables
from parts.domain.words import State
from parts.facts import workers_on
from parts.stores.writers import move
from tests.as_shown import text_of
from tests.factories import add_location, fresh
from tests.tables import for_each


def acts_in(response) -> str:
    return re.search(r'name="acts" value="([\d ]+)"', text_of(response))[1]


@pytest.fixture
def pim(client, works):
    client.force_login(works.people.volunteer)
    return client


def clean(client, piece):
    code = piece.tags.current_code()
    entered = {"method": "steam", "seen": fresh(piece).last_event}
    return client.post(f"/t/{code}/do/clean", entered, follow=True)


def test_the_bar_that_says_it_was_done_undoes_it_and_goes_back(pim, works):
    piece = works.piece()
    bar = clean(pim, piece)
    here = f"/t/{piece.tags.current_code()}"
    assert f'name="back" value="{here}"' in text_of(bar)
    response = pim.post("/undo/", {"acts": acts_in(bar), "back": here}, follow=True)
    assert response.redirect_chain == [(here, 302)]
    assert f"Undone: {piece.name.capitalize()}." in text_of(response)
    assert "Undone: “clean” was a mistake." in text_of(response)
    assert fresh(piece).state == State.STRIPPED
    assert 'name="acts"' not in text_of(response)


def test_many_at_once_are_undone_together_or_one_of_them(pim, works):
    pieces = [works.piece() for _ in range(3)]
    entered = {"do": "clean", "method": "steam", "piece": [f"{piece.pk}.{piece.last_event}" for piece in pieces]}
    bar = pim.post("/pieces/bulk/", entered | {"back": "/find/?q=horn"}, follow=True)
    numbers = acts_in(bar).split()
    assert len(numbers) == 3
    assert "Undo one of them" in text_of(bar)
    pim.post("/undo/", {"acts": numbers[1]})
    assert [fresh(piece).state for piece in pieces] == ["cleaned", "stripped", "cleaned"]
    page = text_of(pim.get("/undo/"))
    assert page.count('name="acts"') == 2
    pim.post("/undo/", {"acts": f"{numbers[0]} {numbers[2]}"})
    assert {fresh(piece).state for piece in pieces} == {"stripped"}
    assert "you did nothing that can be undone" in text_of(pim.get("/undo/"))


def test_what_was_counted_on_the_shelf_is_undone_by_its_bar(pim, works):
    joints = consumables.add(works.people.storekeeper, name="joint ring", in_stock=20, size="2 in", unit="", least=0)
    bar = pim.post(f"{joints.get_absolute_url()}count", {"quantity": "3", "why": ""}, follow=True)
    assert "Undone: Counted on the shelf." in text_of(pim.post("/undo/", {"acts": acts_in(bar)}, follow=True))
    joints.refresh_from_db()
    assert joints.in_stock == 20


def test_one_that_cannot_be_undone_keeps_none_of_the_others(pim, works):
    one, two = works.piece(), works.piece()
    numbers = [acts_in(clean(pim, piece)) for piece in (one, two)]
    move(one, add_location(works.people.storekeeper, "Crate 8"), works.people.storekeeper)
    response = pim.post("/undo/", {"acts": " ".join(numbers)})
    assert response.status_code == 422
    assert "Storekeeper recorded “move” on" in text_of(response)
    assert (fresh(one).state, fresh(two).state) == ("cleaned", "stripped")


def test_a_move_by_its_page_and_a_description_have_the_button_too(pim, works):
    piece, crate = works.piece(), add_location(works.people.storekeeper, "Crate 8")
    code = piece.tags.current_code()
    bar = pim.post(f"/t/{code}/move", {"to": crate.name, "seen": piece.last_event}, follow=True)
    pim.post("/undo/", {"acts": acts_in(bar)})
    assert fresh(piece).location == works.crate
    entered = {"name": piece.name, "marks": "4 L", "seen": fresh(piece).last_event, "origin": piece.origin}
    bar = pim.post(f"/t/{code}/describe", entered, follow=True)
    pim.post("/undo/", {"acts": acts_in(bar)})
    assert fresh(piece).marks == ""


def test_the_list_names_the_last_ten_minutes_and_no_more(pim, works):
    piece = works.piece()
    clean(pim, piece)
    page = text_of(pim.get("/undo/"))
    assert piece.name.capitalize() in page
    assert "Cleaned at" in page
    late = Event.objects.get(pk=fresh(piece).last_event).at + timedelta(minutes=11)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("parts.undoing.queries.timezone.now", lambda: late)
        page = text_of(pim.get("/undo/"))
    code = piece.tags.current_code()
    assert "you did nothing that can be undone" in page
    assert f'href="/t/{code}"' in page  # there somebody else corrects it
    assert f"/t/{code}/correct" not in page
    another = works.piece()
    works.do("clean", another, works.people.storekeeper, method="steam")
    pim.force_login(works.people.storekeeper)
    link = f'href="/t/{another.tags.current_code()}/correct"'
    assert link not in text_of(pim.get("/undo/"))  # it is undone still
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("parts.undoing.queries.timezone.now", lambda: late + timedelta(minutes=11))
        assert link in text_of(pim.get("/undo/"))


def test_somebody_elses_is_refused_and_not_in_the_list(pim, client, works):
    number = acts_in(clean(pim, works.piece()))
    client.force_login(works.people.fitter)
    assert "you did nothing that can be undone" in text_of(client.get("/undo/"))
    response = client.post("/undo/", {"acts": number})
    assert response.status_code == 422
    assert "Somebody else did it." in text_of(response)


def test_twice_is_told(pim, works):
    number = acts_in(clean(pim, works.piece()))
    pim.post("/undo/", {"acts": number})
    response = pim.post("/undo/", {"acts": number})
    assert response.status_code == 422
    assert "It is undone already." in text_of(response)


@for_each("entered", ["", "x", "1 2 three", "²", "9" * 19])
def test_what_names_nothing_is_not_there(pim, entered):
    assert pim.post("/undo/", {"acts": entered}).status_code == 404


def test_it_never_leads_to_another_site(pim, works):
    number = acts_in(clean(pim, works.piece()))
    assert pim.post("/undo/", {"acts": number, "back": "https://elsewhere.example/"}).url == "/undo/"


def test_a_stranger_signs_in_a_trustee_may_not_and_no_other_method_is_answered(client, works):
    assert client.get("/undo/").url.startswith("/sign-in/?next=")
    client.force_login(works.people.trustee)
    assert client.get("/undo/").status_code == 403
    client.force_login(works.people.fitter)
    assert client.put("/undo/").status_code == 405


def test_queries_do_not_grow_with_what_was_done(pim, works, django_assert_max_num_queries):
    for _ in range(6):
        clean(pim, works.piece())
    pim.get("/undo/")
    with django_assert_max_num_queries(9):
        assert text_of(pim.get("/undo/")).count('name="acts"') == 6


def test_where_some_could_not_the_bar_undoes_those_that_could(pim, works):
    pieces = [works.piece(), works.piece(State.ACCEPTED)]
    entered = {"do": "clean", "method": "steam", "piece": [f"{piece.pk}.{piece.last_event}" for piece in pieces]}
    page = pim.post("/pieces/bulk/", entered | {"back": "/find/?q=horn"})
    assert page.status_code == 422
    assert "These are left" in text_of(page)
    pim.post("/undo/", {"acts": acts_in(page)})
    assert [fresh(piece).state for piece in pieces] == ["stripped", "accepted"]


@pytest.mark.engine
def test_later_or_by_another_it_is_corrected_with_the_reason_by_whoever_may(client, works):
    piece = works.piece()
    before = {name: value for name, value in vars(piece).items() if name not in ("_state", "last_event")}
    works.clean(piece)
    at = f"/t/{piece.tags.current_code()}"
    client.force_login(works.people.volunteer)
    assert "Was the latest one a mistake?" not in text_of(client.get(at))
    assert client.post(f"{at}/correct", {"reason": "the wrong crate of them"}).status_code == 403
    client.force_login(works.people.fitter)
    assert "Was the latest one a mistake?" in text_of(client.get(at))
    assert client.post(f"{at}/correct", {"reason": "bad"}).status_code == 422
    told = text_of(client.post(f"{at}/correct", {"reason": "the wrong crate of them"}, follow=True))
    assert "Corrected: “clean” was a mistake." in told
    assert "The wrong crate of them." in told
    now = vars(fresh(piece))
    assert {name: now[name] for name in before if name in now} == before
    again = client.post(f"{at}/correct", {"reason": "the wrong crate of them"})
    assert again.status_code == 422


def test_what_was_signed_is_not_corrected(client, works):
    piece = works.piece(State.ACCEPTED)
    client.force_login(works.people.fitter)
    at = f"/t/{piece.tags.current_code()}/correct"
    assert "is not undone" in text_of(client.get(at))
    assert client.post(at, {"reason": "it was the other one"}).status_code == 422
    assert fresh(piece).state == State.ACCEPTED


@pytest.mark.engine
def test_a_wrong_name_is_corrected_by_the_engineer_and_the_work_counts_as_that_persons(client, works):
    piece, people = works.examined(), works.people
    at = f"/t/{piece.tags.current_code()}"
    cleaned = Event.objects.about("piece", piece.pk).get(action="clean")
    client.force_login(people.fitter)
    assert client.get(f"{at}/whose").status_code == 403
    client.force_login(people.engineer)
    assert "Is a name wrong?" in text_of(client.get(at))
    entered = {"event": cleaned.pk, "person": people.second_fitter.pk, "reason": "the tablet was left signed in"}
    assert client.post(f"{at}/whose", entered | {"person": people.volunteer.pk}).status_code == 422  # as it stands
    told = text_of(client.post(f"{at}/whose", entered, follow=True))
    assert f"was done by {people.second_fitter}, not by {people.volunteer}." in told
    assert workers_on([piece.pk])[piece.pk] == {people.volunteer.pk, people.second_fitter.pk}
    signed = Event.objects.about("piece", piece.pk).get(action="sign examination")
    assert "stays as signed" in text_of(client.post(f"{at}/whose", entered | {"event": signed.pk}))
