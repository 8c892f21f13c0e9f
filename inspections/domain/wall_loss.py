"""Wasting of one place over the years: how fast, how long it lasts at that rate, and what unpaired surveys can say.

Thicknesses in one unit, rates in it a year. Source: API 510, 7.1 and 7.2 (long-term and short-term rate, the greater
governs; half the remaining life, ten years at most); HSE Research Report RR016 (TWI 2002) for readings that do not
pair. It is arithmetic on readings: the date of the scheme or of the regime governs, and nothing here makes it later.

Worked example: 0.5 in, and 0.4 in a year later, 0.3 in needed: 0.1 in a year, one year left, due in half a year.
"""

import math
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from .boiler_numbers import above_zero, zero_or_more
from .exact import Number, exact
from .thickness import governing_rate, loss_per_year, remaining_life

LONGEST_INTERVAL = 10
Dated = tuple[date, Fraction]


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """Rates in thickness a year, below zero where the later reading is the thicker; years from the last reading.

    None where it cannot be said: a rate from one reading since a build-up, years without a thickness needed. Years
    left are None too where nothing is being lost. `years_left_least` is what is left if every reading is wrong by
    the uncertainty, in the direction that hurts.
    """

    since: date
    last: date
    long_rate: Fraction | None
    short_rate: Fraction | None
    governing: Fraction | None
    years_left: Fraction | None
    years_left_least: Fraction | None
    next_due: Fraction | None


def loss(
    readings: Iterable[tuple[date, Number]],
    needed: Number | None = None,
    uncertainty: Number = 0,
    growth_explained: bool = False,
) -> Loss:
    """The rates of (date, thickness) readings of one place, in any order; at least two, never two of one day.

    A reading thicker than the one before by more than `uncertainty` is refused, since metal does not grow: a wrong
    place, a wrong velocity, or a build-up. With `growth_explained` (welded up, renewed) the rates are of the readings
    since then only. `next_due` is half of the years left, ten years at most.
    """
    doubt = zero_or_more(uncertainty, "The uncertainty")
    least = None if needed is None else zero_or_more(needed, "The thickness needed")
    series = _since_growth(_in_order(readings), doubt, growth_explained)
    (start, _), (end, now) = series[0], series[-1]
    if len(series) == 1:
        gone = least is not None and now <= least
        zero = Fraction(0) if gone else None
        return Loss(
            since=start,
            last=end,
            long_rate=None,
            short_rate=None,
            governing=None,
            years_left=zero,
            years_left_least=zero,
            next_due=zero,
        )
    long_rate, short_rate = _rate(series[0], series[-1]), _rate(series[-2], series[-1])
    worst = max(
        long_rate + 2 * doubt / years_between(start, end),
        short_rate + 2 * doubt / years_between(series[-2][0], end),
    )
    governing = governing_rate(long_rate, short_rate)
    years = _years_left(now, least, governing)
    return Loss(
        since=start,
        last=end,
        long_rate=long_rate,
        short_rate=short_rate,
        governing=governing,
        years_left=years,
        years_left_least=_years_left(max(now - doubt, Fraction(0)), least, worst),
        next_due=None if least is None else _half(years),
    )


def since_renewal(readings: Iterable[tuple[date, Number]], renewals: Collection[date]) -> list[Dated]:
    """The readings in their order from the last renewal or build-up of the place on: no rate runs across one."""
    series = _in_order(readings, fewest=1)
    return [one for one in series if not renewals or one[0] >= max(renewals)]


def years_between(start: date, end: date) -> Fraction:
    """Whole years from day to same day, and the rest as a share of the year it lies in; 29 Feb comes round on 1 Mar.

    So published rows in whole years come out exactly. 1 Jan 2020 to 2 Jan 2023: 3 + 1/365.
    """
    whole = end.year - start.year
    if _anniversary(start, end.year) > end:
        whole -= 1
    before, after = _anniversary(start, start.year + whole), _anniversary(start, start.year + whole + 1)
    return whole + Fraction((end - before).days, (after - before).days)


