"""What the page of a decision reads: the records it rests on, the options weighed last."""

from django.utils import timezone

from core.models import Event

from ..domain.plain import day
from ..models import Component, Decision


def records_of(component: Component) -> list[tuple[int, str]]:
    """The signed examinations of a piece, the newest first, each by the event of its signing."""
    events = Event.objects.about("piece", component.pk).filter(action="sign examination").select_related("actor")
    return [(event.pk, _words(event)) for event in events.newest_first()[:20]]


def _words(event: Event) -> str:
    data, on = event.data, day(timezone.localdate(event.at))
    method = f" ({data['method']})" if data.get("method") else ""
    return f"{data.get('kind', '')}{method}: {data.get('result', '')}, {on}, {event.actor}"


def options_of(before: list[Decision]) -> list[dict]:
    """What was weighed for the decision that stands, to weigh anew; none of it is chosen yet."""
    standing = next((decision for decision in before if not decision.is_superseded), None)
    names = ("what", "estimate", "currency", "takes", "unit", "firm", "who", "risk", "keeps", "keeps_percent")
    return [{name: getattr(option, name) for name in names} for option in standing.options.all()] if standing else []
