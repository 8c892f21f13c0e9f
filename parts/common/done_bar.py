"""The bar that says what was done, with a button that undoes it."""

from collections.abc import Iterable

from django.contrib import messages

from core.models import Event
from parts.actions.undo import acts

MOST = 100
"""More are told without a button: the list of what one just did has them all."""


def say_done(request, sentence: str, events: Iterable[Event]) -> None:
    """`events`: what was written, as `core.log.writing.written` collects it."""
    numbers = acts(events)
    several = " ".join(map(str, numbers)) if len(numbers) <= MOST else ""
    messages.success(request, sentence, extra_tags=several)
