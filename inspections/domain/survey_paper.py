"""A thickness survey as its paper: how it was read, its map, least and mean by zone, loss and what is left.

Worked example: row 1, column 1 was 12.0 mm on 1 Jun 2020 and 11.6 mm on 1 Jun 2024: 0.1 mm a year. Gauge ±0.1 mm, a
year to the next examination: a pressure rests on 11.6 - 0.1 - 0.1 x 1 = 11.4 mm.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction

from parts.domain.plain import capital, day, listed, says_enough, several

from .boiler_papers import BoilerPaper, Section
from .exact import exact
from .survey_drawing import cell_size, developed_width, draw, on_photo
from .survey_grid import (
    PlateLoss,
    Point,
    Survey,
    Zone,
    ZoneVerdict,
    against_needed,
    grown_points,
    plate_loss,
    point_loss,
    rests_on,
    velocity_question,
    zones,
)
from .survey_pits import pits_section
from .survey_read import ReadSurvey
from .survey_words import key, read_block
from .thickness import YEAR_DAYS
from .two_units import in_both
from .wall_loss import loss, years_between

FIRST = 3
"""So many points with nothing are named."""


def against(read: ReadSurvey) -> list[str]:
    """Why no reading counts yet, each with what to do about it."""
    found = []
    try:
        found += read.check.refusals()
    except ValueError as wrong:
        found.append(f"Give the thickness of the calibration block: {wrong}")
    until = read.entered.get("calibrated_until")
    if not read.entered.get("instrument"):
        found.append("Choose the gauge: without an instrument in date no reading counts.")
    elif not until or date.fromisoformat(until) < read.on:
        found.append("Read again with a gauge in date: this one was not calibrated on the day.")
    for name, who in (("reader", "held the probe"), ("writer", "wrote the figures down")):
        if not str(read.entered.get(name) or "").strip():
            found.append(f"Name who {who}.")
    if not str(read.entered.get("couplant") or "").strip():
        found.append("Write down the couplant.")
    if (asked := _velocity(read)) and not str(read.entered.get("velocity_reason") or "").strip():
        found.append(f"Answer why the velocity is right: {asked}")
    word = str(read.entered.get("mean_word") or "").strip()
    if word and not says_enough(word):
        found.append("Name the competent person and the paper by whose word the mean counts.")
    missed = read.entered.get("missed", {})
    found += [f"Say what was found of {item}: a grid misses it." for item in read.asked if not missed.get(item)]
    try:
        if not any(one.thickness is not None for one in read.weighed):
            found.append("Read one point at least.")
    except ValueError as wrong:
        found.append(str(wrong))
    if read.untouched and not read.signed:
        found.append(_untouched(read.untouched, len(read.points)))
    return found


def _untouched(points: Sequence[Point], of: int) -> str:
    asked = "Type a reading, x (cannot be read) or n (not reached) at each point that has nothing"
    return f"{asked}, {len(points)} of {of}: {_named(points)}."


def _named(points: Sequence[Point]) -> str:
    named = [f"row {row}, column {column}" for row, column in points[:FIRST]]
    return "; ".join(named + ([f"{len(points) - FIRST} more"] if len(points) > FIRST else []))


def _grew(points: Sequence[Point]) -> str:
    return (
        f"Thicker than before by more than the uncertainty: {_named(points)}. No rate counts that. Read there again, "
        "or write the renewal or build-up into the file of the boiler."
    )


def _velocity(read: ReadSurvey) -> str | None:
    typed = str(read.entered.get("velocity") or "").strip()
    try:
        return velocity_question(read.plate.metal.strip().lower(), Fraction(typed.replace(",", "")))
    except (ValueError, ZeroDivisionError):
        return "Write the velocity of sound that was set, in m/s."


def paper(read: ReadSurvey) -> BoilerPaper:
    troubles = against(read)
    maps = _maps(read)
    sections = [*maps, Section(heading="What a grid misses", rows=_missed(read), head=("Asked", "Found"))]
    sentence, cautions, gives = "No reading counts yet.", [], {}
    if not troubles:
        rate, told = rate_of(read)
        found = zones(read.weighed, read.check)
        sections[len(maps) : len(maps)] = [
            _zones(read, found, rate),
            Section(heading="Loss and time left", sentences=told),
            _before(read),
        ]
        if read.pits:
            sections.append(pits_section(read.readings, read.pits, read.unit))
        sentence = _sentence(read, found)
        gives = {zone.name: _plain(_rests(read, zone, rate)) for zone in found if zone.least is not None}
        if grown := grown_points(surveys_of(read), read.uncertainty, renewed_of(read)):
            cautions.append(_grew(grown))
        if not rate:
            cautions.append("No rate of loss is known, so nothing is taken off for loss to come.")
    return BoilerPaper(
        sentence=sentence, facts=_facts(read), sections=sections, against=troubles, cautions=cautions, gives=gives
    )


def _sentence(read: ReadSurvey, found: Sequence[Zone]) -> str:
    thinnest = min((zone for zone in found if zone.least is not None), key=lambda zone: zone.least or 0)
    row, column = thinnest.least_at or (0, 0)
    under = ", under a pit" if (row, column) in read.pits else ""
    return f"Least {in_both(thinnest.least or 0, read.unit)} in {thinnest.name}, row {row}, column {column}{under}."


def _facts(read: ReadSurvey) -> list[tuple[str, str]]:
    entered, (down, across) = read.entered, read.grid
    wide = developed_width(read.plate.shape, read.plate.width, read.plate.nominal)
    apart = [in_both(Fraction(round(one * 10), 10), read.unit) for one in (read.plate.height / down, wide / across)]
    told = [
        ("Plate", f"{read.plate.name}, {read.plate.metal}"),
        ("Developed sheet", f"{in_both(Fraction(round(wide)), 'mm')} by {in_both(read.plate.height, 'mm')}"),
        ("Grid", f"{several(down, 'row')} {apart[0]} apart, {several(across, 'column')} {apart[1]} apart"),
        ("Gauge", f"{entered.get('instrument', '')}, {_good(entered.get('calibrated_until'))}"),
        ("Uncertainty of the gauge", f"±{in_both(read.uncertainty, read.unit)} (coverage factor 2)"),
        ("Calibration block", _typed(read, "block")),
        ("Opening check", _typed(read, "opening")),
        ("Closing check", f"{_typed(read, 'closing')}, within {_typed(read, 'tolerance')}"),
        ("Velocity of sound", f"{entered.get('velocity') or 'not entered'} m/s"),
        ("Why that velocity", entered.get("velocity_reason", "")),
        ("Couplant", entered.get("couplant", "")),
        ("Read by", entered.get("reader", "")),
        ("Written by", entered.get("writer", "")),
        ("Thickness as new", in_both(read.plate.nominal, read.unit) if read.plate.nominal else ""),
        ("Thickness needed", _needed(read)),
        ("Mean allowed on the word of", entered.get("mean_word", "")),
    ]
    return [(name, str(words)) for name, words in told if words]


def _good(until: str | None) -> str:
    return f"good until {day(date.fromisoformat(until))}" if until else "not in date"


def _needed(read: ReadSurvey) -> str:
    plate = read.plate
    return f"{in_both(plate.needed, read.unit)} ({plate.needed_from})" if plate.needed else ""


def _typed(read: ReadSurvey, name: str) -> str:
    typed = str(read.entered.get(name) or "").strip()
    if not typed:
        return "not made"
    return f"{typed} {read.unit}" if typed.replace(".", "").isdigit() else typed


def _maps(read: ReadSurvey) -> list[Section]:
    """The developed sheet, and the photo where one was laid out. A cell is tinted by what is left under its pit."""
    (down, across), typed = read.grid, read.entered.get("readings", {})
    try:
        found = read.weighed
    except ValueError as wrong:
        return [Section(heading="Map", sentences=[str(wrong)], folded=False)]
    texts = [typed.get(key(one.point), "").strip().removesuffix("!") for one in found]
    wide = developed_width(read.plate.shape, read.plate.width, read.plate.nominal)
    drawn = draw(
        found,
        texts,
        down=down,
        across=across,
        shape=read.plate.shape,
        cell=cell_size(wide, read.plate.height, down, across),
        needed=read.plate.needed,
        words=f"{capital(read.plate.name)}: thickness in {read.unit} at {len(found)} points",
    )
    maps = [Section(heading=f"Map, in {read.unit}", drawn=drawn, folded=False)]
    if read.photo:
        there = on_photo(found, texts, down=down, across=across, needed=read.plate.needed, photo=read.photo)
        maps.append(Section(heading="On the photo", drawn=there))
    return maps


def _missed(read: ReadSurvey) -> list[tuple[str, str]]:
    entered = read.entered.get("missed", {})
    return [(capital(item), entered.get(item) or "not answered") for item in read.asked]


def _before(read: ReadSurvey) -> Section:
    """This survey beside those before; a plate that was renewed between shows in its figures and in the loss."""
    rows = []
    for survey in (*read.before, read):
        sizes = [one.thickness for one in survey.readings if one.thickness]
        exact_sizes = [exact(size, "A reading") for size in sizes]
        mean = sum(exact_sizes, Fraction(0)) / len(exact_sizes) if exact_sizes else None
        least = in_both(min(exact_sizes), read.unit) if exact_sizes else "–"
        rows.append(
            (day(survey.on), str(len(exact_sizes)), least, _round(mean, read.unit) if mean is not None else "–")
        )
    return Section(heading="Beside the surveys before", head=("Survey of", "Points read", "Least", "Mean"), rows=rows)


def _zones(read: ReadSurvey, found: Sequence[Zone], rate: Fraction | None) -> Section:
    head = ("Zone", "Read", "Least", "Mean", "A pressure rests on", "Needed", "Margin", "Stands")
    rows = [_zone(read, zone, rate) for zone in found]
    told = [_worked(read, zone, rate) for zone in found if zone.least is not None]
    return Section(heading="Zone by zone", head=head, rows=rows, sentences=told, folded=False)


def _worked(read: ReadSurvey, zone: Zone, rate: Fraction | None) -> str:
    """What a pressure rests on, as arithmetic."""
    start, what = (zone.mean, "mean") if read.entered.get("mean_word") else (zone.least, "least")
    until = "no day of the scheme: a year"
    if read.next_due:
        ahead = read.next_due > read.on
        until = f"to {day(read.next_due)}" if ahead else f"due since {day(read.next_due)}: a year"
    loss_to_come = f"{_mm(max(rate or Fraction(0), Fraction(0)))} a year × {_mm(read.years)} years ({until})"
    figures = f"{what} {_mm(start or Fraction(0))} - {_mm(read.uncertainty)} (gauge) - {loss_to_come}"
    return f"In {zone.name} a pressure rests on: {figures} = {_mm(_rests(read, zone, rate))} mm."


def _zone(read: ReadSurvey, zone: Zone, rate: Fraction | None) -> tuple[str, ...]:
    count = f"{zone.read} of {zone.read + len(zone.not_read)}"
    needed = in_both(read.plate.needed, read.unit) if read.plate.needed else "–"
    if zone.least is None or zone.mean is None:
        return (zone.name, count, "–", "–", "–", needed, "–", ZoneVerdict.NOT_COVERED.value)
    row, column = zone.least_at or (0, 0)
    word = str(read.entered.get("mean_word") or "")
    left = _rests(read, zone, rate)
    margin, stands = "–", "no thickness needed is set"
    if read.plate.needed:
        judged = against_needed(zone, read.plate.needed, read.uncertainty, rate or 0, read.years)
        margin, stands = _signed(left - read.plate.needed, read.unit), judged.verdict.value
        if word and left < read.plate.needed:
            stands = ZoneVerdict.BELOW.value
    least = f"{in_both(zone.least, read.unit)} (row {row}, column {column})"
    return (
        zone.name,
        count,
        least,
        _round(zone.mean, read.unit),
        _round(left, read.unit),
        needed,
        margin,
        stands,
    )


def _rests(read: ReadSurvey, zone: Zone, rate: Fraction | None) -> Fraction:
    word = str(read.entered.get("mean_word") or "")
    return rests_on(zone, read.uncertainty, rate or 0, read.years, mean_on_the_word_of=word)


def _plain(mm: Fraction) -> str:
    """For a calculation to take: rounded down as everywhere. 8.978 mm: 8.97 mm."""
    whole, hundredths = divmod(int(mm * 100), 100)
    return f"{whole}.{hundredths:02d} mm"


def _round(mm: Fraction, unit: str) -> str:
    """Rounded down to a hundredth of a millimetre: a thickness is never told larger than it is."""
    return in_both(Fraction(mm * 100 // 1, 100), unit)


def _signed(mm: Fraction, unit: str) -> str:
    return _round(mm, unit) if mm >= 0 else f"{in_both(Fraction(-(mm * 100 // 1), 100), unit)} short"


def surveys_of(read: ReadSurvey) -> list[Survey]:
    """The earlier ones that lie on other days, and this one; points of another grid never pair with these."""
    found = []
    for number, other in enumerate(read.before, 1):
        if other.on >= read.on:
            continue
        apart = 0 if other.grid == read.grid else 1000 * number
        sizes = {(p.point[0] + apart, p.point[1]): p.thickness for p in other.readings if p.thickness is not None}
        found.append(Survey(day=other.on, sizes=sizes))
    sizes = {one.point: one.thickness for one in read.readings if one.thickness is not None}
    return [*found, Survey(day=read.on, sizes=sizes)]


def renewed_of(read: ReadSurvey) -> dict[Point, date]:
    """The last renewal or build-up of each point up to this survey."""
    found: dict[Point, date] = {}
    for on, points in sorted(read.build_ups):
        block = read_block(points) if points.strip() else None
        if on <= read.on:
            found |= {point: on for point in read.points if block is None or point in block}
    return found


def rate_of(read: ReadSurvey) -> tuple[Fraction | None, list[str]]:
    """The rate to reckon with, in mm a year, and how it was worked out; None where there is none, and why."""
    surveys = surveys_of(read)
    if len(surveys) < 2:
        return None, ["No earlier survey on another day: no rate of loss can be worked out."]
    renewed = renewed_of(read)
    if grown := grown_points(surveys, read.uncertainty, renewed):
        last = surveys[-1]
        surveys[-1] = Survey(day=last.day, sizes={at: size for at, size in last.sizes.items() if at not in grown})
    grew = [_grew(grown)] if grown else []
    if not surveys[-1].sizes:
        return None, grew
    try:
        found = plate_loss(surveys, read.uncertainty, renewed, read.plate.nominal)
    except ValueError as wrong:
        return None, [*grew, f"No rate of loss is worked out. {wrong}"]
    if found.at is None:
        return found.rate, grew + _unpaired_told(read, found)
    return found.rate, grew + _point_told(read, surveys, found.at, renewed.get(found.at), found)


def _unpaired_told(read: ReadSurvey, found: PlateLoss) -> list[str]:
    return [
        "Unpaired: no point was read in two surveys. HSE RR016, 5.3.1: the greatest loss now less the least loss "
        f"before, over the time between, deliberately high: {in_both(_up(found.rate), read.unit)} a year."
    ]


def _point_told(
    read: ReadSurvey, surveys: Sequence[Survey], at: Point, since: date | None, found: PlateLoss
) -> list[str]:
    series = [
        (one.day, Fraction(one.sizes[at])) for one in surveys if at in one.sizes and one.day >= (since or date.min)
    ]
    worked = loss(series, read.plate.needed, read.uncertainty)
    (first, was), (before, short), (last, now) = series[0], series[-2], series[-1]
    rates = (worked.long_rate, worked.short_rate, worked.governing)
    long_rate, short_rate, governing = (_mm(rate or Fraction(0)) for rate in rates)
    figures = listed(f"{in_both(size, read.unit)} on {day(on)}" for on, size in series)
    told = [
        f"Worst of {several(found.of_points, 'paired point')}: row {at[0]}, column {at[1]}. Read: {figures}.",
        f"Long term: ({_mm(was)} - {_mm(now)}) / {_years(first, last)} years = {long_rate} mm a year.",
        f"Short term: ({_mm(short)} - {_mm(now)}) / {_years(before, last)} years = {short_rate} mm a year. The greater "
        f"governs: {governing} mm a year (API 510, 7.1).",
    ]
    if since:
        told.append(f"Renewed or built up on {day(since)}: no rate runs across that.")
    if read.plate.needed and now <= read.plate.needed:
        told.append(f"The {_mm(read.plate.needed)} mm needed are reached there already.")
    elif read.plate.needed and worked.years_left is not None:
        needed, left = _mm(read.plate.needed), _mm(worked.years_left)
        when, least = _after(last, worked.years_left), _after(last, worked.years_left_least)
        told.append(
            f"Down to {needed} mm: ({_mm(now)} - {needed}) / {governing} = {left} years, "
            f"about {day(when)}; if every reading is wrong by ±{_mm(read.uncertainty)} mm in the direction that "
            f"hurts, {day(least)}."
        )
    if soonest := _soonest(read, surveys, at):
        told.append(soonest)
    told.append("The date of the scheme or of the regime governs. Nothing here makes it later.")
    return told


def _soonest(read: ReadSurvey, surveys: Sequence[Survey], worst: Point) -> str:
    """The point that comes down to the thickness needed first, where that is not the one wasting fastest."""
    if not read.plate.needed:
        return ""
    renewed, years = renewed_of(read), {}
    for point in surveys[-1].sizes:
        found = point_loss(point, surveys, read.uncertainty, renewed, read.plate.needed)
        if found and found.years_left is not None:
            years[point] = found.years_left
    first = min(years, key=years.__getitem__, default=worst)
    if years.get(first, 0) >= years.get(worst, 0):
        return ""
    when = day(_after(read.on, years[first]))
    return f"First to come down to it: row {first[0]}, column {first[1]}, {_mm(years[first])} years, about {when}."


def _after(start: date, years: Fraction | None) -> date:
    return start + timedelta(days=int(min(years or Fraction(0), Fraction(500)) * YEAR_DAYS))


def _years(start: date, end: date) -> str:
    return f"{float(years_between(start, end)):.3f}"


def _up(mm: Fraction) -> Fraction:
    return Fraction(-(-mm * 1000 // 1), 1000)


def _mm(number: Fraction) -> str:
    return f"{float(number):.3f}".rstrip("0").rstrip(".")
