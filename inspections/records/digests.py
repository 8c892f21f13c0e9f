"""What a signed record says, in one canonical form, and the digest over it.

The digest is SHA-256 over JSON with sorted keys and no spaces (RFC 8259, UTF-8); lengths are exact fractions of
millimetres as text. Whatever may change later (a tag tied anew, a person's name) is in the record as it was on the day.
"""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, date
from itertools import islice

from django.db.models import Prefetch, prefetch_related_objects
from django.utils import timezone

from core.log import chain
from core.models import Event
from parts.models import Component

from ..models import CrackCheck, Examination, Indication, Measurement
from ..models.examinations import ExaminationQuerySet

FORM = 3
"""The number of this form. A later form has another number, and records keep the one they were signed in.

1: without the names of the sizes as signed, and without what the report of a crack check states by method.
2: with both, the latter as "details".
3: with the figures of a test of a piece.
"""


def of_examination(examination: Examination) -> str:
    """The digest over everything that the record says, from its rows."""
    return digest(
        content_of(
            examination,
            examination.measurements.all(),
            getattr(examination, "crack_check", None),
            examination.indications.all(),
        )
    )


def signed_now(examination: Examination) -> str:
    """The digest of a record about to be frozen: its rows as the database gives them back, which anybody can check."""
    stored = Examination.objects.select_related("crack_check").get(pk=examination.pk)
    stored.signed_by, stored.signed_at = examination.signed_by, examination.signed_at
    return of_examination(stored)


def read_all(examinations: list[Examination]) -> None:
    """Every row that their digests are over, in a number of queries that does not grow with the records."""
    measured = Measurement.objects.select_related("limits", "calibration").prefetch_related("readings")
    shown = Indication.objects.select_related("photo")
    prefetch_related_objects(
        examinations, "crack_check", Prefetch("measurements", measured), Prefetch("indications", shown)
    )


def digest(content: dict) -> str:
    return chain.digest(chain.canonical(content))


def content_of(
    examination: Examination,
    measurements: Iterable[Measurement] = (),
    crack_check: CrackCheck | None = None,
    indications: Iterable[Indication] = (),
) -> dict:
    signed_at = examination.signed_at
    figures = {"figures": examination.figures} if examination.form > 2 else {}
    return figures | {
        "form": examination.form,
        "event": examination.event_id,
        "piece": examination.component_id,
        "place": examination.position_id,
        "subject": examination.subject,
        "kind": examination.kind,
        "method": examination.method,
        "result": examination.result,
        "found": examination.found,
        "remarks": examination.remarks,
        "reached": examination.reached,
        "not reached": examination.not_reached,
        "on": examination.on.isoformat(),
        "signed by": examination.signed_by_id,
        "signed at": signed_at.astimezone(UTC).isoformat(timespec="microseconds") if signed_at else None,
        "supersedes": examination.supersedes_id,
        "measurements": [_measurement(one, examination.form) for one in measurements],
        "crack check": _crack_check(crack_check, examination.form) if crack_check else None,
        "indications": [_indication(one) for one in indications],
    }


def _measurement(one: Measurement, form: int) -> dict:
    named = {"size": one.dimension_words} if form > 1 else {}
    return named | {
        "dimension": one.dimension_id,
        "limits": _limits(one.limits) if one.limits else None,
        "instrument": one.instrument_words,
        "calibration": [one.calibration_id, one.calibration.certificate, one.calibration.on.isoformat()],
        "uncertainty": _mm(one.uncertainty),
        "rule": one.rule,
        "value": _mm(one.value),
        "least": _mm(one.least),
        "most": _mm(one.most),
        "ovality": _mm(one.ovality),
        "taper": _mm(one.taper),
        "standing": one.size_class,  # the word it had when the first records were signed
        "outside": one.outside,
        "beyond scrapping": one.beyond_scrapping,
        "sentence": one.sentence,
        "questions": one.questions,
        "readings": [[x.station, x.direction, x.typed, x.unit, _mm(x.value)] for x in one.readings.all()],
    }


LIMITS = ("new_lower", "new_upper", "shop_lower", "shop_upper", "scrapping_lower", "scrapping_upper")


def _limits(limits) -> dict:
    content = {name: _mm(getattr(limits, name)) for name in LIMITS}
    return content | {
        "edition": limits.edition,
        "open": [limits.shop_open, limits.scrapping_open],
        "source": [limits.source, limits.source_edition],
    }


CONDITIONS = (
    "procedure", "technique", "surface", "equipment", "consumables", "viewing", "directions_deg", "demagnetised",
    "level", "level_reason", "level_by_id", "stage", "answers", "examiner_level",
)  # fmt: skip
FIGURES = ("uv_a_w_m2", "light_lux", "dwell_min", "surface_c")


def _crack_check(check: CrackCheck, form: int) -> dict:
    content = {name: getattr(check, name) for name in CONDITIONS}
    content |= {name: None if getattr(check, name) is None else str(getattr(check, name)) for name in FIGURES}
    if form > 1:
        content["details"] = check.details
    return content | {"examiner_until": check.examiner_until and check.examiner_until.isoformat()}


def _indication(one: Indication) -> dict:
    mark = None if one.across is None else [str(one.across), str(one.down)]
    return {
        "number": one.number,
        "where": one.where,
        "photo": one.photo.name if one.photo else "",
        "mark": mark,
        "length": _mm(one.length),
        "width": _mm(one.width),
        "typed": one.typed,
        "linear": one.linear,
        "crack": one.crack,
        "acceptable": one.acceptable,
        "sentence": one.sentence,
    }


def _mm(value) -> str | None:
    return None if value is None else str(value)


A_BATCH = 500


@dataclass(frozen=True)
class Differing:
    """A record that does not say, or may not say, what was signed."""

    record: int | None  # its number; none where the record itself is gone
    piece: Component | None
    on: date
    sentence: str


@dataclass
class CheckedCount:
    """How many records were looked at so far."""

    records: int = 0


def differing(examinations: ExaminationQuerySet, checked: CheckedCount | None = None) -> Iterator[Differing]:
    """Records whose digest is not that of their rows, a batch at a time: there may be a great many."""
    checked = checked or CheckedCount()
    every = examinations.signed_once().select_related("component").order_by("pk").iterator(chunk_size=A_BATCH)
    while batch := list(islice(every, A_BATCH)):
        checked.records += len(batch)
        with suppress(ValueError):  # one row that cannot be read; then each record is read by itself below
            read_all(batch)
        for examination in batch:
            if sentence := _what_is_wrong(examination):
                yield Differing(examination.pk, examination.component, examination.on, sentence)


def _what_is_wrong(examination: Examination) -> str:
    if examination.signed_at is None:
        return "It was signed, and the signature is gone."
    if not examination.digest:
        return "It has no digest, so it cannot be checked: Cotter did not sign it as it is now."
    try:
        same = of_examination(examination) == examination.digest
    except (TypeError, ValueError, AttributeError) as error:
        return f"It cannot be read as it stands ({error}): it was changed after it was signed."
    return "" if same else "It differs from what was signed: it was changed afterwards."


def vanished() -> Iterator[Differing]:
    """Signatures in the event log whose record is not there any more."""
    gone = Event.objects.filter(action="sign examination", examination__isnull=True)
    for event in gone.subject_of("piece").order_by("pk").iterator(chunk_size=A_BATCH):
        day = timezone.localdate(event.at)
        piece = Component.objects.filter(pk=event.about).first()
        yield Differing(None, piece, day, f"Event {event.pk} says that a record was signed; it is gone.")
