"""The weekly meeting: who did what, what is late, what waits for whom, and how far it has come."""

import pytest
from django.urls import reverse

from parts.actions.undo import undo
from parts.domain.words import State
from parts.holds.writers import stop
from parts.morning.meeting import who_did_what
from parts.work.writers.repairs import finish_repair
from tests.factories import days, fresh
from tests.parts.jobs import a_firm, a_repair

pytestmark = pytest.mark.django_db


def address(works):
    return reverse("meeting", args=[works.locomotive.slug])


def shown(client, works, person="manager"):
    client.force_login(getattr(works.people, person))
    return client.get(address(works)).content.decode()


def test_who_did_what_names_each_person(works):
    works.clean(works.piece(), works.people.second_fitter)
    assert (str(works.people.second_fitter), "1 cleaned") in who_did_what(works.locomotive, days(-7), days(0))
    assert who_did_what(works.locomotive, days(1), days(7)) == []
    assert who_did_what(works.locomotive, days(-14), days(-7)) == []


def test_who_did_what_counts_no_state_that_is_written_without_work(works):
    """A list taken over, a piece sent back, and what was undone."""
    people = works.people
    piece = works.piece(State.CLEANED)
    works.do("send back", piece, people.engineer, to="stripped", reason="oil left in the bore")
    works.clean(piece, people.second_fitter)
    undo(fresh(piece).last_event, people.second_fitter)
    named = dict(who_did_what(works.locomotive, days(-7), days(0)))
    assert {str(people.engineer), str(people.second_fitter), str(people.manager)}.isdisjoint(named)


def test_a_repair_is_told_as_one_and_not_as_the_state_that_it_leaves(works):
    repair = a_repair(works)
    finish_repair(repair, works.people.fitter, work="bushed and reamed", who="Fitter")
    assert (str(works.people.fitter), "1 repaired") in who_did_what(works.locomotive, days(-7), days(0))


def test_a_late_firm_is_named_with_whom_to_ring(client, works):
    firm = a_firm(works, name="Invented Springs", contact="01234 invented")
    a_repair(works, firm=firm, promised=days(-3))
    page = shown(client, works)
    for words in ("Invented Springs", "01234 invented", "3 days overdue"):
        assert words in page


def test_work_that_is_stopped_is_told(client, works):
    stop(works.piece(), works.people.fitter, why="A crack at the root")
    assert "A crack at the root" in shown(client, works)


def test_strangers_sign_in_first_and_nothing_is_posted(client, works):
    assert client.get(address(works)).status_code == 302
    client.force_login(works.people.manager)
    assert client.post(address(works)).status_code == 405
    assert client.get("/l/nonsense/meeting/").status_code == 404
