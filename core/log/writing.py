"""What every writer shares: who may, one transaction, one event."""

from contextlib import contextmanager
from datetime import date

from django.db import transaction
from django.utils import timezone

from ..domain.refusals import Refusal, Refused
from ..models import Event
from ..roles import may, who_may
from . import idempotency


@contextmanager
def one_transaction():
    """Check, write and log together, with the receipt of what a phone had kept. A refusal undoes everything."""
    with idempotency.with_receipt(), transaction.atomic():
        yield


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
    return event
