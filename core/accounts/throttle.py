"""Wrong tries are counted, and the next one waits: kept in the database, so that a restart forgets nothing.

A try is counted before it is looked at, and taken off again if it was right: two that come at the same moment do not
both pass as the last free one.
"""

import logging
from dataclasses import dataclass
from datetime import timedelta

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from parts.domain.plain import day, several

from ..domain import waiting
from ..domain.waiting import Limit
from ..models import Attempts, Tablet

log = logging.getLogger(__name__)
TO_TELL = "wrong tries of "
"""What begins with this is no limit, and is kept until it is told."""


@dataclass(frozen=True)
class Ask:
    """What is tried: a limit and whom or where it is about. `shared` counts are not cleared by one who is right."""

    limit: Limit
    key: str
    shared: bool = False


class TooSoon(Exception):
    """The wait is not over; the message is a sentence for whoever tries."""

    def __init__(self, seconds: int):
        self.seconds = seconds
        super().__init__(f"Too many wrong tries. Wait {waiting.in_words(seconds)}, then try again.")


def by_name(name: str, address: str) -> list[Ask]:
    """Signing in with name and password. The name is counted as it was typed, whether there is such a person or not."""
    name = " ".join(name.replace("\0", "").lower().split())[:150]
    return [
        Ask(waiting.NAME_AT_ADDRESS, f"name {name} at {address}"),
        Ask(waiting.NAME, f"name {name}"),
        Ask(waiting.ADDRESS, f"address {address}", shared=True),
    ]


def by_pin(person_id: int, place: str) -> list[Ask]:
    return [Ask(waiting.PIN, f"pin of {person_id} at {place}")]


def by_code(address: str) -> list[Ask]:
    return [Ask(waiting.CODE, f"code at {address}", shared=True)]


def begin(asks: list[Ask]) -> None:
    """Count a try, or raise `TooSoon`. A try during the wait makes the wait no longer."""
    now = timezone.now()
    with transaction.atomic():
        rows = {row.key: row for row in Attempts.objects.select_for_update().filter(key__in=[ask.key for ask in asks])}
        left = max(_left(ask, rows.get(ask.key), now) for ask in asks)
        if left:
            raise TooSoon(left)
        for ask in asks:
            _count(ask, rows.get(ask.key), now)


def right(asks: list[Ask]) -> None:
    """The try was right: what it was counted for begins anew; of a shared count only this one is taken off."""
    own = [ask.key for ask in asks if not ask.shared]
    shared = [ask.key for ask in asks if ask.shared]
    with transaction.atomic():
        Attempts.objects.filter(key__in=own).delete()
        Attempts.objects.filter(key__in=shared, failures__gt=0).update(failures=F("failures") - 1)


def note_wrong(person_id: int, place: str) -> None:
    """Whose PIN or password was tried in vain is told so when they sign in."""
    key = f"{TO_TELL}{person_id} at {place}"[:250]
    row, new = Attempts.objects.get_or_create(key=key, defaults={"failures": 1, "last_at": timezone.now()})
    if not new:
        Attempts.objects.filter(pk=row.pk).update(failures=F("failures") + 1, last_at=timezone.now())


def told_once(person_id: int) -> str:
    """The sentence for the owner, empty if nothing was tried; it is told this once."""
    rows = list(Attempts.objects.filter(key__startswith=f"{TO_TELL}{person_id} at ").order_by("-last_at"))
    if not rows:
        return ""
    Attempts.objects.filter(pk__in=[row.pk for row in rows]).delete()
    tries, last = sum(row.failures for row in rows), timezone.localtime(rows[0].last_at)
    many = several(tries, "wrong try", "wrong tries")
    where = _where(rows[0].key.partition(" at ")[2])
    return (
        f"{many} at your PIN or password since you last signed in; the last on {day(last.date())}, {last:%H:%M}, at "
        f"{where}. If that was not you, choose another under More, Your sign-in."
    )


def _where(place: str) -> str:
    """Where it was tried (`Tablet.place`, and others), as its owner would call it."""
    word, _, number = place.partition(" ")
    tablet = Tablet.objects.filter(pk=number).first() if word == "tablet" and number.isdecimal() else None
    if tablet is not None:
        return f"the shared tablet {tablet}"
    return "the side of a colleague" if place.startswith("the side of ") else place


def _left(ask: Ask, row: Attempts | None, now) -> int:
    since = _since(row, now)
    if row is None or not waiting.still_counts(since):
        return 0
    return waiting.left_s(ask.limit, row.failures, since)


def _count(ask: Ask, row: Attempts | None, now) -> None:
    before = row.failures if row and waiting.still_counts(_since(row, now)) else 0
    Attempts.objects.update_or_create(key=ask.key, defaults={"failures": before + 1, "last_at": now})
    if row is None:
        old = now - timedelta(seconds=waiting.FORGOTTEN_AFTER_S)
        Attempts.objects.filter(last_at__lt=old).exclude(key__startswith=TO_TELL).delete()
    if waiting.wait_s(ask.limit, before):
        log.warning("Tried again after a wait, %d times in vain before: %s", before, ask.key)


def _since(row: Attempts | None, now) -> float:
    return (now - row.last_at).total_seconds() if row else 0.0
