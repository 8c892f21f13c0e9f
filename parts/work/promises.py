"""Every day that a firm has promised us and has not kept yet: steps of renewals, repairs, patterns, pieces out."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from django.db.models import BigIntegerField
from django.db.models.fields.json import KeyTextTransform
from django.db.models.functions import Cast

from core.domain.catalogue import PUT_BACK, may
from core.models import Event

from ..domain.jobs import days_late
from ..domain.plain import capital, day
from ..domain.words import Need
from ..models import Component, Firm, Pattern, Position, RenewalStep, Repair
from ..models.locations import BETWEEN


@dataclass(frozen=True, slots=True, kw_only=True)
class Promised:
    """One thing that is to come back or to be done, and the places that wait for it. `about` names it in the form of
    a call."""

    about: str
    what: str
    href: str
    firm: int
    need: Need
    places: tuple[Position, ...]
    due: date | None
    late: int


@dataclass(slots=True)
class Chase:
    """One firm, with what it has promised, and when it was last called or written to."""

    firm: Firm
    promised: list[Promised] = field(default_factory=list)
    called: "Call | None" = None


def chase(today: date) -> list[Chase]:
    """Every firm that has something of ours to do or to bring back, by name."""
    firms = {firm.pk: Chase(firm) for firm in Firm.objects.select_related("location")}
    for one in promises(today, firms):
        firms[one.firm].promised.append(one)
    for event in _calls().filter(data__firm__in=[pk for pk, row in firms.items() if row.promised]):
        firms[event.data["firm"]].called = _call(event)
    return [row for row in firms.values() if row.promised]


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """One call or letter, as it was noted."""

    on: date
    how: str
    who: str
    by: str
    said: str
    promised: date | None


def calls_to(firm: Firm, most: int = 20) -> list[Call]:
    """The newest first."""
    return [_call(event) for event in _calls().filter(data__firm=firm.pk).reverse()[:most]]


def _calls():
    """Without those that were noted by mistake."""
    undone = Event.objects.filter(action__in=PUT_BACK, data__word="call firm")
    numbers = undone.annotate(act=Cast(KeyTextTransform("undone", "data"), BigIntegerField())).values("act")
    found = Event.objects.filter(action="call firm").exclude(pk__in=numbers)
    return found.select_related("actor").order_by("id")


def _call(event: Event) -> Call:
    on, promised = event.data["on"], event.data.get("promised")
    return Call(
        on=date.fromisoformat(on), how=event.data["how"], who=event.data.get("who", ""), by=str(event.actor),
        said=event.remark, promised=date.fromisoformat(promised) if promised else None,
    )  # fmt: skip


def of_firm(firm: Firm, today: date) -> list[Promised]:
    return [one for one in promises(today, {firm.pk: Chase(firm)}) if one.firm == firm.pk]


def anew_in_words(moved: list[Promised], promised: date, most: int = 12) -> str:
    """'Promised for 14 Dec 2026 now: cast blocks (was 23 Nov 2026), frame stretcher (was 30 Nov 2026).'"""
    told = [f"{one.what} (was {day(one.due) if one.due else 'no day'})" for one in moved[:most]]
    more = f" and {len(moved) - most} more" if len(moved) > most else ""
    return f"Promised for {day(promised)} now: {'; '.join(told)}{more}."


def promises(today: date, firms: dict[int, Chase]) -> Iterator[Promised]:
    for step in RenewalStep.objects.promised_by_firms():
        place = step.renewal.position
        what = f"{capital(step.name)}: {place.words}"
        yield _one(
            about=f"step-{step.pk}", what=what, href=step.renewal.get_absolute_url(), firm=step.firm_id,
            places=(place,), due=step.promised, today=today,
        )  # fmt: skip
    for repair in Repair.objects.promised_by_firms():
        piece = repair.component
        yield _one(
            about=f"repair-{repair.pk}", what=f"Repair of {piece.name}: {repair.what}",
            href=repair.get_absolute_url(), firm=repair.firm_id, places=_of(piece), due=repair.promised, today=today,
        )  # fmt: skip
    for pattern in Pattern.objects.promised_by_firms():
        yield _one(
            about=f"pattern-{pattern.pk}", what=capital(str(pattern)), href=pattern.get_absolute_url(),
            firm=pattern.firm_id, places=tuple(pattern.positions.all()), due=pattern.promised_back, today=today,
        )  # fmt: skip
    at = {row.firm.location.path: pk for pk, row in firms.items()}
    for piece in Component.objects.out_on_promise():
        firm = next((at[path] for path in _upwards(piece.location.path) if path in at), None)
        if firm:
            href = f"/t/{piece.code}" if piece.code else piece.location.get_absolute_url()
            what = capital(piece.place.words if piece.place else piece.name)
            yield _one(
                about=f"piece-{piece.pk}", what=what, href=href, firm=firm, places=_of(piece), need=Need.FETCH,
                due=piece.promised_back, today=today,
            )  # fmt: skip


def _of(piece: Component) -> tuple[Position, ...]:
    return (piece.place,) if piece.place else ()


def _one(*, due: date | None, today: date, need: Need = Need.AWAIT, **said) -> Promised:
    return Promised(due=due, late=days_late(due, today), need=need, **said)


def _upwards(path: str) -> Iterator[str]:
    while path:
        yield path
        path = path.rpartition(BETWEEN)[0]


def may_reach(roles) -> bool:
    """Whether people with these roles read how a firm is reached: the office, and whoever repairs."""
    return may(roles, "edit firms") or may(roles, "repair")
