"""What was kept on a phone arrives once, however often it is sent.

The phone makes a key for each thing. The receipt of that key is written in the transaction of the change itself, and
holds the answer; so whoever sends it again, because the answer was lost on the way, changes nothing and is told the
same. On PostgreSQL two that come at the same moment wait for each other on the unique key; on SQLite, for the database.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from datetime import datetime

from django.db import IntegrityError, transaction

from ..models import Person
from ..models.events import Event
from ..models.receipts import Receipt
from . import chain


class AlreadyArrived(Exception):
    """Another sending of the same thing was quicker; what it was told is in `receipt`."""

    def __init__(self, receipt: Receipt):
        self.receipt = receipt
        super().__init__(str(receipt))


@dataclass
class IdempotentRequest:
    """One thing from a phone on its way through the program. Its transaction begins with the first writer, so that
    pictures are read before it, and ends when the answer is known."""

    key: str
    person: Person
    sent_to: str
    kept_at: datetime | None = None
    receipt: Receipt | None = None
    event: Event | None = None  # what it led to
    seen: int | None = None  # the last event of the piece that it changed: the next form of that page carries it
    _transaction: transaction.Atomic | None = None
    _undoing: list[Callable] = field(default_factory=list)
    logged: list = field(default_factory=list)  # the events of its writers, for the one link at its end

    def begin(self) -> bool:
        """Open the transaction with the receipt in it; says whether it was not open before."""
        if self._transaction is not None:
            return False
        self._transaction = transaction.atomic()
        self._transaction.__enter__()
        try:
            with transaction.atomic():
                self.receipt = Receipt.objects.create(
                    key=self.key, person=self.person, sent_to=self.sent_to, kept_at=self.kept_at
                )
        except BaseException as trouble:
            self.undo()
            there = Receipt.objects.of_key(self.key) if isinstance(trouble, IntegrityError) else None
            if there is None:
                raise
            raise AlreadyArrived(there) from None
        return True

    @contextmanager
    def with_receipt(self) -> Iterator[None]:
        """Around each transaction of a writer: the receipt is in it."""
        began = self.begin()
        try:
            yield
        except BaseException:
            if began:
                self.undo()
            raise

    def undo(self) -> None:
        """Nothing of it was kept, the receipt included."""
        opened, self._transaction, self.receipt, self.event, self.seen = self._transaction, None, None, None, None
        undoing, self._undoing, self.logged = self._undoing, [], []
        if opened is not None:
            error = _Undone()
            opened.__exit__(type(error), error, None)
        for undo in undoing:
            undo()

    def done(self, message: str, onward: str) -> Receipt:
        """Write the answer beside the change, and keep both."""
        self.begin()
        receipt = self.receipt
        assert receipt is not None  # begin() makes it
        receipt.message, receipt.onward, receipt.event = message, onward[:300], self.event
        receipt.seen = self.seen
        try:
            receipt.save(update_fields=["message", "onward", "event", "seen"])
            self._commit()
        except BaseException:
            self.undo()
            raise
        self._undoing = []
        return receipt

    def partly(self) -> None:
        """What was written stays, and what was refused of it may be sent again: there is no receipt."""
        if self._transaction is None or self.receipt is None:  # begin() makes both
            return
        try:
            self.receipt.delete()
            self._commit()
        except BaseException:
            self.undo()
            raise
        self._undoing = []

    def append_at_end(self, logged: list) -> bool:
        """Whether it takes these events into the link that it appends itself."""
        if self._transaction is not None:
            self.logged += logged
        return self._transaction is not None

    def _commit(self) -> None:
        if self.logged:
            chain.append(self.logged)
        opened, self._transaction, self.logged = self._transaction, None, []
        if opened is not None:
            opened.__exit__(None, None, None)


class _Undone(Exception):
    """Ends a transaction without keeping it."""


under_way: ContextVar[IdempotentRequest | None] = ContextVar("arrival", default=None)


@contextmanager
def arriving(arrival: IdempotentRequest) -> Iterator[IdempotentRequest]:
    """Until the end, whatever is written belongs to this arrival; what is not done by then is undone."""
    before = under_way.set(arrival)
    try:
        yield arrival
    finally:
        under_way.reset(before)
        arrival.undo()


def if_undone(undo: Callable) -> None:
    """What else must be taken back if the transaction that is still open is not kept, such as files."""
    if (arrival := under_way.get()) and arrival._transaction is not None:
        arrival._undoing.append(undo)
