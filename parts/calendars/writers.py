"""Writers of calendar addresses: made, made anew, withdrawn."""

import hashlib
import secrets

from core.log.writing import log
from core.models import Person

from ..actions import writing
from ..models import CalendarAddress

OCTETS = 32


def digest_of(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def make(person: Person) -> str:
    """The new secret, told once: only its digest is kept. The one before ends."""
    secret = secrets.token_urlsafe(OCTETS)
    with writing.one_transaction():
        writing.allow(person, "keep calendar")
        made = {"digest": digest_of(secret), "made_on": writing.today()}
        CalendarAddress.objects.update_or_create(person=person, defaults=made)
        log(person, "make calendar address", about=[("person", person.pk)], data={"person": person.pk})
    return secret


def withdraw(person: Person) -> bool:
    with writing.one_transaction():
        writing.allow(person, "keep calendar")
        gone, _ = CalendarAddress.objects.filter(person=person).delete()
        if gone:
            log(person, "withdraw calendar address", about=[("person", person.pk)], data={"person": person.pk})
    return bool(gone)


def whose(secret: str) -> Person | None:
    """Whose address it is, if they still sign in."""
    found = CalendarAddress.objects.select_related("person").filter(digest=digest_of(secret)).first()
    return found.person if found and found.person.is_active else None
