"""What is measured on the demo's pieces, with what and by which limits: an invented sheet, and figures that fit it."""

from fractions import Fraction
from typing import Any

from inspections.domain.shipped_sheet import tire_band
from inspections.fits.writers import add_fit
from inspections.instruments.writers import add_instrument, calibrate
from inspections.limit_sheets.writers import attach_to_all, ship
from inspections.limits.writers import Typed, add_dimension
from inspections.models import Dimension, Instrument
from inspections.records.sheet import TypedSize, read_line
from parts.actions import writing
from parts.models import Position

from .cast import Cast
from .clock import Clock

SHEET: dict[str, Any] = {
    "source": "Embermoss Forest Railway, sheet of limits 7 (invented)",
    "source_edition": "issue 3, 1987",
}
INCH = Fraction("25.4")
THOU = INCH / 1000

INSTRUMENTS = (  # number, kind, unit, from, to, reads to, uncertainty (all mm), calibrated and good until (days ago)
    ("M 3", "outside micrometer", "in", 2 * INCH, 3 * INCH, THOU / 10, THOU / 5, 420, -210),
    ("M 4", "outside micrometer", "in", 3 * INCH, 4 * INCH, THOU / 10, THOU / 5, 420, -180),
    ("M 6", "outside micrometer", "in", 5 * INCH, 6 * INCH, THOU / 10, THOU / 5, 471, 104),
    ("B 1", "bore gauge", "in", 2 * INCH, 8 * INCH, THOU / 10, 3 * THOU / 10, 355, -160),
    ("M 45", "outside micrometer", "mm", Fraction(25), Fraction(50), Fraction("0.01"), Fraction("0.004"), 350, -190),
    ("V 2", "vernier caliper", "in", Fraction(0), 12 * INCH, THOU, 2 * THOU, 405, 31),  # lapsed since
    ("S 1", "tyre gauge", "in", Fraction(0), 6 * INCH, INCH / 64, INCH / 128, 390, -9),  # due soon
)
CALIBRATED_AGAIN = {"M 6": (110, -255)}
ACROSS = ("vertical", "horizontal")
JOURNAL = {
    "wears": "smaller", "stations": ("inner end", "outer end"), "directions": ACROSS, "round_part": True,
    "limits": Typed(drawing="6 +0 -0.002", shop="5 7/8", scrapping="5 3/4", **SHEET),
}  # fmt: skip
BORE = {
    "wears": "larger", "stations": ("inner end", "outer end"), "round_part": True,
    "limits": Typed(shop_lower="5 3/4", shop_upper="6 1/16", scrapping="6 1/8", **SHEET),
}  # fmt: skip
PIN = {
    "wears": "smaller", "directions": ("along the crank", "across the crank"), "round_part": True,
    "limits": Typed(drawing="3 1/2 +0 -0.002", shop="3 7/16", scrapping="3 3/8", **SHEET),
}  # fmt: skip
BUSH = {
    "wears": "larger", "directions": ("along the rod", "across the rod"), "round_part": True,
    "limits": Typed(drawing="3.506 +0.002 -0", shop="3.540", scrapping="3.580", **SHEET),
}  # fmt: skip
ROD = {
    "wears": "smaller", "stations": ("crosshead end", "middle", "piston end"), "directions": ACROSS, "round_part": True,
    "limits": Typed(drawing="2 1/2 +0 -0.002", shop="2.440", scrapping="2.400", **SHEET),
}  # fmt: skip
SPINDLE = {
    "wears": "smaller", "unit": "mm", "stations": ("gland", "middle"), "round_part": True,
    "limits": Typed(drawing="40 +0 -0.039", shop="39.5", scrapping="39", **SHEET),
}  # fmt: skip
LH, RH = "journal diameter, LH", "journal diameter, RH"

SIZES = (  # subassembly, place, its axle ("" for all of them), and the sizes of it
    ("wheelset-leading", "wheelset", "leading", {LH: JOURNAL, RH: JOURNAL}),
    ("wheelset-driving", "axle", "driving", {LH: JOURNAL, RH: JOURNAL}),
    ("axleboxes", "axlebox brass", "leading", {"bore": BORE}),
    ("axleboxes", "axlebox brass", "driving", {"bore": BORE}),
    ("wheelset-driving", "crank pin", "driving", {"pin diameter": PIN}),
    ("coupling-rods", "coupling rod", "leading to driving", {"bore of the driving bush": BUSH}),
    ("pistons-outside", "piston", "", {"rod diameter": ROD}),
    ("valves-outside", "valve spindle", "", {"spindle diameter": SPINDLE}),
)
RUNNING = {
    "kind": "running", "least": 6 * THOU, "most": 12 * THOU, "shop_most": 30 * THOU, "unit": "in",
}  # fmt: skip
FLANGE = "flange thickness at 3/8 in above tread"
AXLE_LOAD_LB, WHEEL_CENTRE_IN = 18_000, 38

