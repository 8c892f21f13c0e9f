"""The seam to what was examined and measured: the register asks, and whoever keeps such records answers in plain rows.

One protocol of batches; the app that keeps the records registers its provider when it is ready.
"""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any, Protocol

from ..domain.fastening import BuiltSize
from ..domain.rows import Dimension, Examination, Fit
from ..models import Component, Locomotive, Position


class Sizes:
    """What was asked of some places and measured on the pieces in them: here, nothing."""

    called_for: Mapping = {}

    def of_piece(self, component: Component) -> tuple[Dimension, ...]:
        return ()


class Measured(Protocol):
    """Each answer costs a number of queries that does not grow with the rows."""

    def examinations(self, filters: dict) -> Mapping[int, list[Examination]]:
        """By piece, oldest first; `filters` are lookups of Component."""

    def sizes(self, filters: dict) -> Sizes:
        """Of the pieces that the filters find."""

    def fits(self, scope: dict) -> Mapping[int, list[Fit]]:
        """By place; `scope` are lookups of Position."""

    def mates(self, places: Iterable[int]) -> set[int]:
        """The places whose pieces run or press together with those of these places."""

    def conceded(self, locomotive: Locomotive) -> list:
        """What stands under a concession on it: `what`, `until` and `piece`, which is none for a fit."""

    def lines(self, component: Component) -> list:
        """The sizes of a piece, each as its page shows it."""

    def built(self, position: Position) -> list[BuiltSize]:
        """What is measured in this place as its piece goes on, with what is allowed."""

    def cracks(self, locomotive: Locomotive, since: date) -> list[date]:
        """The day of each crack that a signed look from this day on showed and the look before it did not."""

    def name_dimensions(self, named: Iterable[tuple[Position, Iterable]], unit: str) -> None:
        """What new places are measured for, in this unit and without limits: those are added with their source."""

    def to_match(self, position: Position, component: Component | None) -> list:
        """What a successor must match, each as a page shows it."""

    def supports(self, holds: Iterable[int]) -> Mapping[int, list]:
        """By hold point, the signed tests that support its release, the newest first: `words`, `href`, `good`."""

    def boilers(self, locomotive: Locomotive | None, today: date) -> list:
        """Its boilers, or all with the spares, each with what its file says is due, owed or in doubt on this day."""

    def examinations_due(self, locomotive: Locomotive, today: date) -> list:
        """The rows of its boilers' written schemes that are due, each with `boiler`, `words` and `until`; that is none
        where it was never done."""

    def flawed(self) -> Any:
        """The numbers of the pieces on which a look showed something that no later look of its kind found good."""


class NothingMeasured:
    """Where no app keeps records."""

    def examinations(self, filters):
        return {}

    def sizes(self, filters):
        return Sizes()

    def fits(self, scope):
        return {}

    def mates(self, places):
        return set()

    def conceded(self, locomotive):
        return []

    def lines(self, component):
        return []

    def built(self, position):
        return []

    def cracks(self, locomotive, since):
        return []

    def name_dimensions(self, named, unit):
        pass

    def to_match(self, position, component):
        return []

    def supports(self, holds):
        return {}

    def boilers(self, locomotive, today):
        return []

    def examinations_due(self, locomotive, today):
        return []

    def flawed(self):
        return []


_provider: Measured = NothingMeasured()


def register(provider: Measured) -> None:
    global _provider
    _provider = provider


def measured() -> Measured:
    return _provider
