"""Where each kind of record is typed into, while nobody has signed it."""

from django.urls import reverse

from ..domain.boiler_words import RecordKind
from ..models import BoilerRecord

TYPED_AT = {
    RecordKind.SURVEY: "survey_readings",
    RecordKind.STAY_MAP: "stay_map_stays",
    RecordKind.CALCULATION: "calculation",
    RecordKind.TEST: "boiler_test",
}


def type_into(record: BoilerRecord) -> str:
    """The address; empty once it is signed."""
    return "" if record.signed_at else reverse(TYPED_AT[RecordKind(record.kind)], args=[record.pk])
