"""What the `found.py` of a room says of a kind of thing that can be found: its words, its rows, whose words it says."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cache
from typing import Any

from django.db.models import Model

from ..models.prepared import Scope, prepared

Ids = list[int]


@dataclass(frozen=True, kw_only=True)
class Words:
    """The words of one thing. Which of them are its own: a tag is the piece's own, its crate is not."""

    name: str
    own: list[str] = field(default_factory=list)  # what else stands on it
    around: list[str] = field(default_factory=list)  # of its place, and of where it lies
    codes: list[str] = field(default_factory=list)  # every tag that it bears or bore
    past: bool = False


@dataclass(frozen=True, kw_only=True)
class FoundRow:
    """One thing that was found. What its kind does not have is empty."""

    thing: int
    title: str
    href: str
    about: str = ""  # what stands beside or under its name
    code: str = ""
    state: str = ""
    need: str = ""
    looked: datetime | None = None  # when somebody last had it in hand


@dataclass(frozen=True, kw_only=True)
class FoundKind:
    """`words` and `rows` read many numbers in few queries. `says`: for each other kind whose words it says, the lookup
    that leads there. `rank`: of several things that an event is about, the words of the lowest may have changed; 0: an
    event names it in its data."""

    kind: str
    model: type[Model]
    heading: str
    words: Callable[[Ids], dict[int, Words]]
    rows: Callable[[Ids, date], dict[int, FoundRow]]
    says: Mapping[str, str] = field(default_factory=dict)
    rank: int = 0

    @property
    def table(self) -> str:
        return self.model._meta.db_table

    @property
    def things(self) -> Any:
        return self.model._default_manager

    @property
    def out_of_use(self) -> list[str]:
        """The columns that say of some of its things that they are not found any more."""
        return [field.name for field in self.model._meta.fields if field.name in ("retired", "struck")]

    def all_ids(self) -> Ids:
        return list(self.things.order_by("pk").values_list("pk", flat=True))

    def saying(self, kind: str, ids: Ids) -> Ids:
        """The numbers of those that say the words of these things."""
        if kind not in self.says:
            return []
        return _numbers(self.model)({f"{self.says[kind]}__in": ids})


@cache
def _numbers(model: type[Model]) -> Callable[[Scope], Ids]:
    """Of the things that a lookup finds."""
    return prepared(lambda scope: model._default_manager.filter(**scope).values_list("pk", flat=True))
