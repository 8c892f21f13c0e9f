"""What is written down of each sort of test of a boiler: one list for the form, the paper and the judging."""

from dataclasses import dataclass
from enum import StrEnum


class BoilerTestKind(StrEnum):
    HYDRAULIC = "hydraulic test"
    STEAM = "steam test"
    VALVES = "safety-valve setting"
    GAUGES = "gauge and glass check"


@dataclass(frozen=True, slots=True, kw_only=True)
class TestField:
    """`kind`: text, lines, pressure, temperature, day, time, number, yes. `must`: asked for."""

    __test__ = False

    name: str
    label: str
    kind: str = "text"
    help: str = ""
    must: bool = True


def field(name: str, label: str, kind: str = "text", help: str = "", *, must: bool = True) -> TestField:
    return TestField(name=name, label=label, kind=kind, help=help, must=must)


GAUGES = (
    field("gauge", "Gauge", help="Its number and range."),
    field("gauge_until", "Gauge calibrated until", "day"),
    field("gauge_2", "Second gauge", help="Its number and range.", must=False),
    field("gauge_2_until", "Second gauge calibrated until", "day", must=False),
)
LAST = (
    field("witness", "Witnessed by", help="By name, and of which body."),
    field("found", "What was seen", "lines", must=False),
)
FIELDS: dict[BoilerTestKind, tuple[TestField, ...]] = {
    BoilerTestKind.HYDRAULIC: (
        field("working", "Working pressure that it is for", "pressure"),
        field("ratio", "Ratio asked for", "number", "Test pressure over working pressure, as 1.25."),
        field("ratio_from", "Where the ratio comes from", help="The code and its clause, or a paper."),
        field("most", "Highest pressure allowed in the test", "pressure", "Above it the test does not count."),
        field("reached", "Highest pressure reached", "pressure"),
        field("water", "Temperature of the water", "temperature", "With its unit: 18 °C."),
        field("water_low", "Not below", "temperature"),
        field("water_high", "Not above", "temperature"),
        field("water_from", "Where these limits come from", help="The code and its clause."),
        *GAUGES,
        field("vented", "Vented until no air came", "yes"),
        field("stages", "Raised in stages", "lines", "Each pressure and how long it was held."),
        field("held_from", "Held from", "time"),
        field("held_to", "Held to", "time"),
        field("drop", "Drop while held", "pressure", "0 lb/in² where there was none."),
        field("deflections", "Deflections before, under and after", "lines", "One point a line: crown: 0, 0.4, 0 mm."),
        field("leaks", "Leaks", "lines", "One a line: wrapper, row 3, column 2: weep. Or: none."),
        field("gags_in", "Gags put in", "number"),
        field("gags_out", "Gags taken out", "number"),
        field("blanks_in", "Blanks put in", "number"),
        field("blanks_out", "Blanks taken out", "number"),
        field("after", "Examined after the test", "lines", "Inside and out, by whom, and what was found."),
        *LAST,
    ),
    BoilerTestKind.STEAM: (
        field("working", "Working pressure that it is for", "pressure", "With its unit: 180 lb/in²."),
        field("reached", "Highest pressure in it (accumulation test)", "pressure", "Stop valves shut."),
        field("most", "Highest pressure allowed in it", "pressure"),
        field("most_from", "Where that comes from", help="The code and its clause."),
        field("minutes", "Lasted, in minutes", "number"),
        *GAUGES,
        field("feed_1", "First feed puts water in at working pressure", "yes"),
        field("feed_2", "Second feed puts water in at working pressure", "yes"),
        field("glasses", "Both glasses blown through, water came back at once", "yes"),
        field("plugs", "Fusible plugs", "lines", "One a line: plug, renewed on, due."),
        field("plugs_due", "Next renewal of the plugs", "day"),
        field("leaks", "Leaks", "lines", "One a line, with where. Or: none."),
        *LAST,
    ),
    BoilerTestKind.VALVES: (
        field("working", "Working pressure that it is for", "pressure", "With its unit: 180 lb/in²."),
        field("lifts", "First valve lifts at", "pressure"),
        field("shuts", "First valve shuts at", "pressure"),
        field("lifts_2", "Second valve lifts at", "pressure", must=False),
        field("shuts_2", "Second valve shuts at", "pressure", must=False),
        field("over", "How far the second may lift above the first", "pressure", must=False),
        field("over_from", "Where that comes from", must=False),
        *GAUGES,
        field("sealed", "Sealed, and by whom"),
        *LAST,
    ),
    BoilerTestKind.GAUGES: (
        field("working", "Working pressure that it is for", "pressure", "With its unit: 180 lb/in²."),
        field("boiler_gauge", "Gauge of the boiler", help="Its number and range."),
        field("readings", "Readings against the master gauge", "lines", "One a line: master 100, gauge 102 lb/in²."),
        field("worst", "Most that it is out", "pressure"),
        field("worst_allowed", "Most allowed", "pressure"),
        field("worst_from", "Where that comes from"),
        field("red_mark", "Red mark stands at", "pressure"),
        *GAUGES[:2],
        field("glass_low", "Lowest reading of the glass above the crown", "length"),
        field("glass_least", "Least height asked for", "length"),
        field("glass_from", "Where that comes from", help="The code and its clause: it differs."),
        field("cocks", "Cocks and passages clear, shields on", "yes"),
        *LAST,
    ),
}  # fmt: skip
