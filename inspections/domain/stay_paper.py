"""A stay map as its paper: each stay as found with its load and stress, patterns against the limits, counts to order.

Worked in inches and lb/in². Worked example: stays 4 in apart, root 0.8 in, 180 lb/in²: 2,790 lb and 5,550 lb/in².
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cached_property
from itertools import zip_longest
from typing import Any

from parts.domain.plain import capital, day, several

from .boiler_papers import BoilerPaper, Drawn, DrawnCell, Section
from .boiler_steps import answer_shown as shown_down
from .boiler_words import Regime
from .exact import Number, exact
from .lengths import parse_length
from .pressures import Tell, as_written_in_both, in_both, read_pressure, stress_in_both
from .quantities import convert
from .stay_map import (
    LIMITS_49_CFR,
    Found,
    Grid,
    Loaded,
    PatternLimit,
    Place,
    Stay,
    Verdict,
    adjacent_pairs,
    counts,
    load_stays,
    patterns,
    to_order,
)
from .two_units import in_both as length_in_both
from .units import INCH_MM

LETTERS = {
    Found.SOUND: "·", Found.WASTED: "W", Found.LEAKING: "L", Found.RENEWED: "N", Found.BROKEN: "B", Found.MISSING: "M",
    Found.TELLTALE_LEAKS: "TL", Found.TELLTALE_PLUGGED: "TP", Found.TELLTALE_UNREAD: "T?",
}  # fmt: skip
WIDE, HIGH, LEFT, TOP = 44, 34, 30, 22
MOST_IN_LINE = 30
NO_LIMIT = "The competent person says how many broken stays the code in force bears, and how near: no limit is typed."


@dataclass(frozen=True, kw_only=True)
class ReadStays:
    """`entered` as typed; `regime` of the boiler, for the limits of patterns where none are typed."""

    entered: Mapping[str, Any]
    on: date
    name: str
    regime: str

    @property
    def unit(self) -> str:
        return str(self.entered.get("unit") or "mm")

    def inches(self, name: str, typed: str | None = None) -> Fraction:
        """ValueError names what cannot be read."""
        text = str(self.entered.get(name) or "") if typed is None else typed
        try:
            return parse_length(text, self.unit) / INCH_MM
        except ValueError as wrong:
            raise ValueError(f"{capital(name.replace('_', ' '))}: {wrong}") from None

    def _line(self, name: str) -> dict[int, Fraction]:
        places = str(self.entered.get(name) or "").replace(";", ",").split(",")
        if len(places) > MOST_IN_LINE:
            raise ValueError(f"That is more than {MOST_IN_LINE} {name}. Map the stays in two parts.")
        return {number: self.inches(name, place) for number, place in enumerate(filter(str.strip, places), 1)}

    @cached_property
    def grid(self) -> Grid:
        rows, columns = self._line("rows"), self._line("columns")
        if not rows or not columns:
            raise ValueError("Give where rows and columns of stays lie, from one edge: 100, 200, 300.")
        return Grid(
            rows=rows, columns=columns, top=self.inches("top"), bottom=self.inches("bottom"), left=self.inches("left"),
            right=self.inches("right"), none_meant=frozenset(self._none_meant()),
        )  # fmt: skip

    def _none_meant(self) -> list[Place]:
        return [place_of(one) for one in str(self.entered.get("none_meant") or "").replace(",", " ").split()]

    @cached_property
    def places(self) -> list[Place]:
        every = [(row, column) for row in self.grid.rows for column in self.grid.columns]
        return [place for place in every if place not in self.grid.none_meant]

    @cached_property
    def stays(self) -> list[Stay]:
        """A stay of which nothing is typed was not read: it counts as broken, and is asked for."""
        telltale, least = self._telltale(), self._by_place("least")
        found = self.entered.get("stays", {})
        return [
            Stay(
                place=place,
                root=self.inches("root", self.described(place)[2]),
                found=Found(found.get(f"{place[0]}.{place[1]}") or Found.TELLTALE_UNREAD),
                least=self.inches("least", least[place]) if place in least else None,
                telltale=telltale,
                kind=self.described(place)[0],
                material=self.described(place)[1],
            )
            for place in self.places
        ]

    def described(self, place: Place) -> tuple[str, str, str]:
        """Kind, material and root of one stay as typed: its own where it is unlike the rest."""
        rest = (str(self.entered.get(name) or "") for name in ("kind", "material", "root"))
        own = [part.strip() for part in self.others.get(place, "").split(",")]
        if len(own) > 3:
            raise ValueError(
                f"Row {place[0]}, column {place[1]}: write kind, material, root, as in flexible, steel, 24."
            )
        kind, material, root = (mine or usual for mine, usual in zip_longest(own, rest, fillvalue=""))
        return kind, material, root

    @cached_property
    def others(self) -> dict[Place, str]:
        return self._by_place("others")

    def _telltale(self) -> Fraction:
        return self.inches("telltale") if str(self.entered.get("telltale") or "").strip() else Fraction(0)

    def _by_place(self, name: str) -> dict[Place, str]:
        """`3.4 = 18.5 mm`, one a line."""
        found = {}
        for line in filter(str.strip, str(self.entered.get(name) or "").splitlines()):
            place, equals, text = line.partition("=")
            if not equals:
                raise ValueError(f"“{line[:40]}” cannot be read. Write row.column = value, as in 3.4 = 18.5 mm.")
            found[place_of(place.strip())] = text.strip()
        return found

    @cached_property
    def renewed(self) -> dict[Place, str]:
        return self._by_place("renewed")

    @property
    def pressure(self) -> Fraction:
        return read_pressure(str(self.entered.get("pressure") or ""))

    @property
    def allowed(self) -> Fraction:
        return read_pressure(str(self.entered.get("allowed") or ""))

    @property
    def elsewhere(self) -> int:
        typed = str(self.entered.get("elsewhere") or "0").strip()
        if not typed.isdecimal():
            raise ValueError("Broken stays elsewhere must be a whole number.")
        return int(typed)

    @property
    def limit(self) -> PatternLimit | None:
        """As typed with its clause; in the United States 49 CFR 230.39, which is from memory."""
        apart, most = str(self.entered.get("apart") or "").strip(), str(self.entered.get("in_all") or "").strip()
        if not apart and not most:
            return LIMITS_49_CFR if self.regime == Regime.US else None
        clause = str(self.entered.get("clause") or "").strip()
        if not clause:
            raise ValueError("Name the clause of the limits of broken stays, or write “from memory”.")
        clauses = (one.replace("from memory", "").strip() for one in clause.split(","))
        return PatternLimit(
            regime=self.regime, clause=", ".join(filter(None, clauses)) or "no clause named",
            from_memory="from memory" in clause, apart=self.inches("apart") if apart else None,
            in_all=int(most) if most.isdecimal() else None,
        )  # fmt: skip


def place_of(text: str) -> Place:
    row, dot, column = text.partition(".")
    if not dot or not row.isdecimal() or not column.isdecimal():
        raise ValueError(f"“{text[:20]}” is no place. Write row.column, as in 3.4.")
    return int(row), int(column)


def against(read: ReadStays) -> list[str]:
    """Why it cannot be signed yet."""
    found = []
    try:
        load_stays(read.stays, read.grid, read.pressure, read.allowed)
        patterns(read.stays, read.grid, read.limit or LIMITS_49_CFR, read.elsewhere)
        unread = [one for one in read.places if not read.entered.get("stays", {}).get(f"{one[0]}.{one[1]}")]
        if unread:
            row, column = unread[0]
            found.append(
                f"Say how each stay was found: row {row}, column {column} and {len(unread) - 1} more are blank."
            )
        off = (read._by_place("least").keys() | read.renewed.keys() | read.others.keys()) - set(read.places)
        if off:
            row, column = min(off)
            found.append(f"Row {row}, column {column} is no stay of this map.")
    except ValueError as wrong:
        found.append(str(wrong))
    for name, what in (
        ("reader", "Name who sounded the stays."),
        ("allowed_from", "Name the clause of the stress allowed."),
    ):
        if not str(read.entered.get(name) or "").strip():
            found.append(what)
    return found


def paper(read: ReadStays) -> BoilerPaper:
    troubles = against(read)
    try:
        loaded = load_stays(read.stays, read.grid, read.pressure, read.allowed)
        limit = read.limit
    except ValueError:
        return BoilerPaper(sentence="Not worked out yet.", facts=_facts(read), against=troubles)
    sections = [_map(read, loaded), _stresses(loaded), _patterns(read, limit), _order(read)]
    broken = sum(one.stay.broken for one in loaded)
    carrying = [one.stay.section for one in loaded if not one.stay.broken]
    over = sum(one.verdict is Verdict.OVER for one in loaded)
    warned = sum(one.verdict is Verdict.WARNING for one in loaded)
    count, carry = "counts" if broken == 1 else "count", "carries" if warned == 1 else "carry"
    sentence = f"{several(broken, 'stay')} of {len(loaded)} {count} as broken, {over} over the stress allowed"
    sentence = f"{sentence}, {warned} {carry} what a broken one should."
    return BoilerPaper(
        sentence=sentence,
        owed=[f"{capital(read.name)}: {sentence} Ask the competent person."] if broken or over else [],
        facts=_facts(read),
        sections=sections,
        against=troubles,
        gives={"least section of a stay": f"{shown_down(min(carrying))} in²"} if carrying else {},
        cautions=["A stay beside a broken one never passes: what is thrown on the next is a warning, shared alike."],
    )


def _facts(read: ReadStays) -> list[tuple[str, str]]:
    entered = read.entered
    told = [
        ("Stays", read.name),
        ("Kind and material", f"{entered.get('kind', '')}, {entered.get('material', '')}".strip(", ")),
        ("Pressure", _told(in_both, entered.get("pressure"))),
        (
            "Stress allowed",
            f"{_told(stress_in_both, entered.get('allowed'))}, {entered.get('allowed_from', '')}".strip(", "),
        ),
        ("Root diameter", str(entered.get("root", ""))),
        ("Unlike the rest", "; ".join(str(entered.get("others") or "").splitlines())),
        ("Telltale", str(entered.get("telltale") or "none")),
        ("Rows from the top edge", str(entered.get("rows", ""))),
        ("Columns from the left edge", str(entered.get("columns", ""))),
        ("Edges", ", ".join(f"{name} {entered.get(name, '')}" for name in ("top", "bottom", "left", "right"))),
        ("Sizes are in", f"{read.unit} where no unit stands"),
        ("No stay meant at", str(entered.get("none_meant") or "")),
        ("Broken on other plates", str(entered.get("elsewhere") or "0")),
        ("Sounded by", str(entered.get("reader") or "")),
        ("Written by", str(entered.get("writer") or "")),
    ]
    return [(name, words) for name, words in told if words]


def _told(tell: Tell, typed: Any) -> str:
    try:
        return as_written_in_both(str(typed), tell)
    except ValueError:
        return str(typed or "not said")


TINTS = {Verdict.WITHIN: 0, Verdict.WARNING: 2, Verdict.OVER: 3, Verdict.BROKEN: 4}


def _map(read: ReadStays, loaded: Sequence[Loaded]) -> Section:
    cells = [
        DrawnCell(
            x=LEFT + (one.stay.place[1] - 1) * WIDE,
            y=TOP + (one.stay.place[0] - 1) * HIGH,
            text=f"{LETTERS[one.stay.found]} {round(one.stress_with_thrown)}"
            if not one.stay.broken
            else LETTERS[one.stay.found],
            tint=TINTS[one.verdict],
            mark="cross" if one.stay.broken else "",
        )
        for one in loaded
    ]
    rows, columns = len(read.grid.rows), len(read.grid.columns)
    labels = [(LEFT + at * WIDE + WIDE // 2, TOP - 7, str(at + 1)) for at in range(columns)]
    labels += [(LEFT // 2, TOP + at * HIGH + HIGH // 2 + 4, str(at + 1)) for at in range(rows)]
    drawn = Drawn(
        width=LEFT + columns * WIDE + 4, height=TOP + rows * HIGH + 4, cell=(WIDE, HIGH), cells=cells, labels=labels,
        outline=f"M{LEFT} {TOP}h{columns * WIDE}v{rows * HIGH}h-{columns * WIDE}z",
        words=f"{capital(read.name)}: each stay as found, with its stress in lb/in²",
        legend="· sound, W wasted, L leaking at the plate, N renewed, B broken, M missing, TL telltale leaks, TP "
        "telltale plugged, T? telltale not read. Figures: stress in lb/in² with what is thrown on the stay. "
        "Crossed: counts as broken.",
    )  # fmt: skip
    return Section(heading="Map of the stays, seen from inside the firebox", drawn=drawn, folded=False)


def _stresses(loaded: Sequence[Loaded]) -> Section:
    """Stays alike in what they support, in their section and in what is thrown on them stand in one row."""
    alike: dict[tuple[Any, ...], list[Loaded]] = {}
    for one in loaded:
        alike.setdefault((one.supported, one.stay.section, one.thrown, one.verdict), []).append(one)
    head = (
        "Stays (row.column)",
        "Supports",
        "Least section",
        "Load",
        "Stress",
        "Thrown on it",
        "Stress with it",
        "Stands",
    )
    order = {verdict: at for at, verdict in enumerate((Verdict.BROKEN, Verdict.OVER, Verdict.WARNING, Verdict.WITHIN))}
    rows = sorted(alike.values(), key=lambda group: (order[group[0].verdict], group[0].stay.place))
    return Section(
        heading="Load and stress",
        sentences=["Load = pressure × (area supported - own section at the root). Stress = load / least section."],
        head=head,
        rows=[_stress_row(group) for group in rows],
    )


def _stress_row(group: Sequence[Loaded]) -> tuple[str, ...]:
    one = group[0]
    named = " ".join(f"{stay.stay.place[0]}.{stay.stay.place[1]}" for stay in group[:24])
    more = f" and {len(group) - 24} more" if len(group) > 24 else ""
    broken = one.stay.broken
    return (
        named + more,
        f"{float(one.supported):.3f} in²",
        f"{float(one.stay.section):.4f} in²",
        _load(one.load),
        "–" if broken else _stress(one.stress),
        _load(one.thrown) if one.thrown else "–",
        "–" if broken else _stress(one.stress_with_thrown),
        one.verdict.value,
    )


def _load(pounds: Fraction) -> str:
    return f"{round(pounds)} lbf ({float(convert(pounds, 'lbf', 'kN')):.2f} kN)"


def _stress(psi: Fraction) -> str:
    return f"{round(psi)} lb/in² ({float(convert(psi, 'psi', 'N/mm2')):.1f} N/mm²)"


def _patterns(read: ReadStays, limit: PatternLimit | None) -> Section:
    pairs = [f"{a[0]}.{a[1]} and {b[0]}.{b[1]}" for a, b in adjacent_pairs(read.stays)]
    sentences = [NO_LIMIT] if limit is None else [f"Limits: {_limit(limit)}"]
    if pairs:
        sentences.append(
            f"Side by side, look at the plate between them (common practice, no source): {', '.join(pairs)}."
        )
    found = patterns(read.stays, read.grid, limit, read.elsewhere) if limit else []
    rows = [(one.words, " ".join(f"{p[0]}.{p[1]}" for p in one.places), one.cited) for one in found]
    head = ("Against it", "Where", "Clause") if rows else ()
    return Section(heading="Patterns", sentences=sentences, head=head, rows=rows, folded=False)


def _limit(limit: PatternLimit) -> str:
    told = []
    if limit.apart is not None:
        told.append(f"no two broken within {_inches(limit.apart, 'in')}")
    if limit.in_all is not None:
        told.append(f"{limit.in_all} in all at most")
    return f"{', '.join(told)} ({limit.cited})."


def _order(read: ReadStays) -> Section:
    counted = [(found.value, str(number)) for found, number in counts(read.stays).most_common()]
    renewed = [f"{place[0]}.{place[1]} on {_day(text)}" for place, text in read.renewed.items()]
    sentences = [
        f"To order: {number} {kind}, {material or 'material not entered'}, root {_inches(root, read.unit)}."
        for (kind, material, root), number in to_order(read.stays).items()
    ]
    if renewed:
        sentences.append(f"Renewed: {', '.join(renewed)}.")
    return Section(heading="Counts", head=("As found", "How many"), rows=counted, sentences=sentences)


def _inches(size: Number, unit: str) -> str:
    return length_in_both(exact(size, "The size") * INCH_MM, unit)


def _day(text: str) -> str:
    try:
        return day(date.fromisoformat(text))
    except ValueError:
        return text
