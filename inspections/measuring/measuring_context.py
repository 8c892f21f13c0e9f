"""What the page of a sheet of sizes shows: each size as typed and judged, its limits, and what was measured before.

A number of queries that does not grow with the sizes.
"""

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from parts.actions import writing
from parts.domain.words import Kind
from parts.models import Component

from ..domain.limit_words import limits_in_words
from ..domain.roundness import in_words as shape_in_words
from ..domain.size_picture import SizePicture, picture
from ..domain.size_sentences import in_short
from ..domain.thickness_survey import in_words, wasting
from ..domain.typed_sheets import as_measured
from ..models import Dimension, Draft, Instrument, Limits, Measurement
from ..records.sheet import TypedSize, read_line
from ..sizes.size_context import itself_fails

ONE_BY_ONE = 8
"""A size with more spots than this is typed spot by spot, where sizes are typed one at a time."""


@dataclass(frozen=True, kw_only=True)
class TypedFigure:
    """One field."""

    number: int
    name: str
    label: str
    typed: str
    trouble: str
    echo: str


@dataclass(frozen=True, kw_only=True)
class Asked:
    """One thing that is questioned, with the reason as far as it was given."""

    name: str
    sentence: str
    blocking: bool
    reason: str


@dataclass(kw_only=True)
class SizeOnSheet:
    """One dimension on the sheet."""

    line: TypedSize
    unit: str
    words: list[tuple[str, str]]
    fails: str
    last: Measurement | None
    wasting: str

    @property
    def dimension(self) -> Dimension:
        return self.line.dimension

    @property
    def number(self) -> int:
        return self.dimension.pk

    @property
    def figures(self) -> list[TypedFigure]:
        alone = len(self.line.cells) == 1
        return [
            TypedFigure(
                number=n, name=f"size-{self.number}-{n}", typed=cell.typed, trouble=cell.trouble, echo=cell.echo,
                label=cell.words.capitalize() if cell.words else (self.dimension.name.capitalize() if alone else ""),
            )
            for n, cell in enumerate(self.line.cells)
        ]  # fmt: skip

    @property
    def many(self) -> bool:
        return len(self.line.cells) > ONE_BY_ONE

    @property
    def read(self) -> list[TypedFigure]:
        return [figure for figure in self.figures if figure.echo or figure.trouble]

    @property
    def asked(self) -> list[Asked]:
        return [
            Asked(
                name=f"why-{self.number}-{question.code}", sentence=question.sentence, blocking=question.blocking,
                reason=self.line.reasons.get(question.code, ""),
            )
            for question in self.line.questions
        ]  # fmt: skip

    @property
    def is_unreadable(self) -> bool:
        return any(cell.trouble for cell in self.line.cells)

    @property
    def lacks_instrument(self) -> bool:
        return not self.line.is_blank and self.line.instrument is None

    @property
    def mark(self) -> str:
        """`good`, `warn` (a decision, or not proved), `error` (beyond scrapping, unreadable), or nothing."""
        measured = self.line.measured
        if self.is_unreadable or (measured and measured.beyond_scrapping):
            return "error"
        if measured is None or measured.size_class is None:
            return ""
        return "warn" if measured.outside else "good"

    @property
    def in_short(self) -> str:
        """Beside the figure just typed; nothing while nothing is."""
        measured, typed = self.line.measured, sum(bool(cell.typed) for cell in self.line.cells)
        if self.is_unreadable:
            return "Cannot be read: check the figure"
        if self.picture and self.picture.off:
            return "Far off its limits: check the figure and unit"
        if self.lacks_instrument:
            return "Choose the instrument first"
        return in_short(measured.size_class, typed, len(self.line.cells)) if measured else ""

    @property
    def shape(self) -> str:
        """Ovality and taper, where it was measured in more than one direction or at more than one station."""
        measured = self.line.measured
        return shape_in_words(measured.ovality, measured.taper, self.dimension.unit) if measured else ""

    @property
    def picture(self) -> SizePicture | None:
        measured, limits = self.line.measured, self.line.limits
        if limits is None:
            return None
        if measured is None:
            return picture(limits.plain())
        sizes = [cell.value for cell in self.line.cells if cell.value is not None]
        return picture(limits.plain(), measured.value, measured.uncertainty_mm, sizes)


@dataclass(kw_only=True)
class SizeSheet:
    """The whole sheet."""

    piece: Component
    kind: str
    sizes: list[SizeOnSheet]
    instruments: list[Instrument]
    entered: dict
    kept_at: object = None
    steps: list[tuple[SizeOnSheet, int | None]] = field(default_factory=list)

    def __post_init__(self):
        for size in self.sizes:
            spots = range(len(size.line.cells)) if size.many else (None,)
            self.steps += [(size, spot) for spot in spots]

    @property
    def lines(self) -> list[TypedSize]:
        return [size.line for size in self.sizes]

    @property
    def done(self) -> int:
        return sum(not size.line.is_blank for size in self.sizes)

    def size(self, number: str) -> SizeOnSheet | None:
        return next((size for size in self.sizes if str(size.number) == number), None)


