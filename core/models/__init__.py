"""What everybody stands on: people and their devices, the event log, and receipts of what phones had kept."""

from .chain import Head, Link, SignedText
from .devices import SignIn, Tablet, TabletUse
from .events import Event, EventSubject
from .invitations import Invitation
from .keys import Attempts, Card
from .people import Authorisation, Person
from .receipts import Receipt

__all__ = [
    "Attempts",
    "Authorisation",
    "Card",
    "Event",
    "EventSubject",
    "Head",
    "Invitation",
    "Link",
    "Person",
    "Receipt",
    "SignIn",
    "SignedText",
    "Tablet",
    "TabletUse",
]
