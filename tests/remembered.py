"""Scenery by real actions, carried out once: where the same calls begin another test, the rows that they wrote are
written again as they were, at a tenth of the cost, and what they gave is given again.

A call is remembered by all that came before it, back to the new register that every test begins with. So it counts only
while nothing else was written since; after that everything is done anew.
"""

import pickle
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass
from functools import wraps
from hashlib import blake2b
from http.cookies import SimpleCookie

from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.db import connection, models
from django.http import HttpRequest
from django.test import Client
from django.utils import timezone

from core.accounts.devices import BACKEND
from core.domain import browsers
from core.models import SignIn

KEPT_S = 420
"""What was done is not said to have been done long before its test, and can still be undone in it."""
WRITES = ("INSERT", "UPDATE", "DELETE")
READS = ("SELECT", "SAVEPOINT", "RELEASE")
UNDONE = None
"""Stands among the writes for a statement that cannot be sent again alone: a transaction rolled back."""
NOW = timezone.now


class Numbers:
    """1, 2, 3 and so on, beginning anew with each new register."""

    next = 1

    def __next__(self) -> int:
        self.next += 1
        return self.next - 1


numbers = Numbers()


@dataclass
class Kept:
    """What a call wrote, and what it gave and made of its arguments."""

    writes: list[tuple] | str  # on PostgreSQL one text
    came_of_it: bytes
    next_number: int
    at: float


class Memory:
    new: object = None  # how many rows each table of a new register has had; on PostgreSQL the SQL that says so
    kept: dict[bytes, Kept] = {}
    so_far: bytes | None = None  # stands for all calls since the new register, if nothing else was written
    changes = 0  # how many rows had been written by then
    looked = busy = False

    def prepare(self) -> None:
        """Once there is a new register."""
        self.new = sequences() if connection.vendor == "sqlite" else restart_of_sequences()
        if connection.vendor != "sqlite":
            connection.execute_wrappers.append(_counting)

    def begin(self) -> None:
        """Before each test."""
        self.so_far, self.looked, self.changes = None, False, _changes()

    def knows(self) -> bool:
        """Is the register what remembered calls alone have made of a new one?"""
        if self.busy or not connection.in_atomic_block or timezone.now is not NOW:
            return False
        if _changes() != self.changes:
            self.so_far, self.looked = None, True
        elif not self.looked:
            self.looked = True
            if _is_new():
                self.so_far, numbers.next = b"new", 1
        return self.so_far is not None

    def went_on(self, key: bytes) -> None:
        self.so_far, self.changes = key, _changes()


memory = Memory()


def sequences() -> list[tuple]:
    with connection.cursor() as cursor:
        return cursor.execute("SELECT name, seq FROM sqlite_sequence ORDER BY name").fetchall()


