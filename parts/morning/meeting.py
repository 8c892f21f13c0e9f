"""The week in a few lines, for the people who meet about it: who did what, and what waits for whom."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from django.db.models import Q
from django.utils import timezone

from core.domain.catalogue import ACT, PUT_BACK
from core.models import Event

from ..domain.plain import capital
from ..domain.ranking import REFIT, in_words, who_acts
from ..domain.rows import Actor
from ..domain.words import Need
from ..readiness.worklist import WorkList

NO_WORK = frozenset({*PUT_BACK, "take over", "send back", "open overhaul"})
"""What gives a piece a state and does nothing to it."""
SAID = {
    "finish repair": "repaired",
    "take off": "taken off",
    "leave alone": "left as they are",
    "bring back": "brought back",
}
"""Where the state that it ends in does not say what was done."""


def who_did_what(locomotive, since: date, until: date) -> list[tuple[str, str]]:
    """Each person with the pieces they brought on from the one day to the other: "16 cleaned, 3 refitted"; whoever did
    most first."""
    begins, ends = (timezone.make_aware(datetime.combine(day, time.min)) for day in (since, until + timedelta(days=1)))
    found = Event.objects.about("locomotive", locomotive.pk).filter(at__gte=begins)
    found = list(found.filter(Q(at__lt=ends) & ~Q(to_state="") | Q(action__in=PUT_BACK)).select_related("actor"))
    undone = {event.data["undone"] for event in found if event.action in PUT_BACK}
    by_person: defaultdict[str, Counter[str]] = defaultdict(Counter)
    for event in found:
        put_back = {event.pk, event.data.get(ACT)} & undone
        if event.from_state != event.to_state and event.action not in NO_WORK and not put_back:
            by_person[str(event.actor)][SAID.get(event.action, event.to_state)] += 1
    ranked = sorted(by_person.items(), key=lambda one: (-one[1].total(), one[0]))
    return [(name, ", ".join(f"{number} {state}" for state, number in did.most_common())) for name, did in ranked]


def waits_for(work: WorkList, people: Sequence[Actor]) -> list[tuple[str, str]]:
    """Who must act, with how many of what: "12 sign, 3 release"."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for need, number in work.totals.most_common():
        if need not in (REFIT, Need.AFTER):
            found[capital(in_words(who_acts(need, people)))].append(f"{number} {need}")
    return [(who, ", ".join(what)) for who, what in found.items()]
