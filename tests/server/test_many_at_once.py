"""Thirty people at once, through the server: nobody is refused for want of the database, and nothing is lost."""

import json
import re
import secrets
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from tests.demo_copy import PASSWORD
from tests.pictures import a_photo
from tests.running import manage
from tests.visitor import Visitor, seen_in

MANY = 30
STRIPPED = """
    SELECT tag.code, piece.id FROM parts_component piece
    JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    WHERE piece.state = 'stripped' ORDER BY piece.id LIMIT ?"""

CLEANED_SINCE = """
    SELECT count(*) FROM core_eventsubject subject JOIN parts_event event ON event.id = subject.event_id
    WHERE kind = 'piece' AND number = ? AND action = 'clean' AND event_id > ?"""


@pytest.fixture(scope="module")
def sessions(register):
    """Who is signed in already, by name: thirty sign-ins would only measure how slowly passwords are checked."""
    names = ("pim", "wren", "nell", "bram", "ines")
    return {name: Visitor(register.address, follow=False).sign_in(name, PASSWORD).cookies for name in names}


@pytest.fixture
def people(register, sessions):
    jars = list(sessions.values())
    return [Visitor(register.address, follow=False, cookies=jars[n % len(jars)]) for n in range(MANY)]


def all_at_once(deeds) -> list:
    """Their answers; none begins before all are there."""
    start = Barrier(len(deeds))

    def after_the_others(deed):
        start.wait()
        return deed()

    with ThreadPoolExecutor(len(deeds)) as pool:
        return list(pool.map(after_the_others, deeds))


def clean(person: Visitor, code: str, seen: str):
    return lambda: person.post(f"/t/{code}/do/clean", method="hot wash", seen=seen)


def test_thirty_pieces_cleaned_at_once_are_all_clean(register, people):
    pieces = register.rows(STRIPPED, MANY)
    assert len(pieces) == MANY
    before = register.one("SELECT count(*) FROM parts_event")
    forms = [seen_in(people[0].get(f"/t/{code}/do/clean").body) for code, _ in pieces]
    deeds = [clean(who, code, seen) for who, (code, _), seen in zip(people, pieces, forms, strict=True)]
    assert [answer.status for answer in all_at_once(deeds)] == [302] * MANY
    assert register.one("SELECT count(*) FROM parts_event") == before + MANY
    for _, piece in pieces:
        state, last = register.rows("SELECT state, last_event FROM parts_component WHERE id = ?", piece)[0]
        assert state == "cleaned"
        assert register.one("SELECT action FROM parts_event WHERE id = ?", last) == "clean"
    checked = manage(register.folder, "check_standings", COTTER_DEMO="1")
    assert not checked.returncode, checked.stdout + checked.stderr


def test_of_thirty_on_one_piece_one_wins_and_the_others_are_told_who_did_what_and_when(register, people):
    ((code, piece),) = register.rows(STRIPPED, 1)
    seen = seen_in(people[0].get(f"/t/{code}/do/clean").body)
    answers = all_at_once([clean(person, code, seen) for person in people])
    assert sorted(answer.status for answer in answers) == [302] + [409] * (MANY - 1)
    winner = register.one(
        "SELECT first_name || ' ' || last_name FROM workshop_person JOIN parts_event ON actor_id = workshop_person.id "
        "WHERE parts_event.id = (SELECT last_event FROM parts_component WHERE id = ?)",
        piece,
    )
    told = re.compile(rf"{winner} recorded “clean” on it at \d\d:\d\d on \d+ \w+")
    assert all(told.search(answer.body) for answer in answers if answer.status == 409)
    assert register.one(CLEANED_SINCE, piece, int(seen)) == 1


def test_the_same_thing_sent_thirty_times_at_once_is_done_once_and_answered_alike(register, sessions):
    ((code, piece),) = register.rows(STRIPPED, 1)
    phones = [Visitor(register.address, follow=False, cookies=sessions["pim"]) for _ in range(MANY)]
    seen = seen_in(phones[0].get(f"/t/{code}/do/clean").body)
    headers = phones[0].kept(secrets.token_hex(16))
    entered = {"method": "hot wash", "seen": seen}
    answers = all_at_once(
        [lambda phone=phone: phone.post(f"/t/{code}/do/clean", headers=headers, **entered) for phone in phones]
    )
    assert [answer.status for answer in answers] == [200] * MANY
    told = [json.loads(answer.body) for answer in answers]
    assert sorted(answer.pop("again") for answer in told) == [False] + [True] * (MANY - 1)
    assert all(answer == told[0] for answer in told)
    assert register.one(CLEANED_SINCE, piece, int(seen)) == 1


def test_thirty_phones_send_what_they_kept_at_once_and_all_of_it_arrives(register, people):
    ((code, piece),) = register.rows(STRIPPED, 1)
    before = register.one("SELECT count(*) FROM parts_photo WHERE component_id = ?", piece)

    def send(person: Visitor):
        headers, picture = person.kept(secrets.token_hex(16)), a_photo().read()
        return lambda: person.upload(f"/t/{code}/photos", "image.jpg", picture, headers=headers)

    assert [answer.status for answer in all_at_once([send(person) for person in people])] == [200] * MANY
    assert register.one("SELECT count(*) FROM parts_photo WHERE component_id = ?", piece) == before + MANY


def test_nothing_of_it_was_trouble_in_the_log(register):
    text = (register.folder / "serving.txt").read_text(encoding="utf-8")
    assert "locked" not in text
    assert "Traceback" not in text
