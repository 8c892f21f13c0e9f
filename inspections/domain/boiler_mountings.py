"""Safety valves, gauge glasses and fusible plugs: what they must do, by published rules.

lb/in², inches, pounds, °F as each function says. Whether a valve is large enough is settled by the accumulation test
and the code in force, not by these sums.
"""

from fractions import Fraction

from .boiler_numbers import PI, above_zero, square_root, zero_or_more
from .exact import Number

ATMOSPHERE_PSI = Fraction(147, 10)
SEAT_45 = Fraction(707, 1000)


def lever_valve_weight(pressure: Number, area: Number, own: Number, fulcrum: Number, length: Number) -> Fraction:
    """The ball of a lever valve: (p A - w) a / L.

    `own` is the weight of valve, stem and lever brought to the valve; `fulcrum` is from pivot to valve, `length` to the
    ball. Source: Hawkins 1898, safety-valve rules: (120 x 8 - 60) x 5 / 45 = 100 lb.
    """
    return _lift(pressure, area, own) * above_zero(fulcrum, "The fulcrum") / above_zero(length, "The length")


def lever_valve_length(pressure: Number, area: Number, own: Number, fulcrum: Number, weight: Number) -> Fraction:
    """Where the ball hangs: (p A - w) a / W. Source: the same: 45 in."""
    return _lift(pressure, area, own) * above_zero(fulcrum, "The fulcrum") / above_zero(weight, "The weight")


def lever_valve_pressure(weight: Number, length: Number, fulcrum: Number, own: Number, area: Number) -> Fraction:
    """Where it blows: (W L / a + w) / A. Source: the same: 120 lb/in²."""
    return _pressed(weight, length, fulcrum, own) / above_zero(area, "The area")


def lever_valve_area(weight: Number, length: Number, fulcrum: Number, own: Number, pressure: Number) -> Fraction:
    """The area that blows at a pressure: (W L / a + w) / p. Source: the same: 8 sq in."""
    return _pressed(weight, length, fulcrum, own) / above_zero(pressure, "The pressure")


def relieving_pressure(set_psi: Number, share: Number = Fraction(3, 100), least_psi: Number = 2) -> Fraction:
    """The absolute pressure at which a valve must pass its rating: set + max(least, share x set) + 14.7, lb/in².

    For boilers 3 per cent, 2 lb/in² at least (National Board form); 10 per cent for vessels, ASME VIII App. 11.
    Worked example: 200 + 6 + 14.7 = 220.7; with a share of 0.10, 234.7.
    """
    pressure = above_zero(set_psi, "The set pressure")
    over = max(zero_or_more(least_psi, "The least rise"), zero_or_more(share, "The rise") * pressure)
    return pressure + over + ATMOSPHERE_PSI


def valve_capacity(area: Number, absolute_psi: Number, coefficient: Number) -> Fraction:
    """Pounds of steam an hour: 51.5 A P K, sq in and lb/in² absolute.

    Source: ASME Section VIII App. 11; National Board form. Worked example: A K 0.24985 at 234.7: 3,020 lb/h.
    """
    flow = Fraction(515, 10) * above_zero(area, "The area") * above_zero(absolute_psi, "The pressure")
    return flow * _coefficient(coefficient)


def seat_area(diameter: Number, lift: Number, flat: bool = False) -> Fraction:
    """The opening of a lifted valve: pi D L, and 0.707 of that on a seat of 45 degrees. Lift at most a quarter of D.

    Source: National Board form. Worked example: 2.5 x 0.1 in, 45 degrees: 0.5553 sq in, at 180 lb/in² with K 0.9:
    5,150 lb/h.
    """
    bore, raised = above_zero(diameter, "The diameter"), above_zero(lift, "The lift")
    if 4 * raised > bore:
        raise ValueError("The lift must be at most a quarter of the diameter: beyond it the bore limits the flow.")
    return PI * bore * raised * (1 if flat else SEAT_45)


def napier_flow(absolute_psi: Number, area: Number) -> Fraction:
    """Napier: pounds a second to the air, p a / 70. Source: Babcock & Wilcox, Steam, p. 321: 100 x 1 / 70 = 1.4286."""
    return above_zero(absolute_psi, "The pressure") * above_zero(area, "The area") / 70


