"""The week in a few lines, for the people who meet about it: who did what, and what waits for whom."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from django.utils import timezone

from core.models import Event

from ..domain.plain import capital
from ..domain.ranking import REFIT, in_words, who_acts
from ..domain.rows import Actor
from ..domain.words import Need
from ..readiness.worklist import WorkList


def who_did_what(locomotive, since: date, until: date) -> list[tuple[str, str]]:
    """Each person with the pieces they brought on from the one day to the other: "16 cleaned, 3 refitted"; whoever did
    most first."""
    begins, ends = (timezone.make_aware(datetime.combine(day, time.min)) for day in (since, until + timedelta(days=1)))
    found = Event.objects.about("locomotive", locomotive.pk).filter(at__gte=begins, at__lt=ends).exclude(to_state="")
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
