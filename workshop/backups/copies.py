"""The copy away from the building: fire, flood and thieves take the computer with every backup on it."""

from dataclasses import dataclass
from datetime import date

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.log import chain, writing
from core.models import Event
from parts.domain.plain import day, several

MOST_DAYS = 30
"""Common practice, no source: a month's work is as much as a works can enter again from its papers."""
WORD = "take copy away"


@dataclass(frozen=True)
class Copy:
    on: date
    by: str
    where: str
    seal: str
    days: int


def copies(most: int = 12) -> list[Copy]:
    """The last ones, the latest first."""
    today = writing.today()
    found = Event.objects.filter(action=WORD).select_related("actor").order_by("-id")[:most]
    return [_copy(event, timezone.localdate(event.at), today) for event in found]


def _copy(event: Event, on: date, today: date) -> Copy:
    data = event.data
    return Copy(on, str(event.actor), data.get("where", ""), data.get("seal", ""), max(0, (today - on).days))


def overdue() -> str:
    """What the works manager is asked for, empty while the last copy is young enough."""
    last = next(iter(copies(1)), None)
    if last is None:
        return "Take a copy of the register away from the building: there is none yet."
    if last.days <= MOST_DAYS:
        return ""
    return (
        "Take a copy of the register away from the building: the last one is of "
        f"{day(last.on)}, {several(last.days, 'day')} ago."
    )


def took_away(actor, where: str) -> Event:
    writing.allow(actor, "look after backups")
    where = " ".join(where.split())
    if not where:
        raise Refused(Refusal("where", "Where the copy is now: nothing was written.", "Say where, such as the bank."))
    with writing.one_transaction():
        return writing.log(actor, WORD, remark=where, data={"where": where, "seal": chain.seal().in_words()})