FOUND = {  # place, side and axle: the instrument and the figures of each size
    ("wheelset", "", "leading"): {
        LH: ("M 6", "5.9574 5.9570 5.9578 5.9575"),
        RH: ("M 6", "5.9321 5.9312 5.9330 5.9326"),
    },
    ("tyre", "LH", "leading"): {"tyre thickness": ("S 1", "1 47/64"), FLANGE: ("S 1", "1 5/32")},
    ("tyre", "RH", "leading"): {"tyre thickness": ("S 1", "1 23/32"), FLANGE: ("S 1", "1 11/64")},
    ("axle", "", "driving"): {LH: ("M 6", "5.9612 5.9608 5.9619 5.9616"), RH: ("M 6", "5.8918 5.8902 5.8931 5.8920")},
    ("axlebox brass", "LH", "leading"): {"bore": ("B 1", "5.9662 5.9668")},
    ("axlebox brass", "RH", "leading"): {"bore": ("B 1", "5.9701 5.9716")},
    ("axlebox brass", "LH", "driving"): {"bore": ("B 1", "5.9920 5.9932")},
    ("axlebox brass", "RH", "driving"): {"bore": ("B 1", "6.0011 6.0020")},
    ("crank pin", "LH", "driving"): {"pin diameter": ("M 4", "3.4871 3.4862")},
    ("coupling rod", "RH", "leading to driving"): {"bore of the driving bush": ("B 1", "3.5431 3.5422")},
    ("piston", "LH", ""): {"rod diameter": ("M 3", "2.4418 2.4409 2.4312 2.4296 2.4390 2.4385")},
    ("valve spindle", "RH", ""): {"spindle diameter": ("M 45", "39.98 39.97")},
}
AS_FOUND = {  # in the yard, before any work; with the vernier
    ("wheelset", "", "leading"): {LH: ("V 2", "5.959 5.958 5.960 5.959"), RH: ("V 2", "5.935 5.934 5.936 5.935")},
    ("axle", "", "driving"): {LH: ("V 2", "5.963 5.963 5.964 5.964")},
    ("tyre", "LH", "driving"): {"tyre thickness": ("S 1", "1 3/64"), FLANGE: ("S 1", "1 1/16")},
    ("tyre", "RH", "driving"): {"tyre thickness": ("S 1", "1 5/64"), FLANGE: ("S 1", "1 3/32")},
}


LEFT_OPEN = {
    "spots-left-out": "The wheel covers the rest; measured there once it is off.",
    "no-limits": "Maud, as responsible engineer: kept as found, and looked at again at the next overhaul.",
}


def set_up(locomotive, cast: Cast, clock: Clock) -> None:
    """The instruments, and what each place is measured for and judged by."""
    for code, kind, unit, low, high, resolution, uncertainty, on, until in INSTRUMENTS:
        add_instrument(
            cast.oskar, code=code, kind=kind, unit=unit, low=low, high=high, resolution=resolution,
            uncertainty=uncertainty, certificate=f"Certificate {code.replace(' ', '')}-1 (invented)",
            calibrated_on=clock.ago(on), calibrated_until=clock.ago(until), note="Invented for the demo.",
        )  # fmt: skip
    for code, name, axle, sizes in SIZES:
        for place in _places(locomotive, code, name, axle):
            for size, entered in sizes.items():
                asked: dict[str, Any] = {"name": size, "unit": "in", **entered}
                add_dimension(place, cast.maud, **asked)
    _pair_up(locomotive, cast)
    _attach_the_law(locomotive, cast)


def calibrate_again(code: str, cast: Cast, clock: Clock) -> None:
    """The second certificate of an instrument; as it came it was still true."""
    on, until = CALIBRATED_AGAIN[code]
    calibrate(
        Instrument.objects.get(code=code), cast.petra, on=clock.ago(on), until=clock.ago(until),
        uncertainty=THOU / 5, certificate=f"Certificate {code.replace(' ', '')}-2 (invented)",
    )  # fmt: skip


def lines(place: Position, found: dict = FOUND) -> list[TypedSize]:
    """The sheet of a place as filled in at the bench; empty where nothing is told of it."""
    entered = found.get((place.name, place.side, place.axle), {})
    sizes = {size.name: size for size in place.dimensions.in_use()} if entered else {}
    return [_line(sizes[name], *figures) for name, figures in entered.items()]


def lines_of_whole(piece) -> list[TypedSize]:
    """Its own sizes, and those of what is in it while it is left whole."""
    within = [] if piece.broken_down else piece.place.inner.order_by("id")
    return [line for place in (piece.place, *within) for line in lines(place)]


def _line(size: Dimension, code: str, figures: str) -> TypedSize:
    typed = figures.split() if len(size.spots()) > 1 else [figures]
    instrument = Instrument.objects.get(code=code)
    return read_line(
        size, size.editions.first(), instrument, typed, unit=size.unit, today=writing.today(), reasons=LEFT_OPEN
    )


def _places(locomotive, code: str, name: str, axle: str):
    found = locomotive.positions.filter(subassembly__code=code, name=name).order_by("id")
    return found.filter(axle=axle) if axle else found


def _pair_up(locomotive, cast: Cast) -> None:
    """Each journal in its brass; the driving axle is measured out of its wheels, the leading one in them."""
    journals = (("leading", "wheelset-leading", "wheelset"), ("driving", "wheelset-driving", "axle"))
    for axle, code, name in journals:
        for brass in _places(locomotive, "axleboxes", "axlebox brass", axle):
            journal = _places(locomotive, code, name, axle).get().dimensions.get(name=f"journal diameter, {brass.side}")
            add_fit(
                cast.maud, name=f"{axle} journal in its brass, {brass.side}", hole=brass.dimensions.get(),
                shaft=journal, **RUNNING, **SHEET,
            )  # fmt: skip


def _attach_the_law(locomotive, cast: Cast) -> None:
    """The published sheet, on the tyres: it is no law of this railway, which its limits say wherever they are shown."""
    rows, tyres = ship().rows, list(locomotive.positions.filter(name="tyre").order_by("id"))
    band = tire_band(AXLE_LOAD_LB, WHEEL_CENTRE_IN)
    for row in (rows.ending(band).get(), rows.get(item=FLANGE)):
        attach_to_all(row, tyres, cast.kofi)
