"""The week in a few lines, for the people who meet about it: who did what, what is late, what waits for whom, and how
far it has come month by month."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal

from django.db.models import Count
from django.db.models.functions import TruncMonth
from django.utils import timezone

from core.models import Event

from ..domain.costs import differences
from ..domain.plain import capital
from ..domain.ranking import REFIT, in_words, who_acts
from ..domain.rows import Actor
from ..domain.words import Need, State
from ..money.money_context import Change
from ..readiness.worklist import WorkList

READY = (State.ACCEPTED, State.RENEWED)


def who_did_what(locomotive, since: date) -> list[tuple[str, str]]:
    """Each person with the pieces they brought on: "16 cleaned, 3 refitted"; whoever did most first."""
    begins = timezone.make_aware(datetime.combine(since, time.min))
    found = Event.objects.about("locomotive", locomotive.pk).filter(at__gte=begins).exclude(to_state="")
    by_person: defaultdict[str, Counter[str]] = defaultdict(Counter)
    for event in found.select_related("actor"):
        if event.from_state != event.to_state:
            by_person[str(event.actor)][event.to_state] += 1
    ranked = sorted(by_person.items(), key=lambda one: (-one[1].total(), one[0]))
    return [(name, ", ".join(f"{number} {state}" for state, number in did.most_common())) for name, did in ranked]


def waits_for(work: WorkList, people: Sequence[Actor]) -> list[tuple[str, str]]:
    """Who must act, with how many of what: "12 sign, 3 release"."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for need, number in work.totals.most_common():
        if need not in (REFIT, Need.AFTER):
            found[capital(in_words(who_acts(need, people)))].append(f"{number} {need}")
    return [(who, ", ".join(what)) for who, what in found.items()]


@dataclass(frozen=True, slots=True, kw_only=True)
class Month:
    """How it stood when the month ended, and what was ordered and paid within it."""

    first: date
    refitted: int
    ready: int
    sums: list[tuple[str, Decimal, Decimal]]  # a currency, ordered for, paid


def by_month(locomotive, today: date, changes: Iterable[Change], months: int = 6) -> list[Month]:
    """Pieces as the log counts them, the last month so far."""
    entered: dict[date, Counter[str]] = defaultdict(Counter)
    found = Event.objects.about("locomotive", locomotive.pk).exclude(to_state="")
    grouped = found.annotate(month=TruncMonth("at")).values_list("month", "from_state", "to_state").order_by()
    for month, was, now, number in grouped.annotate(number=Count("pk")):
        entered[timezone.localdate(month)].update({now: number})
        entered[timezone.localdate(month)].subtract({was: number})
    spent: dict[date, list] = defaultdict(list)
    for change in changes:
        spent[timezone.localdate(change.event.at).replace(day=1)] += change.moved
    return [_month(first, entered, spent[first]) for first in last_months(today, months)]


def _month(first: date, entered: dict[date, Counter[str]], moved) -> Month:
    stood: Counter[str] = Counter()
    for month, counted in entered.items():
        if month <= first:
            stood.update(counted)
    sums = [(currency, kinds["committed"], kinds["actual"]) for currency, kinds in differences(moved).items()]
    return Month(
        first=first,
        refitted=stood[State.REFITTED],
        ready=sum(stood[state] for state in READY),
        sums=[one for one in sums if any(one[1:])],
    )


def last_months(today: date, number: int) -> list[date]:
    """The first day of each, the oldest first.

    >>> [str(day) for day in last_months(date(2026, 2, 28), 3)]
    ['2025-12-01', '2026-01-01', '2026-02-01']
    """
    months = [today.year * 12 + today.month - 1 - back for back in reversed(range(number))]
    return [date(month // 12, month % 12 + 1, 1) for month in months]
