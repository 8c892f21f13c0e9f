from core.log.chain import SignedKind

from ..models import BoilerEntry, BoilerRecord, BoilerRecordNote

BOILER_RECORD = SignedKind(
    kind="boiler record",
    words=("sign boiler record",),
    rows=lambda: BoilerRecord.objects.signed().select_related("boiler", "part", "signed_by"),
    names=("boiler", "part", "signed_by"),
)
BOILER_RECORD_NOTE = SignedKind(
    kind="boiler record note",
    words=("check boiler record", "file acceptance"),
    rows=lambda: BoilerRecordNote.objects.select_related("by"),
    names=("by",),
)
BOILER_ENTRY = SignedKind(
    kind="boiler file entry",
    words=("enter in boiler file", "move boiler"),
    rows=lambda: BoilerEntry.objects.select_related("boiler", "part", "locomotive", "hold"),
    names=("boiler", "part", "locomotive", "hold"),
)
