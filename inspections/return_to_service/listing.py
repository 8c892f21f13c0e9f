"""The list as it stands: items with their ticks, and the concessions on the locomotive."""

from core.models import Event
from parts.models import HoldRelease, Overhaul
from parts.queries.measured import measured

from ..domain.return_list import Allowed, AskedFor
from ..models import AskedItem, BoilerRecord, BoxingUp, Tick

OFFERED = 30


def items_of(overhaul: Overhaul) -> list[AskedFor]:
    ticks = {tick.item_id: tick for tick in Tick.objects.filter(item__overhaul=overhaul).select_related("by")}  # latest
    return [_row(item, ticks.get(item.pk)) for item in AskedItem.objects.filter(overhaul=overhaul, dropped=False)]


def _row(item: AskedItem, tick: Tick | None) -> AskedFor:
    shown = {}
    if tick and tick.shown:
        shown = {"by_what": tick.by_what, "by": str(tick.by), "on": tick.on.isoformat()}
    return AskedFor(number=item.pk, words=item.words, asked_by=item.asked_by, **shown)


def allowed_on(overhaul: Overhaul) -> list[Allowed]:
    return [
        Allowed(
            what=one.what,
            piece=f"{one.piece.name} {one.piece.code or ''}".strip() if one.piece else "",
            until=one.until.isoformat() if one.until else "",
        )
        for one in measured.conceded(overhaul.locomotive)
    ]


def what_may_show(overhaul: Overhaul) -> list[str]:
    """Records and papers of this overhaul that are offered where somebody says by what an item is shown."""
    on = overhaul.locomotive
    releases = HoldRelease.objects.filter(hold__overhaul=overhaul, hold__released_on__isnull=False)
    boilers = BoilerRecord.objects.in_force().filter(boiler__locomotive=on)
    boxed = BoxingUp.objects.filter(subassembly__locomotive=on).select_related("subassembly")
    found = [f"{one.hold.name}: {one.reference}" for one in releases.select_related("hold").order_by("-pk")[:OFFERED]]
    found += [f"boiler record {one.pk}, {one}" for one in boilers[:OFFERED]]
    return found + [f"boxing up {one.pk}, {one.subassembly}" for one in boxed[:OFFERED]]


def edits_of(overhaul: Overhaul):
    """The events that change the list."""
    words = ("ask for return item", "drop return item", "tick return item", "take back return tick")
    return Event.objects.about("overhaul", overhaul.pk).filter(action__in=words)
