from core.log.chain import SignedKind

from ..models import Concession

CONCESSION = SignedKind(
    kind="concession",
    words=("concede",),
    rows=lambda: Concession.objects.select_related("granted_by"),
    names=("granted_by",),
)
