"""What a signed record says, in one canonical form, and the digest over it.

The digest is SHA-256 over JSON with sorted keys and no spaces (RFC 8259, UTF-8); lengths are exact fractions of
millimetres as text. Whatever may change later (a tag tied anew, a person's name) is in the record as it was on the day.
"""

import hashlib
import json
from collections.abc import Iterable, Iterator
from datetime import UTC

from .models import CrackCheck, Examination, Indication, Measurement

FORM = 1
"""The number of this form. A later form has another number, and records keep the one they were signed in."""


def of_examination(examination: Examination) -> str:
    """The digest over everything that the record says, from its rows."""
    measurements = examination.measurements.select_related("limits__dimension", "calibration").prefetch_related(
        "readings"
    )
    return digest(
        as_said(
            examination,
            measurements.order_by("id"),
            CrackCheck.objects.filter(examination=examination).first(),
            examination.indications.select_related("photo").order_by("number"),
        )
    )


def digest(said: dict) -> str:
    canonical = json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(canonical.encode()).hexdigest()


def as_said(
    examination: Examination,
    measurements: Iterable[Measurement] = (),
    crack_check: CrackCheck | None = None,
    indications: Iterable[Indication] = (),
) -> dict:
    return {
        "form": FORM,
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
        "signed at": examination.signed_at.astimezone(UTC).isoformat(timespec="microseconds"),
        "supersedes": examination.supersedes_id,
        "measurements": [_measurement(one) for one in measurements],
        "crack check": _crack_check(crack_check) if crack_check else None,
        "indications": [_indication(one) for one in indications],
    }


def _measurement(one: Measurement) -> dict:
    return {
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
        "standing": one.standing,
        "outside": one.outside,
        "beyond scrapping": one.beyond_scrapping,
        "sentence": one.sentence,
        "questions": one.questions,
        "readings": [[x.station, x.direction, x.typed, x.unit, _mm(x.value)] for x in one.readings.all()],
    }


LIMITS = ("new_lower", "new_upper", "shop_lower", "shop_upper", "scrapping_lower", "scrapping_upper")


def _limits(limits) -> dict:
    said = {name: _mm(getattr(limits, name)) for name in LIMITS}
    return said | {
        "edition": limits.edition,
        "open": [limits.shop_open, limits.scrapping_open],
        "source": [limits.source, limits.source_edition],
    }


CONDITIONS = (
    "procedure", "technique", "surface", "equipment", "consumables", "viewing", "directions_deg", "demagnetised",
    "level", "level_reason", "level_by_id", "stage", "answers", "examiner_level",
)  # fmt: skip
FIGURES = ("uv_a_w_m2", "light_lux", "dwell_min", "surface_c")


def _crack_check(check: CrackCheck) -> dict:
    said = {name: getattr(check, name) for name in CONDITIONS}
    said |= {name: None if getattr(check, name) is None else str(getattr(check, name)) for name in FIGURES}
    return said | {"examiner_until": check.examiner_until and check.examiner_until.isoformat()}


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


def differing(examinations: Iterable[Examination]) -> Iterator[tuple[Examination, str]]:
    """Signed records whose digest is not that of their rows, each with a sentence."""
    for examination in examinations:
        if not examination.digest:
            yield examination, f"Record {examination.pk} has no digest: it was not signed by Cotter as it is now."
        elif of_examination(examination) != examination.digest:
            yield examination, f"Record {examination.pk} does not say what was signed: it was changed afterwards."
