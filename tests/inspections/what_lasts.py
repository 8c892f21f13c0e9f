"""Everything that signing sizes and crack checks writes and that must last, in the hands of the cast."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from inspections.boiler_records import writers as boiler_records
from inspections.boilers import writers as boilers
from inspections.boxing_up.writers import box_up
from inspections.concessions.writers import concede, concede_fit
from inspections.fits.writers import add_fit
from inspections.models import Dimension, Examination, Fit, LimitSheet, SheetRow
from inspections.records.writers.crack_checks import CheckDetails, Mark
from inspections.records.writers.signing import sign
from inspections.reproducing.writers import SizeToTake, take_size
from inspections.return_to_service import writers as returning
from parts.domain.words import Kind, Method, State
from parts.models import Component
from parts.photos.writers import add as add_photos
from parts.structure.writers.structure import add_subassembly
from tests.factories import WITH_WHAT, Works, fresh
from tests.pictures import a_photo
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


SHELL = {
    "tensile": "60000 lb/in²", "thickness": "3/8 in", "efficiency": "0.7", "radius": "30 in", "factor": "4.5"
}  # fmt: skip
KINDS = {"tensile": "stress", "thickness": "length", "efficiency": "number", "radius": "length", "factor": "number"}


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
    brass, axle = works.plain_place(name="brass"), axle or works.plain_place(name="valve spindle")
    bore = {"drawing": "125.05 +0.05 -0", "shop_lower": "125", "shop_upper": "126", "scrapping_upper": "130"}
    hole = works.dimension(brass, name="bore", wears="larger", limits=bore)
    shaft = works.dimension(axle)
    pieces = [works.piece(state, place=place) for place in (brass, axle)]
    fit = add_fit(works.people.engineer, name=f"running fit {next(numbers)}", hole=hole, shaft=shaft, **WANTED | wanted)
    return Pair(fit=fit, hole=hole, shaft=shaft, brass=pieces[0], axle=pieces[1])


@remembered
def a_crack_check(works: Works, piece, *sizes: str, check=None, marks=None, **more) -> Examination:
    """A penetrant check that showed an indication of each size; sound if none."""
    marks = [Mark(length=size, unit="mm", where="in the fillet") for size in sizes] if marks is None else marks
    given = {"result": "indication" if marks else "sound", "found": "lines in the fillet" if marks else ""}
    record = sign(
        piece, works.people.examiner, kind=Kind.CRACK_CHECK, method=Method.PENETRANT,
        check=check or CheckDetails(**SAID), marks=marks, **given | more,
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
    taken = SizeToTake(what="outline", size="9 in", unit="in", tolerance="±1/64 in", with_what="template")
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


def boilers_that_last(works: Works) -> None:
    """A boiler with an entry in its file, and a calculation that is signed and checked."""
    people, today = works.people, date(2026, 5, 3)
    entered = {"number": f"B-{next(numbers)}", "regime": "other", "body": "a body (invented)", "wanted": "120 lb/in²"}
    boiler = boilers.add_boiler(people.engineer, locomotive=works.locomotive, **entered)
    boilers.enter(boiler, people.engineer, kind="examination", on=today, words="Found good.")
    figures = [
        {"key": key, "name": key, "kind": KINDS[key], "written": written, "origin": "drawing", "where": "sheet 1"}
        for key, written in SHELL.items()
    ]
    line = {"key": "r1", "title": "barrel", "method": "shell", "part": "barrel and longitudinal seams"}
    typed = {"figures": figures, "formulas": [line | {"uses": {key: key for key in SHELL}}]}
    record = boiler_records.begin(
        boiler, people.engineer, kind="calculation", title="as it is", on=today, entered=typed
    )
    boiler_records.sign(record, people.engineer)
    boiler_records.check(record, people.examiner)


def a_boxing_up_that_lasts(works: Works) -> None:
    """A subassembly of one place, boxed up under two names, and a signed list for the return to service."""
    people = works.people
    sanding = add_subassembly(works.locomotive, f"Sanding {next(numbers)}", people.manager)
    piece = works.piece(State.ACCEPTED, place=works.plain_place(name="sandbox", subassembly=sanding))
    works.refit(piece, locked="split pin")
    add_photos([a_photo()], sanding, people.fitter)
    counts = {"tools_in": 7, "tools_out": 7, "rags_in": 3, "rags_out": 3}
    box_up(sanding, people.fitter, checker=people.second_fitter.pk, seen="Clean, every split pin opened.", **counts)
    overhaul = works.locomotive.open_overhaul()
    item = returning.ask_for(overhaul, people.manager, words="Brake test", asked_by="M. Vane (invented)")
    returning.tick(item, people.examiner, by_what="test sheet 14")
    returning.sign(overhaul, people.engineer)
