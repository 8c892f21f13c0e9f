"""The usual cautions, each where the work is. Common practice, no source: the competent person and code decide."""

import csv
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from .plain import mentions
from .rows import Piece, Place
from .words import Kind, Method

FILE = Path(__file__).resolve().parent.parent / "data" / "cautions.csv"
HEAVY_KG = 25.0
"""From here on a caution of lifting stands: HSE leaflet INDG143, the filter for lifting close to the body at knuckle
height, from memory. Whether one person may lift less alone, whoever is in charge decides."""

HEAVY = (
    (
        "frame plate, bar frame, cylinder casting, wheelset, axle, crank axle, axlebox, connecting rod, coupling rod, "
        "tyre, tire, wheel centre, wheel center, buffer beam, dragbox, saddle, side tank, saddle tank, pannier tank, "
        "water tank, well tank, tender tank, smokebox door, chimney, dome cover, dome casing, bearing spring, "
        "superheater header, boiler, barrel plate, wrapper plate, tubeplate, throatplate, backhead, foundation ring, "
        "motion plate, motion bracket, frame stretcher, weighshaft, cab roof, cab side sheet, running plate, ashpan, "
        "crosshead, buffer stock, cylinder cover, reservoir, truck frame, body side, roof, engine or motor set, "
    )
    .strip(", ")
    .split(", ")
)
"""What is heavy where its mass is not known. Common practice, no source."""

CHEMICALS = (
    "Penetrant, developer and solvent burn and harm skin and lungs; magnets harm pacemakers. "
    "Follow the written procedure of the qualified examiner."
)
UV_A = "UV-A harms eyes and skin: never look into the lamp, use none with a cracked filter, cover up, wear glasses."
MAGNETS = "Yokes, coils and magnetised pieces harm pacemakers and implants. Look at the cables before the current."
PRODS = "Prods burn where they arc, and a burn may crack: never on a journal; dress it out and look at it again."
SPRAYS = "Sprays and cleaners burn and harm the lungs: air, no flame, nothing hot; never in a firebox or a pit."
HYDRAULIC = (
    "A pressure test is made with cold water, never with air or steam, and nobody stands near who need not. "
    "Vent it till no air is left, keep out of the line of plugs, doors and gauge glasses, raise it slowly, and tighten "
    "nothing under pressure. "
    "The competent person and the local code say how far, how long and who is there."
)
SET_PRESSURE = (
    "A safety valve is set in steam by the competent person, against two gauges: keep clear of where it blows, and put "
    "no gag or weight on it but the one that the test prescribes."
)
SPRING_TEST = "A loaded spring breaks or flies out: a guard goes round it, and nobody stands in line with it."
CRACKED = "Mark a cracked piece and take it to the quarantine place, so that nobody takes it for a spare."

CRACKED_TRIAL = (
    "It is cracked: sling it as if it may part, and keep out from under it. It is offered up to mark it off, never "
    "under load, pressure or in steam. The person in charge of the lift decides how."
)

STEAM = "Steam and hot water scald: wear a face shield and gloves, and keep everybody out of the jet."
OF_CLEANING = (
    (("blast", "scrap", "wire", "sand", "burn"), "harm for life"),
    (("caustic", "lye", "wash", "solvent", "paraffin", "degreas", "thinner", "spirit", "petrol", "acid"), "caustic"),
    (("needle", "grind", "wire", "chip"), "noise"),
)
"""What a way of cleaning is called, and the row of the table that it makes matter. Common practice, no source."""

OF_LOOK = {
    Kind.HYDRAULIC_TEST: HYDRAULIC,
    Kind.PRESSURE_TEST: HYDRAULIC,
    Kind.SET_PRESSURE: SET_PRESSURE,
    Kind.SPRING_TEST: SPRING_TEST,
}


def caution_of_look(kind: str, method: str = "") -> str:
    """A look for cracks has its own dangers; a plain look has those of the place."""
    if kind in OF_LOOK:
        return OF_LOOK[Kind(kind)]
    return CHEMICALS if kind == Kind.CRACK_CHECK or method in list(Method) else ""


