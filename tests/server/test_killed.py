"""The server is killed in the midst of its work: what it had answered for is there, and nothing is there by half."""

import http.client
import itertools
import json
import os
import secrets
import shutil
import sqlite3
import threading
import time
import urllib.error
from contextlib import closing
from pathlib import Path

import pytest

from tests.demo_copy import PASSWORD, Register
from tests.pictures import a_photo
from tests.running import manage, serving
from tests.visitor import Visitor, seen_in

GONE = (urllib.error.URLError, ConnectionError, http.client.HTTPException, TimeoutError)
STRIPPED = """
    SELECT tag.code FROM parts_component piece JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    WHERE piece.state = 'stripped' ORDER BY piece.id"""


class Acknowledged:
    """What the server said that it had kept."""

    def __init__(self):
        self.cleaned, self.photos, self.before, self.events = [], [], 0, 0
        self.sent = {}  # by its key, how each thing that a phone had kept can be sent again

    def __len__(self):
        return len(self.cleaned) + len(self.photos)


@pytest.fixture(scope="module")
def killed(built_demo, tmp_path_factory):
    """A copy of the demo whose server was killed while three people worked; and what it had acknowledged by then."""
    folder = Path(shutil.copytree(built_demo, tmp_path_factory.mktemp("killed") / "copy"))
    told = Acknowledged()
    with serving(folder, COTTER_DEMO="1") as address:
        register = Register(address, folder)
        told.before = register.one("SELECT count(*) FROM parts_photo")
        told.events = register.one("SELECT max(id) FROM parts_event")
        codes = [code for (code,) in register.rows(STRIPPED)]
        jar = Visitor(address).sign_in("pim", PASSWORD).cookies
        people = [Visitor(address, follow=False, cookies=jar) for _ in range(3)]
        work = [
            threading.Thread(target=clean_all, args=(people[0], codes, told)),
            *(threading.Thread(target=photograph, args=(person, codes[0], told)) for person in people[1:]),
        ]
        for thread in work:
            thread.start()
        until = time.monotonic() + 60
        while (len(told.cleaned) < 5 or len(told.photos) < 5) and time.monotonic() < until:
            time.sleep(0.01)
        address.process.kill()
        for thread in work:
            thread.join(60)
    assert len(told.cleaned) >= 5
    assert len(told.photos) >= 5
    return register, told


def clean_all(person: Visitor, codes: list[str], told: Acknowledged) -> None:
    """Every second one as a plain form, the others from what the phone had kept."""
    for number, code in enumerate(codes):
        address = f"/t/{code}/do/clean"
        try:
            entered = {"method": "steam", "seen": seen_in(person.get(address).body)}
            if number % 2:
                done = person.post(address, **entered).status == 302
            else:
                done = send_kept(person, told, secrets.token_hex(16), address, entered)
            if done:
                told.cleaned.append(code)
        except GONE:
            return


def send_kept(person: Visitor, told: Acknowledged, key: str, address: str, entered: dict) -> bool:
    told.sent[key] = (address, entered)
    return person.post(address, headers=person.kept(key), **entered).status == 200


def photograph(person: Visitor, code: str, told: Acknowledged) -> None:
    for number in itertools.count():
        key, picture = secrets.token_hex(16), a_photo(size=(1600, 1200)).read()
        told.sent[key] = (f"/t/{code}/photos", picture)
        try:
            if person.upload(f"/t/{code}/photos", f"{number}.jpg", picture, headers=person.kept(key)).status == 200:
                told.photos.append(key)
        except GONE:
            return


def test_every_change_that_was_acknowledged_is_there(killed):
    register, told = killed
    for code in told.cleaned:
        found = register.rows(
            "SELECT piece.state, event.action FROM parts_component piece "
            "JOIN parts_tag tag ON tag.component_id = piece.id "
            "JOIN parts_event event ON event.id = piece.last_event WHERE tag.code = ?",
            code,
        )
        assert found == [("cleaned", "clean")]


