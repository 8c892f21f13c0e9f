from core.log.chain import SignedKind

from ..models import BoxingUp

BOXED_UP = SignedKind(
    kind="boxing up",
    words=("box up",),
    rows=lambda: BoxingUp.objects.select_related("subassembly", "by", "checker"),
    parts=("pieces", "photos"),
    names=("subassembly", "by", "checker"),
)
