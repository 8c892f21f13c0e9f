"""Everything that a record says, in words, from its rows.

Its page and its printed report draw it as it was signed, from the words that the chain keeps (signed_words.py).

It is told as the piece, its place and the signer were named on the day. The number of queries does not grow with what a
record holds, nor with the number of records.
"""

from dataclasses import dataclass, field
from datetime import date

from django.db.models import Q, QuerySet
from django.utils import timezone

from core.models import Link
from core.models.prepared import Scope, prefetch, prepared
from parts.domain.cautions import caution_of_look
from parts.domain.plain import capital, day
from parts.domain.words import Kind

from ..cracks.crack_context import Marked, marked_photos
from ..cracks.crack_record import how
from ..domain.classes import SizeClass
from ..domain.indications import NOT_MODELLED, TOO_FINE
from ..domain.limit_words import limits_in_words
from ..domain.piece_tests import lines_of
from ..domain.size_picture import SizePicture, picture
from ..domain.two_units import in_both, in_unit
from ..models import Concession, Examination, FindingDecision, Indication, Measurement, Reading
from ..records.digests import of_examination

Fact = tuple[str, str]
PRESSURE = "A pressure test is for the competent person to lead: nobody stands near it who need not."


@dataclass(frozen=True, kw_only=True)
class SizeInRecord:
    """One dimension as measured in the record."""

    pk: int
    name: str
    sentence: str
    verdict: str
    outside: bool
    facts: list[Fact]
    readings: list[tuple[str, str, str]]  # where, as typed, in both units
    picture: SizePicture | None
    questions: list[Fact]  # what was questioned, and the reason it was kept


@dataclass(frozen=True, kw_only=True)
class IndicationInRecord:
    """One indication."""

    number: int
    where: str
    sentence: str
    typed: str
    what: str
    decided: str  # the latest decision of it, or that there is none


@dataclass(frozen=True, kw_only=True)
class RecordWords:
    record: Examination
    title: str
    piece: list[Fact]
    looked: list[Fact]
    how: list[Fact]
    sizes: list[SizeInRecord] = field(default_factory=list)
    shown: list[IndicationInRecord] = field(default_factory=list)
    photos: list[Marked] = field(default_factory=list)
    questions: list[Fact] = field(default_factory=list)
    decisions: list[FindingDecision] = field(default_factory=list)
    concessions: list[tuple[str, Concession]] = field(default_factory=list)  # of what
    as_signed: bool = True
    notes: list[str] = field(default_factory=list)
    lines: list[dict] = field(default_factory=list)  # its indications as the page lists them (signed_words.py)
    link: Link | None = None  # of the chain, that holds it as it was signed

    @property
    def caution(self) -> str:
        if self.record.kind == Kind.HYDRAULIC_TEST:
            return PRESSURE
        return caution_of_look(self.record.kind, self.record.method)

    @property
    def superseded_by(self) -> Examination | None:
        return getattr(self.record, "superseded_by", None)

    @property
    def signed_at(self) -> str:
        at = timezone.localtime(self.record.signed_at)
        return f"{day(at.date())}, {at:%H:%M}"

    @property
    def signed_by(self) -> str:
        return self.record.subject.get("signed by") or str(self.record.signed_by)

    @property
    def short_digest(self) -> str:
        """Twelve figures, to compare by eye."""
        digest = self.record.digest
        return " ".join(digest[at : at + 4] for at in range(0, 12, 4))


NO_LEVEL = ("Acceptance level", "none chosen")


def sheet_of(record: Examination) -> RecordWords:
    return sheets_of([record])[0]


def sheets_of(records: list[Examination]) -> list[RecordWords]:
    """`records` as `Examination.objects.for_page()` gives them."""
    prefetch(prefetch(records, "measurements", _measured), "readings", _readings)
    prefetch(records, "indications", _indications)
    prefetch(records, "decisions", _decided)
    conceded = _concessions(records)
    return [_sheet(record, conceded.get(record.pk, [])) for record in records]


