"""The catalogue: everything that can be done, one entry an action, and every word that the event log knows.

Pure. Each app adds its entries once, when it is ready; buttons, forms, refusals, history, worklists and the role table
read them here. A word that nobody added is refused.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeVar

from ..roles import Role

Shape = Mapping[str, type | tuple[type, ...]]
"""What an event holds: the name of each value and its JSON type. Any of them may be left out."""


BEFORE, ACT = "before", "act"
"""What an event holds for undoing: the values before, and the number of the first event of what was done with it."""
PUT_BACK = ("undo", "correct")
"""The words under which it is put back; such an event holds under `undone` the number of the act."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Logged:
    """One event as a line of history is told from it."""

    data: Mapping[str, Any] = field(default_factory=dict)
    before: str = ""  # state
    after: str = ""
    went: str = ""  # "from Bench 1 to Crate 6", if it moved the piece


@dataclass(frozen=True, kw_only=True)
class EventType:
    """A word of the event log, with what its events hold. A changed shape is a new version."""

    word: str
    past: str = ""  # how history says it; the word itself when blank
    data: Shape = field(default_factory=dict)
    version: int = 1
    tell: Callable[[Logged], str] | None = None  # where `past` alone does not say enough
    signed: bool = False  # a name stands behind it as a signature
    tells_remark: bool = True  # history adds what was written
    undoable: bool = False  # its event keeps the values before, so that who did it may undo it
    words_stay: bool = False  # whatever it is done to is found by the same words as before

    def check(self, data: Mapping[str, object]) -> None:
        """Raises TypeError naming the first value that its shape does not know."""
        for name, value in data.items():
            if self.undoable and name == BEFORE:
                continue
            if name not in self.data:
                raise TypeError(f"An event “{self.word}” holds no “{name}”.")
            if not isinstance(value, self.data[name]):
                raise TypeError(f"“{name}” of an event “{self.word}” is {type(value).__name__}: {value!r}.")


@dataclass(frozen=True, kw_only=True)
class Action:
    """One thing that somebody does, and who may. `events`: the words under which it is logged."""

    word: str
    roles: frozenset[str]
    label: str = ""  # of its button
    done: str = ""  # what is said once it is done
    signed: bool = False
    events: tuple[EventType, ...] = ()

    @property
    def logged_as(self) -> tuple[EventType, ...]:
        return self.events


class Catalogue:
    """Actions and events by their words; each word once."""

    def __init__(self) -> None:
        self._actions: dict[str, Action] = {}
        self._events: dict[str, EventType] = {}

    def __iter__(self) -> Iterator[Action]:
        return iter(self._actions.values())

    def add(self, *actions: Action) -> None:
        """Adding the same entry again changes nothing; another one under a known word is a ValueError."""
        for action in actions:
            _add(self._actions, action)
            for event in action.logged_as:
                _add(self._events, event)

    def action(self, word: str) -> Action:
        if word not in self._actions:
            raise KeyError(f"no such action: {word!r}")
        return self._actions[word]

    def event(self, word: str) -> EventType:
        if word not in self._events:
            raise KeyError(f"no such event: {word!r}")
        return self._events[word]

    def event_words(self) -> list[str]:
        return sorted(self._events)

    def may(self, roles: Iterable[str], word: str) -> bool:
        """Does one of these roles allow the action? An unknown action is a programming error."""
        return not self.action(word).roles.isdisjoint(roles)

    def who_may(self, word: str) -> frozenset[str]:
        return self.action(word).roles


Entry = TypeVar("Entry", Action, EventType)


def _add(table: dict[str, Entry], entry: Entry) -> None:
    if table.setdefault(entry.word, entry) is not entry:
        raise ValueError(f"“{entry.word}” is in the catalogue already.")


CATALOGUE = Catalogue()


def may(roles: Iterable[str], word: str) -> bool:
    """Does one of these roles allow the action?"""
    return CATALOGUE.may(roles, word)


def who_may(word: str) -> list[str]:
    """The roles that allow an action, for a sentence such as 'This needs a fitter'."""
    return [role.value for role in Role if role in CATALOGUE.who_may(word)]
