from collections.abc import Iterable

from django.db.models import QuerySet

from core.log.chain import SignedKind
from core.models import Event

from ..models import Conflict


class Settled(SignedKind):
    def of(self, events: Iterable[Event]) -> QuerySet:
        return self.rows().filter(pk__in=[event.data["conflict"] for event in events])


SETTLED = Settled(
    kind="settled drawings",
    words=("settle drawings",),
    rows=lambda: Conflict.objects.exclude(settled="").select_related("position", "settled_by", "rests_on"),
    parts=("sides",),
    names=("position", "settled_by", "rests_on"),
)