@prepared
def _measured(scope: Scope) -> QuerySet[Measurement]:
    found = Measurement.objects.filter(**scope)
    return found.select_related("limits__dimension", "limits__row__sheet", "dimension", "instrument", "calibration")


@prepared
def _readings(scope: Scope) -> QuerySet[Reading]:
    return Reading.objects.filter(**scope)


@prepared
def _indications(scope: Scope) -> QuerySet[Indication]:
    return Indication.objects.filter(**scope).select_related("photo")


@prepared
def _decided(scope: Scope) -> QuerySet[FindingDecision]:
    return FindingDecision.objects.filter(**scope).select_related("decided_by", "indication").order_by("event")


SIDES = ("hole", "measurement", "shaft")
"""Of a record that a concession rests on: one size, or either side of a fit."""


@prepared
def _granted(scope: dict) -> QuerySet:
    about = Q(*scope.items(), _connector=Q.OR)
    found = Concession.objects.filter(about).order_by("id")
    return found.select_related("measurement__dimension", "fit", "hole", "shaft", "granted_by")


def _concessions(records) -> dict[int, list[tuple[str, Concession]]]:
    """Under each record the concessions on its sizes, and on the fits of which it measured a side; oldest first."""
    numbers = [record.pk for record in records]
    found: dict[int, list] = {}
    for one in _granted({f"{side}__examination__in": numbers for side in SIDES}):
        behind = {side.examination_id for side in (one.measurement, one.hole, one.shaft) if side}
        of_what = one.measurement.dimension.name if one.measurement else f"the fit {one.fit}"
        for pk in sorted(behind):
            found.setdefault(pk, []).append((of_what, one))
    return found


def _sheet(record: Examination, conceded) -> RecordWords:
    check = getattr(record, "crack_check", None)
    shown = list(record.indications.all())
    decisions = list(record.decisions.all())
    done = dict(how(check)) if check else {}
    level = done.pop("Examiner's level", "")
    if done and shown:
        done.setdefault(*NO_LEVEL)
    return RecordWords(
        record=record,
        title=capital(str(record)),
        piece=_piece(record),
        looked=_looked(record, level),
        how=list(done.items()),
        sizes=[_size(one) for one in record.measurements.all()],
        shown=[_shown(one, decisions) for one in shown],
        photos=marked_photos(shown),
        questions=[tuple(pair) for pair in check.answers] if check else [],
        decisions=decisions,
        concessions=conceded,
        as_signed=bool(record.digest) and of_examination(record) == record.digest,
        notes=[NOT_MODELLED] if check and check.level and shown else [],
    )


SUBJECT = (
    ("Piece", "piece"),
    ("Tag", "tag"),
    ("Stamped marks", "marks"),
    ("Cast or plate number", "cast number"),
    ("Place", "place"),
    ("Subassembly", "subassembly"),
    ("Drawing", "drawing"),
    ("Material", "material"),
    ("Locomotive", "locomotive"),
)


def _piece(record: Examination) -> list[Fact]:
    """As named on the day. A record from before that was kept is told as the piece is named now, and says so."""
    subject = record.subject
    if not subject.get("piece"):
        piece, place = record.component, record.position
        told = [("Piece", f"{piece.name} (as named today)"), ("Stamped marks", piece.marks)]
        told += [("Place", f"{place.words}, {place.subassembly.name}" if place else "")]
        told += [("Locomotive", str(piece.locomotive) if piece.locomotive else "")]
        return _filled(told)
    told = [(name, str(subject.get(key) or "")) for name, key in SUBJECT]
    if subject.get("quantity", 1) != 1:
        told.insert(1, ("How many", str(subject["quantity"])))
    return _filled(told)