def unpaired_rate(greatest_loss_now: Number, least_loss_before: Number, years: Number) -> Fraction:
    """The rate where the points of two surveys do not pair: (greatest loss now - least loss before) / time.

    Deliberately high. Source: HSE RR016, 5.3.1. Worked example: (1.2 - 0.3) mm / 5 = 0.18 mm a year.
    """
    now, before = zero_or_more(greatest_loss_now, "The greatest loss now"), exact(least_loss_before, "The loss before")
    return (now - before) / above_zero(years, "The time between the surveys")


def survival_over_area(survival: Number, area_ratio: Number) -> float:
    """The share of whole areas that keep above a thickness, from the share of inspected ones: S^(A total / A seen).

    Only where the whole corrodes alike. Source: HSE RR016. Worked example: 0.99 seen on a tenth: 0.9044.
    """
    share = zero_or_more(survival, "The survival")
    if share > 1:
        raise ValueError("The survival must be at most 1.")
    ratio = exact(area_ratio, "The ratio of the areas")
    if ratio < 1:
        raise ValueError("The whole area must be at least the area seen.")
    whole: float = float(share) ** float(ratio)
    return whole


def gumbel_variate(return_period: Number) -> float:
    """Gumbel's reduced variate of a return period T over 1: -ln(ln(T / (T - 1))).

    Source: Punmia, Irrigation, ex. 4.33: T 240: 5.4786. For block minima of a survey T is the number of blocks.
    """
    period = _period(return_period)
    return -math.log(math.log(float(period / (period - 1))))


def risk_over(return_period: Number, years: Number) -> Fraction:
    """The chance of at least one in so many years: 1 - (1 - 1/T)^n. Source: Punmia, ex. 4.36: 30, 6: 0.184."""
    return 1 - (1 - 1 / _period(return_period)) ** _whole(years)


def return_period_for_risk(risk: Number, years: Number) -> float:
    """The return period whose risk over so many years is this: 1 / (1 - (1 - R)^(1/n)).

    Source: the same: 10 per cent in 6 years: 57.45 years.
    """
    chance = above_zero(risk, "The risk")
    if chance >= 1:
        raise ValueError("The risk must be below 1.")
    return 1 / -math.expm1(math.log1p(-float(chance)) / _whole(years))


def _in_order(readings: Iterable[tuple[date, Number]], fewest: int = 2) -> list[Dated]:
    series = sorted(
        ((_day(day), zero_or_more(size, "The thickness")) for day, size in readings), key=lambda one: one[0]
    )
    if len(series) < fewest:
        raise ValueError("There must be two readings or more, of different days.")
    if any(one[0] == other[0] for one, other in zip(series, series[1:], strict=False)):
        raise ValueError("Two readings are of one day: there is no time between them for a rate.")
    return series


def _day(day: date) -> date:
    if not isinstance(day, date):
        raise ValueError("Each reading must be a date and a thickness.")
    return day.date() if isinstance(day, datetime) else day


def _since_growth(series: list[Dated], doubt: Fraction, explained: bool) -> list[Dated]:
    """A slow creep upwards counts as well: each reading stands against the thinnest before it."""
    start, thinnest = 0, series[0][1]
    for place, (day, size) in enumerate(series):
        if size - thinnest > doubt:
            if not explained:
                raise ValueError(
                    f"The reading of {day:%-d %b %Y} is thicker than an earlier one by more than the uncertainty: say "
                    "what explains the growth, or read the place again."
                )
            start, thinnest = place, size
        thinnest = min(thinnest, size)
    return series[start:]


def _rate(earlier: Dated, later: Dated) -> Fraction:
    return loss_per_year(earlier[1], later[1], years_between(earlier[0], later[0]))


def _years_left(now: Fraction, least: Fraction | None, rate: Fraction) -> Fraction | None:
    return None if least is None else remaining_life(now, least, rate)


def _half(years: Fraction | None) -> Fraction:
    return Fraction(LONGEST_INTERVAL) if years is None else min(years / 2, Fraction(LONGEST_INTERVAL))


def _anniversary(day: date, year: int) -> date:
    try:
        return day.replace(year=year)
    except ValueError:
        return date(year, 3, 1)


def _period(value: Number) -> Fraction:
    period = exact(value, "The return period")
    if period <= 1:
        raise ValueError("The return period must be more than 1.")
    return period


def _whole(years: Number) -> int:
    number = exact(years, "The number of years")
    if number < 1 or number.denominator != 1:
        raise ValueError("The number of years must be whole, 1 or more.")
    return int(number)
