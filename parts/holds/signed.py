from core.log.chain import SignedKind

from ..models import HoldRelease

RELEASE = SignedKind(
    kind="release",
    words=("release hold point",),
    rows=lambda: HoldRelease.objects.select_related("hold", "by"),
    names=("hold", "by"),
)
