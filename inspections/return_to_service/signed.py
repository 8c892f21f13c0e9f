from core.log.chain import SignedKind

from ..models import ReturnToService, Tick

TICK = SignedKind(
    kind="return tick",
    words=("tick return item", "take back return tick"),
    rows=lambda: Tick.objects.select_related("item", "by"),
    names=("item", "by"),
)
RETURN_LIST = SignedKind(
    kind="return to service",
    words=("sign return list",),
    rows=lambda: ReturnToService.objects.select_related("overhaul__locomotive", "by"),
    names=("overhaul", "by"),
)
