"""A call or letter to a firm, noted from the first page or the firm's own."""

import pytest

from core.models import Event
from parts.actions import writing
from parts.domain.plain import day
from parts.foundry.writers.patterns import add_pattern, change_state
from parts.models import Component, RenewalStep, Repair
from parts.stores.writers import move
from parts.work.promises import chase
from parts.work.writers.firms import add_firm
from parts.work.writers.steps import edit_step, promise_step
from tests.factories import days, fresh
from tests.parts.jobs import a_renewal, a_repair, steps_of
from tests.tables import for_each

pytestmark = pytest.mark.django_db
SAID = "The furnace is relined, next week"


@pytest.fixture
def firm(works, people):
    return add_firm(people.manager, name="Ulmshaw Foundry")


@pytest.fixture
def out(works, people, firm):
    """A piece there, promised back for today."""
    piece = works.piece()
    move(piece, firm.location, people.storekeeper, promised_back=writing.today())
    return piece


def call(client, person, firm, **entered):
    client.force_login(person)
    given = {"on": writing.today().isoformat(), "how": "call", "who": "Mr Tarn", "said": SAID, "about": ""}
    return client.post(f"/firms/{firm.pk}/call", given | entered)


def test_it_is_kept_with_who_when_and_what_was_said(client, people, firm, out):
    assert call(client, people.manager, firm).url == firm.get_absolute_url()
    event = Event.objects.get(action="call firm")
    assert (event.remark, event.data["who"], event.actor) == (SAID, "Mr Tarn", people.manager)
    text = client.get(firm.get_absolute_url()).content.decode()
    assert "call by Manager to Mr Tarn" in text
    assert SAID in text


@pytest.mark.engine
def test_a_new_day_is_kept_for_the_piece_it_is_about(client, people, firm, out):
    answer = call(
        client, people.manager, firm, about=f"piece-{out.pk}", promised=days(9).isoformat(), **{"from": "home"}
    )
    assert answer.url == "/"
    assert fresh(out).promised_back == days(9)
    assert chase(writing.today())[0].called.promised == days(9)


def test_a_new_day_for_all_of_it_is_kept_for_each_promise(client, works, people, firm, out):
    other, lent = works.piece(), works.piece()
    move(other, firm.location, people.storekeeper, promised_back=days(9))
    move(lent, add_firm(people.manager, name="Another").location, people.storekeeper, promised_back=days(1))
    answer = call(client, people.manager, firm, promised=days(9).isoformat())
    assert (answer.status_code, Event.objects.filter(action="promise anew").count()) == (422, 0)
    assert "Choose which promise the new day is for" in answer.content.decode()
    assert call(client, people.manager, firm, about="all", promised=days(9).isoformat()).status_code == 302
    assert [fresh(piece).promised_back for piece in (out, other, lent)] == [days(9), days(9), days(1)]
    assert Event.objects.filter(action="promise anew").count() == 1, "what stays as promised is not promised anew"


@pytest.fixture
def several(works, people, firm, out):
    """A piece due today, a repair and a step due in three weeks, a pattern in one, all at the firm."""
    repair = a_repair(works, firm=firm, promised=days(21))
    (step, *_) = steps_of(a_renewal(works))
    edit_step(step, people.manager, firm=firm)
    promise_step(step, people.manager, new=days(21))
    pattern = add_pattern(people.fitter, name="wheel pattern", location=works.crate)
    change_state(pattern, people.fitter, to="checked", remark="looked over")
    sent = {"to": "at the foundry", "remark": "looked over", "location": firm.location, "firm": firm}
    change_state(fresh(pattern), people.fitter, promised_back=days(7), **sent)
    return out, repair, step, pattern


def stands(several) -> list:
    piece, repair, step, pattern = (fresh(one) for one in several)
    return [piece.promised_back, repair.promised, step.promised, pattern.promised_back]


def test_one_day_for_all_of_it_brings_nothing_forward_unasked(client, people, firm, several):
    given = {"about": "all", "promised": days(14).isoformat()}
    answer = call(client, people.manager, firm, **given)
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "Choose whether they come earlier" in text
    told = f"Repair of horn guide: bush the bore ({day(days(21))})"
    assert told in text
    assert day(days(7)) not in text, "what comes later anyhow is not asked about"
    assert stands(several) == [writing.today(), days(21), days(21), days(7)]
    answer = call(client, people.manager, firm, earlier="keep", **given)
    assert answer.status_code == 302
    assert stands(several) == [days(14), days(21), days(21), days(14)]


