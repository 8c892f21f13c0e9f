"""Everything that signing sizes and crack checks writes and that must last, in the hands of the cast."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from inspections.concessions.writers import concede, concede_fit
from inspections.fits.writers import add_fit
from inspections.models import Dimension, Examination, Fit, LimitSheet, SheetRow
from inspections.records.writers.crack_checks import Mark, Said
from inspections.records.writers.signing import sign
from inspections.reproducing.writers import Taken, take_size
from parts.domain.words import Kind, Method, State
from parts.models import Component
from tests.factories import WITH_WHAT, Works, fresh
from tests.remembered import numbers, remembered

SAID = WITH_WHAT | {
    "viewing": "colour contrast", "light_lux": Decimal(800), "dwell_min": Decimal(15), "surface_c": Decimal(20)
}  # fmt: skip
WANTED = {
    "kind": "running",
    "least": Fraction(5, 100),
    "most": Fraction(10, 100),
    "shop_least": Fraction(3, 100),
    "shop_most": Fraction(25, 100),
    "unit": "mm",
    "source": "invented sheet",
    "source_edition": "1",
}


@dataclass(frozen=True, kw_only=True)
class Pair:
    """A journal and the bore that runs on it, with a piece in either place."""

    fit: Fit
    hole: Dimension
    shaft: Dimension
    brass: Component
    axle: Component

    def measured(self, works: Works, bore: str, journal: str):
        """The measurements of both as they were signed."""
        records = works.measure(self.brass, {self.hole: bore}), works.measure(self.axle, {self.shaft: journal})
        return [record.measurements.get() for record in records]


@remembered
def a_pair(works: Works, state=State.CLEANED, *, axle=None, **wanted) -> Pair:
    brass, axle = works.plain_place(name="brass"), axle or works.plain_place(name="axle")
    bore = {"drawing": "125.05 +0.05 -0", "shop_lower": "125", "shop_upper": "126", "scrapping_upper": "130"}
    hole = works.dimension(brass, name="bore", wears="larger", limits=bore)
    shaft = works.dimension(axle)
    pieces = [works.piece(state, place=place) for place in (brass, axle)]
    fit = add_fit(works.people.engineer, name=f"running fit {next(numbers)}", hole=hole, shaft=shaft, **WANTED | wanted)
    return Pair(fit=fit, hole=hole, shaft=shaft, brass=pieces[0], axle=pieces[1])


@remembered
def a_crack_check(works: Works, piece, *sizes: str, said=None, marks=None, **more) -> Examination:
    """A penetrant check that showed an indication of each size; sound if none."""
    marks = [Mark(length=size, unit="mm", where="in the fillet") for size in sizes] if marks is None else marks
    given = {"result": "indication" if marks else "sound", "found": "lines in the fillet" if marks else ""}
    record = sign(
        piece, works.people.examiner, kind=Kind.CRACK_CHECK, method=Method.PENETRANT, said=said or Said(**SAID),
        marks=marks, **given | more,
    )  # fmt: skip
    fresh(piece)
    return record


@remembered
def a_limit_sheet(works: Works) -> LimitSheet:
    by = {"added_by": works.people.engineer, "added_at": "2026-05-03T12:00Z"}
    sheet = LimitSheet.objects.create(name="invented sheet", edition=f"{next(numbers)}", source="nobody", **by)
    SheetRow.objects.create(sheet=sheet, number=1, applies_to="axle", item="journal", unit="mm", shop_lower="123")
    return sheet


@remembered
def a_size_that_lasts(works: Works) -> None:
    """What was taken from a piece before it goes."""
    taken = Taken(what="outline", size="9 in", unit="in", tolerance="±1/64 in", with_what="template")
    take_size(works.piece(), works.people.second_engineer, taken)


def sizes_that_last(works: Works) -> Pair:
    """A row in every table of measuring that is protected."""
    a_limit_sheet(works)
    pair = a_pair(works)
    hole, shaft = pair.measured(works, "125.40", "122.5")
    until = {"reason": "light trains only", "look_again": date(2100, 1, 1)}
    concede(shaft, works.people.engineer, **until)
    concede_fit(pair.fit, fresh(pair.axle), works.people.engineer, hole=hole, shaft=shaft, **until)
    a_crack_check(works, works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT)), "12")
    return pair
