"""Consumables: joints, packings, split pins, worsted. New every time; a count and a stock place, no tag and no state.

Pure: what a place wants of them by its name, what is short, and how that is said.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from .named_dimensions import TableRow
from .plain import day, listed, overdue


@dataclass(frozen=True, slots=True)
class NamedConsumable:
    """What one place takes each time it goes together."""

    name: str
    size: str  # "" where only the drawing of the locomotive says it
    quantity: int
    unit: str = ""  # "m", "kg"; "" where it is counted one by one


def read_consumables(rows: Iterable[TableRow], places: set[str]) -> dict[str, tuple[NamedConsumable, ...]]:
    """By the name of the place."""
    found: dict[str, list[NamedConsumable]] = {}
    for row in rows:
        row.source()
        named = NamedConsumable(row["name"], row["size"], row.quantity(), row["unit"])
        for place in row.known("place", row.listed("place"), places):
            found.setdefault(place, []).append(named)
    return {place: tuple(named) for place, named in found.items()}


def counted(number: int, unit: str) -> str:
    """'4', or '4 m'."""
    return f"{number} {unit}".strip()


def why_not_wanted(standing: str) -> str:
    """Of a place that does not count as open."""
    why = {"refitted": "refitted", "asleep": "inside a piece that is whole", "not required": "not required"}
    return f"not counted: {why.get(standing, 'no overhaul is open')}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """An order still to come."""

    quantity: int
    of: str
    promised: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One consumable as it stands: `wanted` by every place that is still open."""

    name: str
    unit: str = ""
    in_stock: int = 0
    least: int = 0
    wanted: int = 0
    orders: tuple[Ordered, ...] = ()

    @property
    def to_come(self) -> int:
        return sum(order.quantity for order in self.orders)

    @property
    def to_order(self) -> int:
        """What is missing once the open places have theirs, the least stock is kept, and every order has come."""
        return max(self.wanted + self.least - self.in_stock - self.to_come, 0)

    def say(self, number: int) -> str:
        return counted(number, self.unit)

    def short_here(self, wanted: int) -> int:
        """Of what one job wants, how much is not on the shelf. Another job may want the same: `wanted` says it all."""
        return max(wanted - self.in_stock, 0)

    def short_in_words(self, wanted: int, today: date) -> str:
        """'Dome cover joint: 1 wanted here, 0 in stock; 2 ordered of Invented Joints, promised 3 Dec 2026, overdue.'"""
        has = f"{self.name}: {counted(wanted, self.unit)} wanted here, {counted(self.in_stock, self.unit)} in stock"
        return f"{has}; {self.orders_in_words(today) or 'none ordered'}."

    def orders_in_words(self, today: date) -> str:
        return listed([_in_words(order, self.unit, today) for order in self.orders])


def _in_words(order: Ordered, unit: str, today: date) -> str:
    words = f"{counted(order.quantity, unit)} ordered" + (f" of {order.of}" if order.of else "")
    if order.promised is None:
        return f"{words}, no day promised"
    return f"{words}, promised {day(order.promised)}{overdue(order.promised, today)}"
