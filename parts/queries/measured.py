"""The seam to what was examined and measured: the register asks `measured`, and the app that keeps such records puts
its own answers there when it is ready, in plain rows. Where no app does, nothing was measured."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from ..domain.fastening import BuiltSize
from ..domain.rows import Dimension, Examination, Fit
from ..models import Component, Locomotive, Position


class Sizes:
    """What was asked of some places and measured on the pieces in them: here, nothing."""

    called_for: Mapping = {}

    def of_piece(self, component: Component) -> tuple[Dimension, ...]:
        return ()


@dataclass
class Measured:
    """Each answer costs a number of queries that does not grow with the rows."""

    examinations: Callable[[dict], Mapping[int, list[Examination]]] = lambda filters: {}
    """By piece, oldest first; `filters` are lookups of Component."""

    sizes: Callable[[dict], Sizes] = lambda filters: Sizes()
    """Of the pieces that the filters find."""

    fits: Callable[[dict], Mapping[int, list[Fit]]] = lambda scope: {}
    """By place; `scope` are lookups of Position."""

    mates: Callable[[Iterable[int]], set[int]] = lambda places: set()
    """The places whose pieces run or press together with those of these places."""

    conceded: Callable[[Locomotive], list] = lambda locomotive: []
    """What stands under a concession on it: `what`, `until` and `piece`, which is none for a fit."""

    lines: Callable[[Component], list] = lambda component: []
    """The sizes of a piece, each as its page shows it."""

    built: Callable[[Position], list[BuiltSize]] = lambda position: []
    """What is measured in this place as its piece goes on, with what is allowed."""

    cracks: Callable[[Locomotive, date], list[datetime]] = lambda locomotive, since: []
    """When each crack was signed that a look from this day on showed and the look before it did not."""

    name_dimensions: Callable[[Iterable[tuple[Position, Iterable]], str], None] = lambda named, unit: None
    """What new places are measured for, in this unit and without limits: those are added with their source."""

    to_match: Callable[[Position, Component | None], list] = lambda position, component: []
    """What a successor must match, each as a page shows it."""

    supports: Callable[[Iterable[int]], Mapping[int, list]] = lambda holds: {}
    """By hold point, the signed tests that support its release, the newest first: `words`, `href`, `good`."""

    boilers: Callable[[Locomotive | None, date], list] = lambda locomotive, today: []
    """Its boilers, or all with the spares, each with what its file says is due, owed or in doubt on this day."""

    examinations_due: Callable[[Locomotive, date], list] = lambda locomotive, today: []
    """The rows of its boilers' written schemes that are due, each with `boiler`, `words` and `until`; that is none
    where it was never done."""

    flawed: Callable[[], Any] = lambda: []
    """The numbers of the pieces on which a look showed something that no later look of its kind found good."""


measured = Measured()
