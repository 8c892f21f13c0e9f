"""What every writer shares: who may, one transaction, one event."""

from collections.abc import Callable, Iterable
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date

from django.db import transaction
from django.utils import timezone

from ..domain.refusals import Refusal, Refused
from ..models import Event
from ..roles import may, who_may
from . import idempotency

FOLLOWERS: list[Callable[[list[Event]], None]] = []
"""Who is told the events of each transaction at its end, inside it; an app adds to these when it is ready."""
_logged: ContextVar[list[Event] | None] = ContextVar("logged", default=None)


@contextmanager
def one_transaction():
    """Check, write and log together, with the receipt of what a phone had kept. A refusal undoes everything."""
    with idempotency.with_receipt(), transaction.atomic(), _followed():
        yield


@contextmanager
def _followed():
    """Inside another transaction it is that one which tells the followers."""
    if _logged.get() is not None:
        yield
        return
    token = _logged.set([])
    try:
        yield
        tell(_logged.get())
    finally:
        _logged.reset(token)


def tell(events: Iterable[Event]) -> None:
    events = list(events)
    for follower in FOLLOWERS if events else ():
        follower(events)


def today() -> date:
    return timezone.localdate()


def allow(actor, deed: str) -> None:
    """Refuse unless one of the person's roles allows the deed."""
    if not actor.is_active or not may(actor.role_names, deed):
        raise Refused(Refusal("role", f"Your roles do not allow “{deed}”.", f"It needs: {', '.join(who_may(deed))}."))


def log(actor, action: str, **fields) -> Event:
    """Write one event."""
    event = Event.objects.create(actor=actor, action=action, **fields)
    idempotency.note(event)
    logged(event)
    return event


def logged(*events: Event) -> None:
    """These were written: by `log`, or many at once by another way."""
    found = _logged.get()
    if found is None:
        tell(events)
    else:
        found.extend(events)
