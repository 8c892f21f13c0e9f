"""How many questions a scan and a cleaning ask of the database, however much there is around the piece; and through how
many files whoever reads the code follows a cleaning."""

import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection
from django.test.utils import CaptureQueriesContext

from core.log.writing import one_transaction
from parts.actions.perform import carry_out, judged
from parts.domain.rows import ActionInput
from parts.domain.words import State
from tests.factories import fresh

SCAN, CLEAN_AND_SCAN = 26, 60
FILES = 20
"""Wanted: 15. Models, middleware, access and roles do not count."""
ROOT = Path(__file__).parents[3]


def asked(ask) -> int:
    with CaptureQueriesContext(connection) as captured:
        ask()
    return len(captured)


@pytest.fixture
def volunteer(client, works):
    client.force_login(works.people.volunteer)
    client.get("/")
    return client


def crowd(works, number: int) -> None:
    """Other pieces, in the same crate and subassembly, at other states."""
    for _ in range(number):
        works.piece(State.CLEANED)


def test_a_scan_asks_little(volunteer, works):
    crowd(works, 8)
    piece = works.piece(State.STRIPPED, place=works.critical_place())
    assert asked(lambda: volunteer.get(f"/t/{piece.tags.current_code()}")) <= SCAN


def test_a_cleaning_and_the_page_after_it_ask_little(volunteer, works):
    crowd(works, 8)
    piece = works.piece(State.STRIPPED, place=works.critical_place())
    address = f"/t/{piece.tags.current_code()}"
    entered = {"method": "steam", "seen": piece.last_event}
    assert asked(lambda: volunteer.post(f"{address}/do/clean", entered, follow=True)) <= CLEAN_AND_SCAN
    assert fresh(piece).state == State.CLEANED


def test_a_batch_asks_no_more_for_many_pieces_than_for_two(works):
    def clean(pieces, actor):
        with one_transaction():
            carry_out(judged("clean", pieces, actor, ActionInput(method="by hand")), [], actor)

    def cleaning(number: int) -> int:
        pieces = [(works.piece(State.STRIPPED), None) for _ in range(number)]
        return asked(lambda: clean(pieces, works.people.volunteer))

    assert cleaning(2) == cleaning(8)


def test_a_cleaning_passes_through_few_files(volunteer, works):
    def clean(piece):
        entered = {"method": "steam", "seen": piece.last_event}
        assert volunteer.post(f"/t/{piece.tags.current_code()}/do/clean", entered).status_code == 302

    clean(works.piece(State.STRIPPED, place=works.critical_place()))  # what is made once is there from now on
    piece = works.piece(State.STRIPPED, place=works.critical_place())
    files = {file for file in called(lambda: clean(piece)) if not beside(file)}
    assert len(files) <= FILES, "\n".join(sorted(files))


def called(act) -> set[str]:
    """The files of the project of which a function was called."""
    seen = set()
    sys.setprofile(lambda frame, event, _: seen.add(frame.f_code.co_filename) if event == "call" else None)
    try:
        act()
    finally:
        sys.setprofile(None)
    ours = {Path(file).relative_to(ROOT) for file in seen if file.startswith(f"{ROOT}/")}
    return {file.as_posix() for file in ours if file.parts[0] in ("core", "parts", "inspections", "workshop")}


def beside(file: str) -> bool:
    middleware = {"/".join(name.split(".")[:-1]) + ".py" for name in settings.MIDDLEWARE}
    return "/models/" in file or file in middleware | {"core/access.py", "core/roles.py"}