def cautions_of_method() -> list[tuple[str, frozenset[str]]]:
    """The cautions of looking for cracks, each with the methods that it is for."""
    magnetic, penetrant = Method.MAGNETIC_PARTICLE, Method.PENETRANT
    return [
        (CHEMICALS.partition(";")[0] + ".", frozenset({penetrant})),
        (SPRAYS, frozenset({magnetic, penetrant})),
        (UV_A, frozenset({magnetic, penetrant})),
        (MAGNETS, frozenset({magnetic})),
        (PRODS, frozenset({magnetic})),
        ("Follow the written procedure of the qualified examiner.", frozenset(Method)),
    ]


LOOKING_IN_SHORT = {
    Method.MAGNETIC_PARTICLE: "Magnets harm pacemakers, UV-A harms eyes and skin, and sprays burn.",
    Method.PENETRANT: "Penetrant and sprays burn and harm the lungs. UV-A harms eyes and skin.",
    Method.ULTRASONIC: "Follow the written procedure of the qualified examiner.",
}
"""By method, the one sentence of them that stands open; the sentences themselves are in the fold beneath it."""


def caution_of_cleaning(way: str) -> str:
    """What is said where a way of cleaning is chosen."""
    texts = {row.subject: row.text for row in table() if "clean" in row.actions}
    cautions = [texts[subject] for words, subject in OF_CLEANING if any(word in way.lower() for word in words)]
    cautions += [STEAM] if "steam" in way.lower() else []
    return " ".join(cautions)


# --- before the work


@dataclass(frozen=True, slots=True)
class Caution:
    """One row of the table. It is for a place of one of its groups, names or materials; with none of them, for all."""

    subject: str
    actions: tuple[str, ...]
    groups: tuple[str, ...]  # codes of subassemblies
    names: tuple[str, ...]
    materials: tuple[str, ...]
    heavy: bool  # for whatever is heavy, and nothing else
    text: str

    def is_for(self, group: str, name: str, material: str, mass_kg: float) -> bool:
        """`mass_kg` 0: not known."""
        if self.heavy:
            return mass_kg >= HEAVY_KG if mass_kg else mentions(name, HEAVY, last=True)
        if not (self.groups or self.names or self.materials):
            return True
        of_group = any(group == code or group.startswith(f"{code}-") for code in self.groups)
        return of_group or mentions(name, self.names) or mentions(material, self.materials)


@cache
def table() -> tuple[Caution, ...]:
    """Every row; what can hurt most comes first."""
    with FILE.open(encoding="utf-8", newline="") as file:
        return tuple(
            Caution(
                subject=row["subject"],
                **{name: _listed(row[name]) for name in ("actions", "groups", "names", "materials")},
                heavy=row["heavy"] == "yes",
                text=row["text"],
            )
            for row in csv.DictReader(file, delimiter=";")
        )


def _listed(text: str) -> tuple[str, ...]:
    return tuple(filter(None, (part.strip() for part in text.split(","))))


def before(word: str, place: Place | None, piece: Piece | None) -> tuple[str, ...]:
    """What is said before an action (or a kind of look) begins, what matters most first: the place's own caution, those
    of the table, and its subassembly's unless that says the same."""
    return tuple(dict.fromkeys(_before(word, place, piece)))


def _before(word: str, place: Place | None, piece: Piece | None) -> Iterator[str]:
    yield from filter(None, [caution_of_look(word)] if word in list(Kind) else [])
    own, around = (place.caution, place.group_caution) if place else ("", "")
    rows = _rows_for(word, place, piece)
    yield from filter(None, [own])
    yield from (row.text for row in rows if not mentions(own, (row.subject,)))
    if around and not any(mentions(around, (row.subject,)) for row in rows):
        yield around


def _rows_for(word: str, place: Place | None, piece: Piece | None) -> list[Caution]:
    name = f"{place.name if place else ''} / {piece.name if piece else ''}"
    group, material = (place.group, place.material) if place else ("", "")
    mass = piece.mass_kg if piece else 0.0
    return [row for row in table() if word in row.actions and row.is_for(group, name, material, mass)]


def subjects(word: str, place: Place | None, piece: Piece | None) -> list[str]:
    """What the cautions of the table are about before this action, what matters most first."""
    return [row.subject for row in _rows_for(word, place, piece)]


def usual(word: str) -> Callable[..., tuple[str, ...]]:
    """For the entry of an action in the catalogue: its cautions, from its context."""
    return lambda context: before(word, context.place, context.piece)
