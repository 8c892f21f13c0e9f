"""What an event says of costs: a first sum, or one that moved. Pure."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

KINDS = {"estimate": "estimated", "committed": "ordered", "actual": "paid"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """One sum that somebody changed. `was_in` differs from the currency where that was changed too."""

    kind: str
    old: Decimal | None
    new: Decimal | None
    currency: str
    was_in: str

    @property
    def word(self) -> str:
        return KINDS[self.kind]


def moved(data: Mapping[str, Any], currency: str) -> list[Moved]:
    """The sums that an event's data tell of; `currency` is the job's own, for events that do not name one.

    >>> moved({"estimate": ["400.00", "450.00"]}, "GBP")[0].new
    Decimal('450.00')
    """
    was_in, now_in = _pair(data.get("currency"), currency)
    found = []
    for kind in KINDS:
        if kind in data:
            old, new = data[kind] if isinstance(data[kind], list) else (None, data[kind])
            found.append(Moved(kind=kind, old=_sum(old), new=_sum(new), currency=now_in, was_in=was_in))
    for _, estimate, its_currency in data.get("again", ()):
        found.append(Moved(kind="estimate", old=None, new=_sum(estimate), currency=its_currency, was_in=its_currency))
    return found


def _pair(named: list[str] | str | None, currency: str) -> tuple[str, str]:
    if isinstance(named, list):
        return named[0] or named[1], named[1]
    return (named or currency,) * 2


def _sum(text: str | None) -> Decimal | None:
    return None if text is None else Decimal(text)


def differences(changes: Iterable[Moved]) -> dict[str, dict[str, Decimal]]:
    """By currency and kind, what the changes come to: out of the old currency, into the new."""
    sums: dict[str, dict[str, Decimal]] = defaultdict(lambda: dict.fromkeys(KINDS, Decimal(0)))
    for change in changes:
        sums[change.was_in][change.kind] -= change.old or Decimal(0)
        sums[change.currency][change.kind] += change.new or Decimal(0)
    return dict(sorted(sums.items()))
