from core.log.chain import SignedKind

from ..models import FindingDecision

FINDING_DECISION = SignedKind(
    kind="decided finding",
    words=("decide", "concede"),  # a concession decides what its record found
    rows=lambda: FindingDecision.objects.select_related("decided_by"),
    names=("decided_by",),
)
