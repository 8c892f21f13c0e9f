"""Several pieces refitted or locked in the same way, in one go."""

from collections.abc import Iterable
from dataclasses import replace

from core.models import Person
from parts.actions import writing
from parts.actions.perform import carry_out, judged
from parts.domain.rows import ActionInput
from parts.models import Component

SHARED = ("tightened", "locked")
"""What is said of all; shims and what was measured are of each piece by itself."""


def do_alike(
    word: str, piece: Component, others: Iterable[str], actor: Person, given: ActionInput, *, seen: int | None
) -> None:
    """To all of them or to none."""
    with writing.one_transaction():
        tasks = judged(word, [(piece, seen)], actor, given)
        same = replace(given, override="", more={name: given.more[name] for name in SHARED if name in given.more})
        also = list(Component.objects.filter(pk__in=list(others)).order_by("pk"))
        tasks += judged(word, [(each, None) for each in also], actor, same, beside=True)
        carry_out(tasks, [], actor)