def dimensions_of(piece: Component) -> list[Dimension]:
    return list(Dimension.objects.asked_of(piece).with_limits()) if piece.place_id else []


def sheet_for(
    piece: Component, person, kind: str, dimensions: list[Dimension], entered: dict | None = None
) -> SizeSheet:
    """`entered` is what was just sent; without it, what was kept."""
    draft = Draft.objects.filter(component=piece, author=person, kind=kind).first() if entered is None else None
    entered = entered if entered is not None else (draft.entered if draft else {})
    editions: dict[int | None, Limits] = {
        **Limits.objects.in_bulk([one.limits_id for one in dimensions if one.limits_id])
    }
    instruments = list(Instrument.objects.in_use())
    earlier = _earlier(piece, dimensions, with_readings=kind == Kind.THICKNESS)
    sizes = [
        _size(one, editions.get(one.limits_id), instruments, earlier.get(one.pk, []), entered, kind)
        for one in dimensions
    ]
    return SizeSheet(
        piece=piece,
        kind=kind,
        sizes=sizes,
        instruments=instruments,
        entered=entered,
        kept_at=draft.at if draft else None,
    )


def _earlier(piece, dimensions, *, with_readings: bool) -> dict[int, list[Measurement]]:
    """What was measured of these on this piece before, in this overhaul or an earlier one; the oldest first."""
    found: dict[int, list[Measurement]] = {}
    taken = Measurement.objects.of_piece(piece).filter(dimension__in=dimensions)
    taken = taken.select_related("examination__signed_by")
    for one in taken.prefetch_related("readings") if with_readings else taken:
        found.setdefault(one.dimension_id, []).append(one)
    return found


def _size(dimension, limits, instruments, earlier, entered, kind) -> SizeOnSheet:
    if limits is not None:
        limits.dimension = dimension
    kept = entered.get("sizes", {}).get(str(dimension.pk), {})
    wanted = kept.get("instrument", "") if kept else entered.get("instrument", "")
    instrument = next((one for one in instruments if str(one.pk) == wanted), None)
    unit = kept.get("unit") or (instrument.unit if instrument and not kept else dimension.unit)
    line = read_line(
        dimension, limits, instrument, kept.get("typed", []),
        unit=unit, today=writing.today(), reasons=kept.get("reasons", {}),
    )  # fmt: skip
    return SizeOnSheet(
        line=line,
        unit=unit,
        words=limits_in_words(limits.plain()) if limits else [],
        fails=itself_fails(limits),
        last=earlier[-1] if earlier else None,
        wasting=_wasting(line, earlier) if kind == Kind.THICKNESS else "",
    )


def _wasting(line: TypedSize, earlier: list[Measurement]) -> str:
    now = {(cell.station, cell.direction): cell.value for cell in line.cells if cell.value is not None}
    before: list[tuple[date, dict[tuple[str, str], Fraction]]] = [
        (one.examination.on, {(r.station, r.direction): r.value for r in one.readings.all()})
        for one in sorted(earlier, key=lambda one: one.examination.on)
    ]
    required = _least_allowed(line.limits)
    found = wasting(now, before, writing.today(), required)
    return in_words(found, required, line.dimension.unit) if found else ""


def _least_allowed(limits: Limits | None):
    if limits is None:
        return None
    return limits.shop_lower if limits.scrapping_lower is None else limits.scrapping_lower


def old_values(record, dimensions: list[Dimension]) -> dict:
    """What was typed for a record, as a sheet that corrects it begins. Reasons that were given are kept."""
    by_number = {one.pk: one for one in dimensions}
    sizes = {}
    for one in record.measurements.select_related("instrument").prefetch_related("readings"):
        dimension, readings = by_number.get(one.dimension_id), list(one.readings.all())
        if dimension is None or not readings:
            continue
        at = {(reading.station, reading.direction): reading.typed for reading in readings}
        typed, unit = [at.get(spot, "") for spot in dimension.spots()], readings[0].unit
        line = read_line(dimension, None, one.instrument, typed, unit=unit, today=writing.today())
        reasons = {q.code: why for q in line.questions for sentence, why in one.questions if q.sentence == sentence}
        sizes[str(dimension.pk)] = {
            "typed": typed, "unit": unit, "instrument": str(one.instrument_id), "reasons": reasons,
        }  # fmt: skip
    entered = as_measured(sizes)
    entered["record"] = {
        "result": record.result, "found": record.found, "remarks": record.remarks, "on": record.on.isoformat(),
        "supersedes": str(record.pk),
    }  # fmt: skip
    return entered
