"""Every day that a firm has promised us and has not kept yet: steps of renewals, repairs, patterns, pieces out."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from core.models import Event

from ..domain.jobs import days_late
from ..domain.plain import capital
from ..models import Component, Firm, Pattern, RenewalStep, Repair
from ..models.locations import BETWEEN


@dataclass(frozen=True, slots=True, kw_only=True)
class Promised:
    """One thing that is to come back or to be done. `about` names it in the form of a call."""

    about: str
    what: str
    href: str
    firm: int
    due: date | None
    late: int


@dataclass(slots=True)
class Chase:
    """One firm, with what it has promised, the latest first, and when it was last called or written to."""

    firm: Firm
    promised: list[Promised] = field(default_factory=list)
    called: "Call | None" = None

    @property
    def late(self) -> list[Promised]:
        return [one for one in self.promised if one.late]

    @property
    def in_time(self) -> list[Promised]:
        return [one for one in self.promised if not one.late]

    @property
    def worst(self) -> int:
        return max((one.late for one in self.promised), default=0)


def chase(today: date) -> list[Chase]:
    """Every firm that has something of ours to do or to bring back, the one that is latest first."""
    firms = {firm.pk: Chase(firm) for firm in Firm.objects.select_related("location")}
    for one in sorted(promises(today, firms), key=lambda one: (-one.late, one.due or date.max, one.what)):
        firms[one.firm].promised.append(one)
    for event in _calls().filter(data__firm__in=[pk for pk, row in firms.items() if row.promised]):
        firms[event.data["firm"]].called = _call(event)
    return sorted((row for row in firms.values() if row.promised), key=lambda row: (-row.worst, row.firm.name))


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
    return Event.objects.filter(action="call firm").select_related("actor").order_by("id")


def _call(event: Event) -> Call:
    on, promised = event.data["on"], event.data.get("promised")
    return Call(
        on=date.fromisoformat(on), how=event.data["how"], who=event.data.get("who", ""), by=str(event.actor),
        said=event.remark, promised=date.fromisoformat(promised) if promised else None,
    )  # fmt: skip


def of_firm(firm: Firm, today: date) -> list[Promised]:
    return [one for one in promises(today, {firm.pk: Chase(firm)}) if one.firm == firm.pk]


def promises(today: date, firms: dict[int, Chase]) -> Iterator[Promised]:
    for step in RenewalStep.objects.promised_by_firms():
        what = f"{capital(step.name)}: {step.renewal.position.words}"
        yield _one("step", step, what, step.renewal.get_absolute_url(), step.firm_id, step.promised, today)
    for repair in Repair.objects.promised_by_firms():
        what = f"Repair of {repair.component.name}: {repair.what}"
        yield _one("repair", repair, what, repair.get_absolute_url(), repair.firm_id, repair.promised, today)
    for pattern in Pattern.objects.promised_by_firms():
        yield _one(
            "pattern", pattern, capital(str(pattern)), pattern.get_absolute_url(), pattern.firm_id,
            pattern.promised_back, today,
        )  # fmt: skip
    at = {row.firm.location.path: pk for pk, row in firms.items()}
    for piece in Component.objects.out_on_promise():
        firm = next((at[path] for path in _upwards(piece.location.path) if path in at), None)
        if firm:
            href = f"/t/{piece.code}" if piece.code else piece.location.get_absolute_url()
            what = capital(piece.place.words if piece.place else piece.name)
            yield _one("piece", piece, what, href, firm, piece.promised_back, today)


def _one(kind: str, thing, what: str, href: str, firm: int, due: date | None, today: date) -> Promised:
    late = days_late(due, today)
    return Promised(about=f"{kind}-{thing.pk}", what=what, href=href, firm=firm, due=due, late=late)


def _upwards(path: str) -> Iterator[str]:
    while path:
        yield path
        path = path.rpartition(BETWEEN)[0]
