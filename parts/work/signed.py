from core.log.chain import SignedKind

from ..models import Decision

DECISION = SignedKind(
    kind="decision",
    words=("decision",),
    rows=lambda: Decision.objects.select_related("decided_by"),
    parts=("options", "examined", "photos"),
    names=("decided_by",),
)