def _looked(record: Examination, level: str) -> list[Fact]:
    told = [
        ("Examined on", day(record.on)),
        ("Examined and signed by", record.subject.get("signed by") or str(record.signed_by)),
        ("Qualification and level", level or _level_on_the_day(record)),
        ("Result", record.result),
        ("Surfaces reached", ", ".join(record.reached)),
        ("Not reached, so not examined", ", ".join(record.not_reached)),
        *lines_of(record.kind, record.figures, record.on),
        ("In one report, all sound", "; ".join(record.subject.get("covers", ()))),
        ("Left out of it, in doubt", "; ".join(record.subject.get("left out", ()))),
    ]
    return _filled(told)


def _level_on_the_day(record: Examination) -> str:
    level, until = record.subject.get("level", ""), record.subject.get("good until", "")
    return ", ".join(filter(None, (level, f"good until {day(date.fromisoformat(until))}" if until else "")))


def _size(one: Measurement) -> SizeInRecord:
    limits = one.limits.plain() if one.limits else None
    unit = one.dimension.unit
    readings = list(one.readings.all())
    facts = limits_in_words(limits) if limits else [("Limits", "none set when it was measured")]
    if one.limits:
        clause = f", {one.limits.row.clause}" if one.limits.row and one.limits.row.clause else ""
        facts += [("Source of the limits", f"{one.limits}{clause} (edition {one.limits.edition} here)")]
    facts += [
        ("Instrument", one.instrument_words),
        ("Calibrated", f"{day(one.calibration.on)}{_until(one.calibration.until)}, {one.calibration.certificate}"),
        ("Uncertainty", f"±{in_both(one.uncertainty, unit)}, {RULES.get(one.rule, one.rule)}"),
        ("Least and most", f"{in_both(one.least, unit)} and {in_both(one.most, unit)}" if len(readings) > 1 else ""),
        ("Ovality", "" if one.ovality is None else in_both(one.ovality, unit)),
        ("Taper", "" if one.taper is None else in_both(one.taper, unit)),
    ]
    others = [reading.value for reading in readings if reading.value != one.value]
    return SizeInRecord(
        pk=one.pk,
        name=one.dimension_words or str(one.dimension),
        sentence=capital(one.sentence),
        verdict=VERDICT.get(one.size_class, one.size_class) or "not judged",
        outside=one.outside,
        facts=_filled(facts),
        readings=[(_spot(reading), _typed(reading), in_both(reading.value, unit)) for reading in readings],
        picture=picture(limits, one.value, one.uncertainty, others) if limits else None,
        questions=[tuple(pair) for pair in one.questions],
    )


RULES = {
    "guarded": "counted: within or beyond a limit only where that is proved",
    "simple": "told, and not counted in the verdict",
}
VERDICT: dict[str, str] = {SizeClass.WITHIN_SCRAPPING: "within scrapping limit: needs a decision"}


def _spot(reading) -> str:
    return ", ".join(filter(None, (reading.station, reading.direction))) or "as taken"


def _typed(reading) -> str:
    """A figure without a unit was read in the unit chosen for it, which is told beside it."""
    bare = not any(letter.isalpha() or letter in "'\"′″’”" for letter in reading.typed)
    return f"{reading.typed} {reading.unit}" if bare else reading.typed


def _shown(one: Indication, decisions: list[FindingDecision]) -> IndicationInRecord:
    decided = [made for made in decisions if made.indication_id in (one.pk, None)]
    width = f" by {in_unit(one.width, 'mm')}" if one.width else "" if one.width is None else f" {TOO_FINE} across"
    return IndicationInRecord(
        number=one.number,
        where=one.where or "as marked on the photo",
        typed=f"{in_both(one.length, 'mm')} long{f',{width}' if width else ''}",
        sentence=one.sentence,
        what="a crack, or may be one" if one.crack else "no crack",
        decided=_decision(decided[-1]) if decided else "not decided yet",
    )


def _decision(made: FindingDecision) -> str:
    return f"{made.decision}, {made.decided_by}, {day(timezone.localdate(made.decided_at))}"


def _filled(told: list[Fact]) -> list[Fact]:
    return [(name, words) for name, words in told if words]


def _until(when: date | None) -> str:
    return f", good until {day(when)}" if when else ""