def napier_back_pressure_flow(area: Number, coefficient: Number, absolute_psi: Number, drop_psi: Number) -> Fraction:
    """Where the pressure behind is over 58 per cent of that before: pounds a minute, 1.9 A K sqrt((P - d) d).

    K .93 for a short pipe, .63 for an orifice. Source: the same, eq. 50: 1, .93, 100, 30: 80.97 lb/min.
    """
    before, drop = above_zero(absolute_psi, "The pressure"), above_zero(drop_psi, "The drop")
    if drop >= Fraction(42, 100) * before:
        raise ValueError("The drop must be under 42 per cent of the pressure: beyond it napier_flow holds.")
    flow = Fraction(19, 10) * above_zero(area, "The area") * _coefficient(coefficient)
    return flow * square_root((before - drop) * drop)


def miniature_valve_area(heating_sq_ft: Number, psi: Number, k: Number = Fraction(5, 4)) -> Fraction:
    """Valve area of miniature boilers only, sq in: HS K / (p + 15); K 1.25 for coal, 1.5 for oil.

    Source: A. Stepney, model practice. Worked example: 2 sq ft, 90 lb/in²: 0.0238 sq in.
    """
    size = above_zero(heating_sq_ft, "The heating surface") * above_zero(k, "The constant K")
    return size / (above_zero(psi, "The pressure") + 15)


def valve_area_by_grate(grate_sq_ft: Number, lever: bool = False) -> Fraction:
    """Of history only: 1 sq in of spring valve for 3 sq ft of grate, of lever valve for 2.

    Source: Farm Engines and How to Run Them (1903). Worked example: 18 sq ft: 6 sq in, lever 9.
    """
    return above_zero(grate_sq_ft, "The grate") / (2 if lever else 3)


def evaporation_met(capacity: Number, evaporation: Number) -> bool:
    """Whether valves pass at least what the boiler can raise, both in one unit. Equal passes."""
    return above_zero(capacity, "The capacity of the valves") >= above_zero(evaporation, "The evaporation")


def glass_short_by(lowest_reading: Number, crown: Number, least: Number) -> Fraction:
    """How much the lowest reading of a glass is too low above the highest part of the crown; 0 where it is right.

    Heights in one unit from one mark. `least` comes from the code: 3 in (17 NYCRR 922.13, locomotives) and 2 in (US
    1939, other boilers; S.D. 61:08:09:23) are both published. Worked example: 102 in, 100 in, 3 in: 1 in short.
    """
    above = zero_or_more(lowest_reading, "The lowest reading") - zero_or_more(crown, "The crown")
    return max(zero_or_more(least, "The least height") - above, Fraction(0))


TIN_MELTS_F = Fraction(4495, 10)
"""Pure tin. Source: ASME 1940, quoted second-hand."""
PLUG_BORE_IN = Fraction(3, 8)
PLUG_MARGIN_F = 150


def plug_alloy_suits(melting_f: Number, saturation_f: Number) -> bool:
    """Whether a plug stays whole at working pressure and melts within 150 °F above it.

    Source: Malaysia, Steam Boilers reg. 17. Worked example: tin (449.5) in a boiler at 380 °F: yes; at 290 °F: no.
    """
    above = above_zero(melting_f, "The melting point") - above_zero(saturation_f, "The temperature of the steam")
    return 0 < above <= PLUG_MARGIN_F


def plug_bore_least(psi: Number) -> Fraction:
    """The least bore of a fusible plug, inches: 1/2 up to 100 lb/in², 3/8 above. Source: the same."""
    return Fraction(1, 2) if above_zero(psi, "The pressure") <= 100 else PLUG_BORE_IN


def hydraulic_test_pressure(working: Number, ratio: Number) -> Fraction:
    """The pressure of a hydraulic test: ratio x working pressure, the ratio from the code in force (boiler_rules.py).

    Worked examples: 17 NYCRR 922.9: 1.25 x 180 = 225; Ohio: 1.25 x 150 = 187.5; Hawkins p. 117: 1.5 x 100 = 150.
    """
    times = above_zero(ratio, "The ratio")
    if times < 1:
        raise ValueError("The ratio must be 1 or more: a test is not below working pressure.")
    return times * above_zero(working, "The working pressure")


def _lift(pressure: Number, area: Number, own: Number) -> Fraction:
    left = above_zero(pressure, "The pressure") * above_zero(area, "The area") - zero_or_more(own, "The own weight")
    if left <= 0:
        raise ValueError("The valve holds that pressure by its own weight: no ball is needed.")
    return left


def _pressed(weight: Number, length: Number, fulcrum: Number, own: Number) -> Fraction:
    ball = above_zero(weight, "The weight") * above_zero(length, "The length") / above_zero(fulcrum, "The fulcrum")
    return ball + zero_or_more(own, "The own weight")


def _coefficient(value: Number) -> Fraction:
    k = above_zero(value, "The coefficient of discharge")
    if k > 1:
        raise ValueError("The coefficient of discharge must be at most 1.")
    return k
