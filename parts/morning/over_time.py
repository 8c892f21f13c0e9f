"""How far a locomotive has come, week by week and month by month, and what was ordered and paid: from the log."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Count
from django.db.models.functions import TruncDate
from django.utils import timezone

from core.models import Event

from ..domain.costs import differences
from ..domain.curves import Stood
from ..domain.words import State
from ..models import Component
from ..money.money_context import MoneyChange

ACCEPTED = (State.ACCEPTED, State.RENEWED)
WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Month:
    """How it stood when the month ended, and what was ordered and paid within it."""

    first: date
    stood: Stood
    sums: list[tuple[str, Decimal, Decimal]]  # a currency, ordered for, paid


class OverTime:
    """Pieces as the log counts them, read in one query; without those that were entered by mistake."""

    def __init__(self, locomotive, today: date):
        self.today = today
        self.moved: dict[date, Counter[str]] = defaultdict(Counter)
        struck = Component._base_manager.filter(locomotive=locomotive, struck=True).values("pk")
        found = Event.objects.about("locomotive", locomotive.pk).exclude(to_state="").annotate(day=TruncDate("at"))
        found = found.exclude(pk__in=Event.objects.about("piece", struck).values("pk"))
        grouped = found.values_list("day", "from_state", "to_state").order_by().annotate(number=Count("pk"))
        for day, was, now, number in grouped:
            self.moved[day].update({now: number})
            self.moved[day].subtract({was: number})

    def stood(self, days: Iterable[date]) -> list[Stood]:
        """At the end of each of these days, the earliest first."""
        counted: Counter[str] = Counter()
        left, found = sorted(self.moved, reverse=True), []
        for day in days:
            while left and left[-1] <= day:
                counted.update(self.moved[left.pop()])
            accepted = sum(counted[state] for state in ACCEPTED)
            found.append(Stood(day=day, refitted=counted[State.REFITTED], accepted=accepted))
        return found

    def weeks(self, most: int = 52) -> list[Stood]:
        """Up to today; from the week in which the register begins, if that is later, but two at least."""
        begins = min(self.moved, default=self.today)
        number = min(max((self.today - begins).days // 7 + 1, 1), most)
        return self.stood(self.today - WEEK * back for back in reversed(range(number + 1)))

    def months(self, changes: Iterable[MoneyChange], number: int = 12) -> list[Month]:
        """The last one so far."""
        spent: dict[date, list] = defaultdict(list)
        for change in changes:
            spent[timezone.localdate(change.event.at).replace(day=1)] += change.moved
        firsts = last_months(self.today, number)
        stood = self.stood([*(later - timedelta(days=1) for later in firsts[1:]), self.today])
        return [
            Month(first=first, stood=one, sums=_sums(spent[first])) for first, one in zip(firsts, stood, strict=True)
        ]


def _sums(moved) -> list[tuple[str, Decimal, Decimal]]:
    sums = [(currency, kinds["committed"], kinds["actual"]) for currency, kinds in differences(moved).items()]
    return [one for one in sums if any(one[1:])]


def by_currency(months: Iterable[Month]) -> dict[str, list[tuple[date, Decimal, Decimal]]]:
    """Every month of each currency in which anything was ordered or paid."""
    months = list(months)
    none = (Decimal(0), Decimal(0))
    currencies = sorted({currency for month in months for currency, *_ in month.sums})
    told = {(month.first, currency): (ordered, paid) for month in months for currency, ordered, paid in month.sums}
    return {
        currency: [(month.first, *told.get((month.first, currency), none)) for month in months]
        for currency in currencies
    }


def last_months(today: date, number: int) -> list[date]:
    """The first day of each, the oldest first.

    >>> [str(day) for day in last_months(date(2026, 2, 28), 3)]
    ['2025-12-01', '2026-01-01', '2026-02-01']
    """
    months = [today.year * 12 + today.month - 1 - back for back in reversed(range(number))]
    return [date(month // 12, month % 12 + 1, 1) for month in months]