def test_every_photo_that_was_acknowledged_is_there(killed):
    """Each by its own receipt: others, which nobody had been told of yet, may have arrived in the meantime."""
    register, told = killed
    kept = register.rows(
        "SELECT receipt.key FROM parts_receipt receipt JOIN parts_event event ON event.id = receipt.event_id "
        "JOIN parts_photo photo ON photo.name = json_extract(event.data, '$.photo')"
    )
    assert set(told.photos) <= {key for (key,) in kept}


def test_no_photo_is_without_its_files(killed):
    register, _ = killed
    for name, suffix in register.rows("SELECT name, original_suffix FROM parts_photo"):
        for file in (f"originals/{name}{suffix}", f"pictures/{name}-large.jpg", f"pictures/{name}-small.jpg"):
            assert (register.data / file).stat().st_size, file


def test_every_photo_has_its_event_and_no_event_is_without_its_photo(killed):
    register, told = killed
    photos = register.one("SELECT count(*) FROM parts_photo")
    assert register.one("SELECT count(*) FROM parts_event WHERE action = 'photograph'") == photos


def test_the_database_is_whole(killed):
    register, _ = killed
    with closing(sqlite3.connect(register.data / "cotter.sqlite3")) as database:
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []


def test_what_each_place_needs_is_still_what_the_rows_say(killed):
    register, _ = killed
    checked = manage(register.folder, "check_standings", COTTER_DEMO="1")
    assert not checked.returncode, checked.stdout + checked.stderr


def test_each_receipt_stands_beside_its_change_and_none_without(killed):
    register, told = killed
    receipts = register.rows("SELECT key, event_id, message FROM parts_receipt")
    assert {key for key, _, _ in receipts} <= set(told.sent)
    assert set(told.photos) <= {key for key, _, _ in receipts}
    assert all(event and message for _, event, message in receipts)


def test_files_that_an_upload_left_behind_are_swept(killed):
    """Those that are young might still be arriving; an hour later they cannot."""
    register, _ = killed
    for folder in ("originals", "pictures"):
        for path in (register.data / folder).iterdir():
            os.utime(path, (0, 0))
    swept = manage(register.folder, "sweep_photos", COTTER_DEMO="1")
    assert not swept.returncode, swept.stderr
    assert "0 files of photos missing." in swept.stdout
    photos = register.one("SELECT count(*) FROM parts_photo")
    assert len(list((register.data / "originals").iterdir())) == photos
    assert len(list((register.data / "pictures").iterdir())) == 2 * photos


def test_it_serves_again_and_goes_on_with_the_work(killed):
    """On the last piece: what was on its way for the first one left may be sent again."""
    register, _ = killed
    (*_, (code,)) = register.rows(STRIPPED)
    with serving(register.folder, COTTER_DEMO="1") as address:
        person = Visitor(address, follow=False).sign_in("pim", PASSWORD)
        seen = seen_in(person.get(f"/t/{code}/do/clean").body)
        assert person.post(f"/t/{code}/do/clean", method="steam", seen=seen).status == 302


def test_phones_send_everything_again_and_each_thing_is_there_once(killed):
    """They cannot know which answers were on their way when the server was killed."""
    register, told = killed
    with serving(register.folder, COTTER_DEMO="1") as address:
        person = Visitor(address, follow=False).sign_in("pim", PASSWORD)
        arrived = {key for (key,) in register.rows("SELECT key FROM parts_receipt")}
        for key, (path, entered) in told.sent.items():
            headers = person.kept(key)
            if isinstance(entered, bytes):
                answer = person.upload(path, "again.jpg", entered, headers=headers)
            else:
                answer = person.post(path, headers=headers, **entered)
            assert answer.status == 200, answer.body
            assert json.loads(answer.body)["again"] == (key in arrived)
    photos = [key for key, (_, entered) in told.sent.items() if isinstance(entered, bytes)]
    assert register.one("SELECT count(*) FROM parts_photo") == told.before + len(photos)
    twice = register.rows(
        "SELECT number FROM core_eventsubject JOIN parts_event ON parts_event.id = event_id "
        "WHERE kind = 'piece' AND action = 'clean' AND event_id > ? GROUP BY number HAVING count(*) > 1",
        told.events,
    )
    assert twice == []