def test_all_of_it_comes_earlier_once_somebody_says_so(client, people, firm, several):
    call(client, people.manager, firm, about="all", promised=days(14).isoformat(), earlier="forward")
    assert stands(several) == [days(14)] * 4


def test_what_was_promised_anew_is_told_each_with_its_former_day(client, people, firm, several):
    call(client, people.manager, firm, about="all", promised=days(30).isoformat(), **{"from": "home"})
    text = client.get("/").content.decode()
    assert f"Promised for {day(days(30))} now: " in text
    assert text.count(f"(was {day(days(21))})") == 2
    assert f"wheel pattern (was {day(days(7))})" in text.replace("Wheel", "wheel")


def test_a_call_noted_by_mistake_is_undone_with_every_day_that_it_moved(client, people, firm, several):
    call(client, people.manager, firm, about="all", promised=days(30).isoformat())
    act = Event.objects.get(action="call firm").pk
    assert f'value="{act}"' in client.get("/").content.decode()
    client.post("/undo/", {"acts": act})
    assert stands(several) == [writing.today(), days(21), days(21), days(7)]
    assert SAID not in client.get(firm.get_absolute_url()).content.decode()
    assert chase(writing.today())[0].called is None
    _, repair, step, _ = several
    assert Repair.objects.with_slips().get(pk=repair.pk).slips == 0
    assert RenewalStep.objects.with_slips().get(pk=step.pk).slips == 0


def test_a_day_that_moved_again_since_is_not_put_back(client, people, firm, several):
    call(client, people.manager, firm, about="all", promised=days(30).isoformat())
    act = Event.objects.get(action="call firm").pk
    promise_step(fresh(several[2]), people.manager, new=days(40), why="the mould broke twice")
    answer = client.post("/undo/", {"acts": act})
    assert answer.status_code == 422
    assert stands(several) == [days(30), days(30), days(40), days(30)]


def test_a_day_promised_for_one_repair_by_mistake_is_undone(client, people, works):
    repair = a_repair(works, promised=days(5))
    client.force_login(people.fitter)
    sent = {"promised": days(50).isoformat(), "why": "they are short of hands"}
    client.post(f"/repairs/{repair.pk}/promise", sent)
    client.post("/undo/", {"acts": Event.objects.get(action="promise").pk})
    assert fresh(repair).promised == days(5)


def test_a_firm_that_promised_nothing_names_no_new_day(client, people, firm):
    answer = call(client, people.manager, firm, promised=days(9).isoformat())
    assert answer.status_code == 422
    assert "Leave the new day blank" in answer.content.decode()


def test_a_piece_out_on_promise_is_chased_the_day_after(client, people, firm, out):
    Component.objects.filter(pk=out.pk).update(promised_back=days(-3))
    (row,) = chase(writing.today())
    assert (row.firm, [one.late for one in row.promised]) == (firm, [3])
    client.force_login(people.manager)
    assert "3 days overdue" in client.get("/").content.decode()


@for_each(
    ("entered", "told"),
    [
        ({"said": "ok"}, "Say what they said, in three words or more"),
        ({"on": days(2).isoformat()}, "still to come"),
        ({"how": ""}, "Choose how"),
        ({"about": "piece-999999"}, "Choose from the list"),
        ({"promised": days(-5).isoformat()}, "The day has passed"),
    ],
)
def test_what_is_missing_is_asked_for_and_nothing_is_kept(client, people, firm, out, entered, told):
    answer = call(client, people.manager, firm, **entered)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not Event.objects.filter(action="call firm").exists()


def test_only_the_office_notes_one(client, people, firm):
    for who, status in (("volunteer", 403), ("trustee", 403), ("engineer", 302)):
        assert call(client, getattr(people, who), firm).status_code == status
    client.logout()
    assert client.post(f"/firms/{firm.pk}/call").url.startswith("/sign-in/")


def test_no_other_method_and_no_unknown_firm(client, people, firm):
    client.force_login(people.manager)
    assert client.put(f"/firms/{firm.pk}/call").status_code == 405
    assert client.get("/firms/999999/call").status_code == 404
