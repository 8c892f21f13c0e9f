"""What the repairs and renewals of a locomotive are estimated at, ordered for and have cost; in a fixed number of
queries."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime, time

from django.db.models import Q
from django.utils import timezone

from core.models import Event

from ..domain.costs import KINDS, Moved, differences, moved
from ..domain.ledger import worth_showing
from ..models import RenewalStep, Repair
from ..work.job_context import Money, money_of

TELLING = ("open repair", "edit repair", "add step", "edit step", "finish step", "fail step")
"""The events that may tell of costs."""

MOST = 500


@dataclass(frozen=True, kw_only=True)
class MoneyLine:
    name: str
    depth: int
    money: list[Money]


@dataclass(frozen=True, kw_only=True)
class CostedJob:
    """One repair or step that somebody wrote a sum to."""

    what: str
    href: str
    subassembly: str
    firm: str
    money: Money


@dataclass(frozen=True, kw_only=True)
class MoneyChange:
    event: Event
    what: str
    subassembly: str
    moved: list[Moved]


@dataclass(frozen=True, kw_only=True)
class MoneyContext:
    lines: list[MoneyLine]
    total: list[Money]
    by_firm: list[tuple[str, Money]]
    made_of: list[CostedJob]
    changes: list[MoneyChange]
    differences: list[tuple]  # a currency, then what each kind of sum moved by
    cut_off: bool  # more changed than is listed; the differences hold them all


def money_context(locomotive, since: date | None) -> MoneyContext:
    """Every repair and step counts, those that failed or were given up too: what was paid for them was paid."""
    jobs = [*_repairs(locomotive), *_steps(locomotive)]
    by_sub = defaultdict(list)
    for job in jobs:
        by_sub[_subassembly_of(job)].append(job)
    tree = locomotive.subassemblies.as_tree()
    shown = {sub.pk for sub in tree}
    lines = [MoneyLine(name=sub.name, depth=sub.depth, money=money_of(by_sub[sub.pk])) for sub in tree]
    rest = [job for pk, found in by_sub.items() if pk not in shown for job in found]
    lines.append(MoneyLine(name="For no place yet", depth=0, money=money_of(rest)))
    names = {sub.pk: sub.name for sub in tree}
    changes = _changes(locomotive, since, jobs, names) if since else []
    sums = differences(one for change in changes for one in change.moved)
    return MoneyContext(
        lines=worth_showing(lines, lambda line: line.money),
        total=money_of(jobs),
        by_firm=_by_firm(jobs),
        made_of=[made for job in jobs for made in _costed(job, names)],
        changes=changes[:MOST],
        differences=[(currency, *(found[kind] for kind in KINDS)) for currency, found in sums.items()],
        cut_off=len(changes) > MOST,
    )


def _repairs(locomotive):
    own = Q(component__locomotive=locomotive) | Q(component__place__locomotive=locomotive)
    return Repair.objects.filter(own).select_related("component__place", "component__came_off", "firm").order_by("id")


def _steps(locomotive):
    found = RenewalStep.objects.filter(renewal__position__locomotive=locomotive)
    return found.select_related("renewal__position", "firm").order_by("id")


def _by_firm(jobs) -> list[tuple[str, Money]]:
    """By name; what is done here is no firm's."""
    found = defaultdict(list)
    for job in jobs:
        if job.firm:
            found[job.firm.name].append(job)
    return [(name, money) for name, theirs in sorted(found.items()) for money in money_of(theirs)]


def _costed(job, names):
    step = isinstance(job, RenewalStep)
    for money in money_of([job]):
        yield CostedJob(
            what=f"{job.name}: {job.renewal.position.words}" if step else f"repair of {job.component.name}: {job.what}",
            href=(job.renewal if step else job).get_absolute_url(),
            subassembly=names.get(_subassembly_of(job), ""), firm=job.firm.name if job.firm else "", money=money,
        )  # fmt: skip


def _subassembly_of(job):
    if isinstance(job, RenewalStep):
        return job.renewal.position.subassembly_id
    place = job.component.place or job.component.came_off
    return place.subassembly_id if place else None


def _changes(locomotive, since, jobs, names) -> list[MoneyChange]:
    """Newest first; a day begins at midnight where the works is."""
    begins = timezone.make_aware(datetime.combine(since, time.min))
    found = Event.objects.about("locomotive", locomotive.pk).filter(action__in=TELLING, at__gte=begins)
    was_in: dict[tuple, str] = {}
    by_job, changes = {_key(job): job for job in jobs}, []
    for event in found.select_related("actor").newest_first():
        data = event.data
        key = ("repair", data["repair"]) if "repair" in data else (data.get("renewal"), data.get("step"))
        job = by_job.get(key)
        told = moved(data, was_in.get(key) or (job.currency if job else "GBP"))
        if isinstance(data.get("currency"), list) and data["currency"][0]:
            was_in[key] = data["currency"][0]  # what was said earlier was said in that
        if told:
            place = names.get(_subassembly_of(job), "") if job else ""
            changes.append(
                MoneyChange(event=event, what=data.get("what") or data["step"], subassembly=place, moved=told)
            )
    return changes


def _key(job):
    """Of steps that bear one name, made again after one failed, the last."""
    return ("repair", job.pk) if isinstance(job, Repair) else (job.renewal_id, job.name)