def restart_of_sequences() -> str:
    """PostgreSQL counts on when what was written is undone."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT string_agg(format('setval(%L, %s, %L)', quote_ident(sequencename), "
            "coalesce(last_value, start_value), last_value IS NOT NULL), ', ') FROM pg_sequences"
        )
        return f"SELECT {cursor.fetchone()[0]}"


def _is_new() -> bool:
    if connection.vendor == "sqlite":
        return sequences() == memory.new
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_current_xact_id_if_assigned() IS NULL")  # it has one as soon as it writes
        new = cursor.fetchone()[0]
        if new:
            cursor.execute(memory.new)
        return new


counted = 0
"""How many statements have written, on PostgreSQL."""


def _counting(execute, sql, params, many, context):
    global counted
    if sql.lstrip().partition(" ")[0].upper() not in READS:
        counted += 1
    return execute(sql, params, many, context)


def _changes() -> int:
    if connection.vendor != "sqlite":
        return counted
    return connection.connection.total_changes if connection.connection else 0


def remembered(call: Callable) -> Callable:
    """For a call that only writes to the register."""

    @wraps(call)
    def once(*args, **kwargs):
        if not memory.knows():
            return call(*args, **kwargs)
        try:
            called = pickle.dumps((memory.so_far, call.__module__, call.__qualname__, numbers.next, args, kwargs))
        except (pickle.PicklingError, TypeError, AttributeError):
            return call(*args, **kwargs)
        key = blake2b(called).digest()
        kept = memory.kept.get(key)
        if kept and time.monotonic() - kept.at < KEPT_S:
            _write_again(kept)
        else:
            given, kept = _anew(call, args, kwargs)
            if kept is None:
                return given
            memory.kept[key] = kept
        memory.went_on(key)
        return _given(kept, args, kwargs)

    return once


def each_remembered(cls: type) -> type:
    """For a class whose methods are such calls."""
    for name, method in list(vars(cls).items()):
        if callable(method) and not name.startswith("_"):
            setattr(cls, name, remembered(method))
    return cls


FORCE_LOGIN = Client.force_login


@remembered
def _signed_in(person, agent: str) -> SimpleCookie:
    """The cookies of a device that this person has signed in with and looked at a page."""
    request, client, now = HttpRequest(), Client(), timezone.now()
    request.session = store = SessionStore()
    store[SESSION_KEY], store[BACKEND_SESSION_KEY] = str(person.pk), BACKEND
    store[HASH_SESSION_KEY], store["used_at"] = person.get_session_auth_hash(), int(now.timestamp())
    store.create()
    known = {"address": "127.0.0.1", "browser": browsers.in_words(agent), "last_seen": now}
    SignIn.objects.create(session_key=store.session_key, person=person, **known)
    client._set_login_cookies(request)
    return client.cookies


def force_login(client: Client, person, backend=None) -> None:
    """Whoever comes to a client has a device of their own there, and finds it again as it was left. What else a device
    has is kept by Django's own way."""
    if backend or client.cookies.keys() - {settings.SESSION_COOKIE_NAME, settings.CSRF_COOKIE_NAME, "messages"}:
        return FORCE_LOGIN(client, person, backend)
    devices = vars(client).setdefault("devices", {})
    cookies = devices.get(person.pk)
    if cookies is None or not _still_signed_in(cookies, person):
        cookies = devices[person.pk] = _signed_in(person, client.defaults.get("HTTP_USER_AGENT", ""))
    client.cookies = cookies


def _still_signed_in(cookies: SimpleCookie, person) -> bool:
    kept = cookies.get(settings.SESSION_COOKIE_NAME)
    return bool(kept) and SessionStore(kept.value).get(HASH_SESSION_KEY) == person.get_session_auth_hash()


def _anew(call, args, kwargs) -> tuple[object, Kept | None]:
    """What it gave; and what to keep, unless part of it was undone."""
    writes, memory.busy, since = [], True, time.monotonic()
    try:
        with connection.execute_wrapper(_noting(writes)):
            given = call(*args, **kwargs)
        if UNDONE in writes:
            return given, None
        return given, Kept(_ready(writes), pickle.dumps((given, args, kwargs)), numbers.next, since)
    finally:
        memory.busy = False


def _noting(writes: list):
    def note(execute, sql, params, many, context):
        word = sql.lstrip().partition(" ")[0].upper()
        if word in WRITES or "nextval(" in sql:
            writes.append((many, sql, params))
        elif word not in READS:
            writes.append(UNDONE)
        return execute(sql, params, many, context)

    return note


def _ready(writes: list[tuple]) -> list[tuple] | str:
    """To be sent again past Django."""
    if connection.vendor == "sqlite":
        return [
            (many, sql.replace("%s", "?").replace("%%", "%"), [*params] if many else tuple(params or ()))
            for many, sql, params in writes
        ]
    cursor = connection.connection.cursor()
    rows = [(sql, row) for many, sql, params in writes for row in (params if many else [params])]
    return ";".join(cursor.mogrify(sql, row) for sql, row in rows)


def _write_again(kept: Kept) -> None:
    raw = connection.connection
    if isinstance(kept.writes, str):
        raw.cursor().execute(kept.writes)
    else:
        for many, sql, params in kept.writes:
            (raw.executemany if many else raw.execute)(sql, params)
    numbers.next = kept.next_number


def _given(kept: Kept, args, kwargs):
    """What came of it. The arguments become what they became then; the first time too, so that what follows is asked
    of the very same."""
    given, *became = pickle.loads(kept.came_of_it)
    same = {}
    for old, new in zip(_rows_in([args, kwargs]), _rows_in(became), strict=True):
        old.__dict__.clear()
        old.__dict__.update(new.__dict__)
        same[id(new)] = old
    return same.get(id(given), given)


def _rows_in(thing) -> Iterator[models.Model]:
    if isinstance(thing, models.Model):
        yield thing
    elif is_dataclass(thing):
        for field in fields(thing):
            yield from _rows_in(getattr(thing, field.name))
    elif isinstance(thing, dict):
        yield from _rows_in(list(thing.values()))
    elif isinstance(thing, list | tuple):
        for each in thing:
            yield from _rows_in(each)
