from core.log.signed import SignedKind

from ..models import BoilerRecord, BoilerRecordNote

RECORD = SignedKind(
    kind="boiler record",
    words=("sign boiler record",),
    rows=lambda: BoilerRecord.objects.signed().select_related("boiler", "part", "signed_by"),
    names=("boiler", "part", "signed_by"),
)
NOTE = SignedKind(
    kind="boiler record note",
    words=("check boiler record", "file acceptance"),
    rows=lambda: BoilerRecordNote.objects.select_related("by"),
    names=("by",),
)
