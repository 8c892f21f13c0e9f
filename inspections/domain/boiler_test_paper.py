"""A test of a boiler as its paper: what happened, whether it passed, whether it counts, and what is owed.

What happened is always recorded. A test over the pressure allowed, with air in it, or with a gauge out of date does not
count. Cotter works out neither that a boiler is tight nor that it may be steamed: what was seen a person says.

Worked example: 180 lb/in² at a ratio of 1.25 asks for 225 lb/in²; 221 reached does not count.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from fractions import Fraction
from typing import Any

from parts.domain.plain import capital, day, several

from .boiler_deflections import deflection_section
from .boiler_leaks import SurveyedPlate, leak_sections, read_leaks
from .boiler_mountings import hydraulic_test_pressure
from .boiler_papers import BoilerPaper, Section
from .boiler_rules import rules, the_rule
from .boiler_test_fields import FIELDS, BoilerTestKind, TestField
from .boiler_words import Regime
from .lengths import parse_length
from .pressures import allowed_in_both, as_written_in_both, in_both, read_pressure
from .quantities import Kind, convert, parse
from .two_units import in_both as length_in_both


@dataclass(frozen=True, kw_only=True)
class ReadTest:
    """`entered` as typed; `allowed` the working pressure that was allowed on the day, as written, and blank where the
    file says none; `sheets` the surveyed plates of the boiler by name, for its leaks."""

    entered: Mapping[str, Any]
    on: date
    wanted: str
    allowed: str = ""
    sheets: Mapping[str, SurveyedPlate] = field(default_factory=dict)

    @property
    def sort(self) -> BoilerTestKind:
        return BoilerTestKind(self.entered["sort"])

    def typed(self, name: str) -> str:
        return str(self.entered.get(name) or "").strip()

    def pressure(self, name: str) -> Fraction | None:
        return read_pressure(self.typed(name)) if self.typed(name) else None

    def celsius(self, name: str) -> Fraction | None:
        return parse(self.typed(name), Kind.TEMPERATURE) if self.typed(name) else None

    def number(self, name: str) -> Fraction | None:
        typed = self.typed(name)
        try:
            return Fraction(typed) if typed else None
        except (ValueError, ZeroDivisionError):
            raise ValueError(f"“{typed[:30]}” is no number.") from None


def against(read: ReadTest) -> list[str]:
    """What is missing or cannot be read: without it nothing is recorded yet."""
    found = [
        f"{one.label}: nothing was written." for one in FIELDS[read.sort] if one.must and not _is_filled(read, one)
    ]
    for one in FIELDS[read.sort]:
        if read.typed(one.name) and (wrong := _unreadable(read, one)):
            found.append(f"{one.label}: {wrong}")
    if read.typed("result") not in ("passed", "failed"):
        found.append("Say whether it passed or failed: a person judges that, not Cotter.")
    return found


def _is_filled(read: ReadTest, one: TestField) -> bool:
    return one.kind == "yes" or bool(read.typed(one.name))


def _unreadable(read: ReadTest, one: TestField) -> str:
    try:
        if one.kind == "pressure":
            read.pressure(one.name)
        elif one.kind == "temperature":
            read.celsius(one.name)
        elif one.kind == "number":
            read.number(one.name)
        elif one.kind == "length":
            parse_length(read.typed(one.name), "mm")
        elif one.kind == "day":
            date.fromisoformat(read.typed(one.name))
    except ValueError as wrong:
        return str(wrong)
    return ""


def does_not_count(read: ReadTest) -> list[str]:
    """Why what happened does not count as a test, each with what is owed."""
    judge = {
        BoilerTestKind.HYDRAULIC: _hydraulic,
        BoilerTestKind.STEAM: _steam,
        BoilerTestKind.VALVES: _valves,
        BoilerTestKind.GAUGES: _gauges,
    }[read.sort]
    return [*_gauge_dates(read), *_over_allowed(read), *judge(read)]


def _over_allowed(read: ReadTest) -> Iterator[str]:
    """A hydraulic test may be for the pressure that a repair is to raise; the others are for what is allowed."""
    working = read.pressure("working")
    if read.sort is BoilerTestKind.HYDRAULIC or not read.allowed or working is None:
        return
    if working > (allowed := read_pressure(read.allowed)):
        yield f"Do it again for {allowed_in_both(allowed)}: no more was allowed on the day."


def _gauge_dates(read: ReadTest) -> Iterator[str]:
    for name in ("gauge", "gauge_2"):
        until = read.typed(f"{name}_until")
        if read.typed(name) and (not until or date.fromisoformat(until) < read.on):
            yield f"Test again with gauges in date: {read.typed(name)} was out of date."
    if read.sort in (BoilerTestKind.HYDRAULIC, BoilerTestKind.STEAM) and not read.typed("gauge_2"):
        yield "Test again with two gauges: only one was on."


def _hydraulic(read: ReadTest) -> Iterator[str]:
    working, ratio = read.pressure("working") or 0, read.number("ratio") or 0
    asked = hydraulic_test_pressure(working, ratio)
    reached, most = read.pressure("reached") or Fraction(0), read.pressure("most") or Fraction(0)
    if reached < asked:
        yield f"Test again at {in_both(asked)}: only {in_both(reached)} was reached."
    if reached > most:
        yield (
            f"Examine the whole boiler for overstrain, then test again: {in_both(reached)} was over "
            f"the {allowed_in_both(most)} allowed."
        )
    if not read.entered.get("vented"):
        yield "Vent the boiler and test again: there was air in it."
    water, low, high = (read.celsius(name) for name in ("water", "water_low", "water_high"))
    if water is not None and low is not None and high is not None and not low <= water <= high:
        yield f"Test again with water between {_celsius(low)} and {_celsius(high)}: it had {_celsius(water)}."
    for thing in ("gags", "blanks"):
        if read.number(f"{thing}_in") != read.number(f"{thing}_out"):
            put, taken = read.typed(f"{thing}_in"), read.typed(f"{thing}_out")
            yield f"Find the {thing} that are still in: {put} put in, {taken} taken out."


def _steam(read: ReadTest) -> Iterator[str]:
    reached = read.pressure("reached") or Fraction(0)
    if reached > (read.pressure("most") or 0):
        yield f"Put the safety valves right and test again: {in_both(reached)} was over what is allowed."
    for name, words in (("feed_1", "first feed"), ("feed_2", "second feed")):
        if not read.entered.get(name):
            yield f"Put the {words} right and test again: water did not go in at working pressure."
    if not read.entered.get("glasses"):
        yield "Clear the glasses and test again: water did not come back at once."
    due = read.typed("plugs_due")
    if due and date.fromisoformat(due) < read.on:
        yield f"Renew the fusible plugs and test again: they were due {day(date.fromisoformat(due))}."


def _valves(read: ReadTest) -> Iterator[str]:
    working = read.pressure("working") or Fraction(0)
    for name, words in (("", "first"), ("_2", "second")):
        lifts, shuts = read.pressure(f"lifts{name}"), read.pressure(f"shuts{name}")
        over = read.pressure("over") if name else Fraction(0)
        if lifts is not None and lifts > working + (over or 0):
            yield f"Set the {words} valve again: it lifts at {in_both(lifts)}, above {in_both(working + (over or 0))}."
        if lifts is not None and shuts is not None and shuts >= lifts:
            yield f"Try the {words} valve again: it cannot shut at or above the pressure at which it lifts."


def _gauges(read: ReadTest) -> Iterator[str]:
    worst, allowed = read.pressure("worst") or 0, read.pressure("worst_allowed") or 0
    if worst > allowed:
        yield "Have the gauge put right and check it again: it is further out than allowed."
    if read.pressure("red_mark") != read.pressure("working"):
        yield "Set the red mark at the working pressure and check it again."
    low, least = (parse_length(read.typed(name), "mm") for name in ("glass_low", "glass_least"))
    if low < least:
        yield f"Put the glass right: it reads {length_in_both(least - low, 'mm')} too low above the crown."
    if not read.entered.get("cocks"):
        yield "Clear the cocks and check them again."


def paper(read: ReadTest) -> BoilerPaper:
    troubles = against(read)
    owed = [] if troubles else does_not_count(read)
    passed, counts = read.typed("result") == "passed", not owed
    if troubles:
        sentence = "Not recorded yet."
    elif not passed:
        sentence = f"Failed: {read.typed('why') or 'see what was seen'}."
    else:
        sentence = "Passed, as witnessed." if counts else "It is recorded and does not count."
    told = [Section(heading="Does not count, and what is missing", sentences=owed, folded=False)] if owed else []
    if moved := deflection_section(read.typed("deflections")):
        told.append(moved)
    told += leak_sections(read_leaks(read.typed("leaks")), read.sheets)
    if rule := _rules(read):
        told.append(Section(heading="What published rules say", sentences=rule))
    facts = [("Result", read.typed("result") or "not said"), *_facts(read)]
    return BoilerPaper(
        sentence=sentence, facts=facts, sections=told, against=troubles, passed=passed, counts=counts, owed=owed,
        cautions=["A pressure test is led by the competent person. Keep everybody away who need not be there."],
    )  # fmt: skip


def _facts(read: ReadTest) -> Iterator[tuple[str, str]]:
    for one in FIELDS[read.sort]:
        words = ("yes" if read.entered.get(one.name) else "no") if one.kind == "yes" else read.typed(one.name)
        if words and one.kind in TELL:
            words = _told(words, one.kind)
        if words:
            yield one.label, words
    if read.sort is BoilerTestKind.HYDRAULIC and not _failed(read):
        asked = hydraulic_test_pressure(read.pressure("working") or 0, read.number("ratio") or 0)
        yield "Pressure asked for", f"{read.typed('ratio')} × {read.typed('working')} = {in_both(asked)}"
    if held := _minutes_held(read):
        yield "Held for", several(held, "minute")
    if read.typed("why"):
        yield "Why it failed", read.typed("why")


def _minutes_held(read: ReadTest) -> int:
    """0 where either time is missing; a test over midnight is told whole."""
    try:
        start, end = (datetime.strptime(read.typed(name), "%H:%M") for name in ("held_from", "held_to"))
    except ValueError:
        return 0
    return (end - start).seconds // 60


def _failed(read: ReadTest) -> bool:
    try:
        hydraulic_test_pressure(read.pressure("working") or 0, read.number("ratio") or 0)
    except ValueError:
        return True
    return False


def _told(words: str, kind: str) -> str:
    try:
        return TELL[kind](words)
    except ValueError:
        return words


def _celsius(value: Fraction) -> str:
    return f"{float(value):g} °C ({float(convert(value, '°C', '°F')):g} °F)"


TELL: Mapping[str, Callable[[str], str]] = {
    "pressure": as_written_in_both,
    "temperature": lambda words: _celsius(parse(words, Kind.TEMPERATURE)),
    "length": lambda words: length_in_both(parse_length(words, "mm"), "mm"),
    "day": lambda words: day(date.fromisoformat(words)),
}
SUBJECTS = {
    BoilerTestKind.HYDRAULIC: ("test pressure ratio", "test water temperature"),
    BoilerTestKind.STEAM: ("steam test above working", "fusible plug"),
    BoilerTestKind.VALVES: (),
    BoilerTestKind.GAUGES: ("glass above crown",),
}


def _rules(read: ReadTest) -> list[str]:
    """They differ: which is in force the competent person says."""
    found = []
    for subject in SUBJECTS[read.sort]:
        for rule in rules(subject):
            ends = " to ".join(f"{float(end):g}" for end in dict.fromkeys((rule.least, rule.most)) if end is not None)
            found.append(f"{capital(subject)}, {rule.regime}, {rule.case}: {ends} {rule.unit} ({rule.cited}).")
    return found


RULES_OF = {Regime.US: "49 CFR 230"}
"""Whose rules of a hydraulic test are known here, by the jurisdiction of the boiler."""


def usual_in(regime: str) -> dict[str, str]:
    """Ratio and temperature of the water that the rules ask for, to begin a form with; empty where none are known.

    Worked example: in the United States 1.25 and 60 to 120 °F, 49 CFR 230.36 (from memory).
    """
    whose = RULES_OF.get(Regime(regime))
    if whose is None:
        return {}
    ratio = the_rule("test pressure ratio", whose, "locomotives")
    water = the_rule("test water temperature", whose, "locomotives")
    ends = {"water_low": water.least, "water_high": water.most}
    told = {name: f"{float(end):g} {water.unit}" for name, end in ends.items() if end is not None}
    return told | {"ratio": f"{float(ratio.least or 0):g}", "ratio_from": ratio.cited, "water_from": water.cited}
