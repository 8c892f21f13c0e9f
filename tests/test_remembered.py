"""Remembered scenery is the same as what real actions make, and is left alone as soon as something else was written."""

import pytest
from django.db import connection, transaction
from django.test import Client

from core.domain.refusals import Refused
from core.models import SignIn
from parts.domain.words import State
from parts.models import Location
from tests import remembered
from tests.factories import a_cast, a_works, fresh
from tests.remembered import memory

pytestmark = pytest.mark.django_db


def scenery():
    works = a_works(people=a_cast())
    piece = works.piece(State.ACCEPTED, place=works.critical_place())
    works.do("send back", piece, works.people.fitter, to=State.STRIPPED, reason="rust")
    return works, piece


def everything() -> dict:
    tables = sorted(set(connection.introspection.table_names()) - {"sqlite_sequence"})
    with connection.cursor() as cursor:
        return {table: list(rows_of(cursor, table)) for table in tables}


def rows_of(cursor, table: str):
    cursor.execute(f'SELECT * FROM "{table}" ORDER BY 1')
    return cursor.fetchall()


def undone(make):
    """What comes of it in a new register, which is new again afterwards."""
    with transaction.atomic():
        memory.begin()
        came = make()
        stands = everything()
        transaction.set_rollback(True)
    if connection.vendor == "postgresql":
        connection.connection.rollback()  # all of it: what was written in a part of a transaction counts as written
    memory.begin()
    return came, stands


@pytest.fixture
def anew(monkeypatch):
    """The names of the calls that were carried out."""
    called = []
    real = remembered._anew
    monkeypatch.setattr(memory, "kept", {})
    monkeypatch.setattr(remembered, "_anew", lambda call, *rest: (called.append(call.__name__), real(call, *rest))[1])
    return called


def test_the_second_time_the_same_rows_stand_there_and_nothing_was_done(anew):
    (works, piece), first = undone(scenery)
    assert anew == ["a_cast", "a_works", "critical_place", "piece", "do"]
    anew.clear()
    (again, piece_again), second = undone(scenery)
    assert anew == []
    assert second == first
    assert (again.locomotive.slug, piece_again.pk, piece_again.state) == (works.locomotive.slug, piece.pk, piece.state)
    assert vars(piece_again).keys() == vars(piece).keys()


def test_a_piece_that_was_given_is_brought_up_to_date_each_time():
    def sent_back():
        works = a_works(people=a_cast())
        piece = works.piece(State.ACCEPTED)
        works.do("send back", piece, works.people.fitter, to=State.STRIPPED, reason="rust")
        return piece.state, fresh(piece).state

    for _ in range(2):
        assert undone(sent_back)[0] == (State.STRIPPED, State.STRIPPED)


@pytest.mark.engine
def test_after_anything_else_was_written_it_is_done_anew(anew):
    def with_a_crate_between():
        works = a_works(people=a_cast())
        Location.objects.filter(kind="crate").update(name="another name")
        return works.piece()

    undone(with_a_crate_between)
    undone(with_a_crate_between)
    assert anew == ["a_cast", "a_works"]


def test_other_arguments_are_another_call(anew):
    undone(lambda: a_works(people=a_cast()).piece(State.CLEANED))
    undone(lambda: a_works(people=a_cast()).piece(State.STRIPPED))
    assert anew == ["a_cast", "a_works", "piece", "piece"]


def test_a_change_in_memory_alone_is_another_call_too(anew):
    def renamed(name):
        works = a_works(people=a_cast())
        works.locomotive.name = name
        return works.piece()

    undone(lambda: renamed("one"))
    undone(lambda: renamed("two"))
    assert anew.count("piece") == 2


def test_what_was_done_a_while_ago_is_done_anew(anew, monkeypatch):
    undone(scenery)
    monkeypatch.setattr(remembered, "KEPT_S", 0)
    undone(scenery)
    assert anew.count("piece") == 2


def test_a_call_that_is_refused_is_refused_each_time_in_its_own_words(anew):
    def refused():
        works = a_works(people=a_cast())
        with pytest.raises(Refused) as told:
            works.refit(works.piece(State.STRIPPED))
        return [str(refusal) for refusal in told.value.refusals]

    first, _ = undone(refused)
    assert undone(refused)[0] == first != []
    assert anew.count("refit") == 2


def test_a_device_made_by_rows_is_what_signing_in_and_the_page_after_it_make():
    person = a_cast().fitter
    person.set_password("in the hand 9")
    person.save()
    made, real = Client(), Client()
    made.force_login(person)
    assert real.post("/sign-in/", {"username": person.username, "password": "in the hand 9"}).status_code == 302
    assert real.get("/more/").status_code == 200
    used = [device.session.pop("used_at") for device in (made, real)]
    assert abs(used[0] - used[1]) < 60
    assert dict(made.session) == dict(real.session)
    assert made.session.get_expiry_age() == real.session.get_expiry_age()
    row, noted = SignIn.objects.values("person", "address", "browser", "tablet")
    assert row == noted
