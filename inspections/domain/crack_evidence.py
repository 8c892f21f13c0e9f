"""What a crack check must show to count as one: what is refused, and what is questioned.

| what | comes to | source |
|---|---|---|
| no written procedure, no technique | refused | ISO 9934-1 and ISO 3452-1, report; from memory |
| magnetic particle on what is known not to be ferromagnetic | refused | ISO 9934-1, scope |
| magnetic particle on a metal that is not known, or magnetic only in part | questioned | ISO 9934-1, scope |
| a surface that the place names and that was not reached | questioned | common practice, no source |
| an indication that is said to lie on a surface that was not reached | questioned | common practice, no source |
| equipment or consumables not named | questioned | ISO 9934-1 and ISO 3452-1, report; from memory |

A question is answered by a reason, which is kept; the responsible engineer may be named in it.
"""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from core.domain.refusals import Refusal
from parts.domain.plain import listed

from .crack_methods import MAGNETIC, Magnetic, magnetic, proposes
from .questions import Question


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """What a crack check stands on, and of what piece it is. Blank is not said."""

    method: str
    material: str = ""
    missed: Collection[str] = ()  # surfaces that the place names and that were not reached
    marked: Collection[str] = ()  # where each indication is said to be, as typed
    procedure: str = ""
    technique: str = ""
    equipment: str = ""
    consumables: str = ""


def refused(evidence: Evidence) -> Iterator[Refusal]:
    """Why it is no crack check, whatever reason is given."""
    for name, value in (("procedure", evidence.procedure), ("technique", evidence.technique)):
        if not value.strip():
            sentence = f"No {name} is named, so nobody can tell how it was looked for."
            yield Refusal(name, sentence, f"Write the {name} that was worked to.")
    if sentence := not_magnetic(evidence.method, evidence.material):
        yield Refusal("not-magnetic", sentence, "Check it by penetrant, or have the material of its place corrected.")


def not_magnetic(method: str, material: str) -> str:
    """Why magnetic particle finds nothing on such a piece; blank where it may."""
    if method == MAGNETIC and magnetic(material) is Magnetic.NO:
        return f"Magnetic particle finds no crack in {material}, which is not ferromagnetic."
    return ""


def _names(surface: str, marked: Collection[str]) -> bool:
    named = re.compile(rf"\b{re.escape(surface)}\b", re.IGNORECASE)
    return any(named.search(where) for where in marked)


def questioned(evidence: Evidence) -> Iterator[Question]:
    if evidence.method == MAGNETIC and magnetic(evidence.material) in (Magnetic.UNKNOWN, Magnetic.BOTH):
        yield from (
            Question("method", doubt.code, doubt.sentence) for doubt in proposes(evidence.method, evidence.material)
        )
    if evidence.missed:
        cure = "Tick each surface that was reached, or say why this one was not."
        yield Question("reached", "surface-missed", f"Not reached: {listed(sorted(evidence.missed))}.", cure=cure)
    if on := sorted(surface for surface in evidence.missed if _names(surface, evidence.marked)):
        cure = "Tick the surface if it was reached, or say here how an indication was seen on it."
        sentence = f"An indication is marked on {listed(on)}, which is said to be not reached."
        yield Question("reached", "marked-missed", sentence, cure=cure)
    if not evidence.equipment.strip():
        cure = "Name the equipment and its number, or say here why it is not known."
        yield Question("equipment", "equipment-missing", "The equipment is not named.", cure=cure)
    if not evidence.consumables.strip():
        cure = "Name the consumables and their batch, or say here why they are not known."
        yield Question(
            "consumables", "consumables-missing", "The consumables and their batch are not named.", cure=cure
        )
