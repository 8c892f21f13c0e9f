"""Which way of looking for cracks suits a piece. A proposal from what its material is called; a magnet knows better.

That magnetic particle needs a ferromagnetic piece: ISO 9934-1, scope. What is ferromagnetic, and that ultrasonics are
for what cannot be seen: common practice, no source. The austenitic grades of AISI, BS 970 and EN 10088: from memory.
"""

import re
from enum import StrEnum
from typing import NamedTuple

MAGNETIC, PENETRANT, ULTRASONIC, ANY = "magnetic particle", "penetrant", "ultrasonic", "any"


class Magnetic(StrEnum):
    YES = "yes"
    NO = "no"
    BOTH = "both"  # a steel shell with a white-metal lining
    UNKNOWN = "unknown"


class Proposal(NamedTuple):
    code: str
    sentence: str


# Looked for in this order. What one finds is taken out before the next looks, so that nickel silver is no silver steel.
NAMES = (
    (Magnetic.YES, (
        r"carbon[- ]manganese steel", r"(?:ferritic|martensitic)(?: stainless)?(?: steel)?",
        r"4[1-3]\d stainless(?: steel)?", r"stainless(?: steel)? 4[1-3]\d",
    )),
    (Magnetic.NO, (
        r"non[- ]?ferrous", r"non[- ]?magnetic(?: \w+)?", r"austenitic(?: stainless)?(?: (?:steel|iron))?",
        # by grade (AISI), and as BS 970 and EN 10088 name them; of the last only what has 8 % of nickel or more
        r"(?:(?:aisi|type|grade|stainless|steel) ){0,3}(?:30[1-589]|31[0467]|321|347)(?:l|h|ti|n|ln)?"
        r"(?: (?:stainless|steel)){0,2}(?! ?(?:mm|x)\b)",
        r"(?:(?:stainless|steel) ){0,2}18[/-](?:8|10)(?: (?:stainless|steel)){0,2}",
        r"(?:(?:stainless|steel) ){0,2}en ?58[a-j]?(?: (?:stainless|steel)){0,2}",
        r"(?:(?:stainless|steel) ){0,2}x\d+crni[a-z]*\d\d[-/ ](?:[89]|[12]\d)(?:[-/ ]\d+)*"
        r"(?: (?:stainless|steel)){0,2}",
        r"high[- ]manganese steel", r"hadfield(?: steel)?",
    )),
    # Some kinds are magnetic and some are not (manganese steel liners mostly are not).
    (Magnetic.UNKNOWN, (r"manganese steel", r"stainless(?: steel)?", r"monel", r"ni[- ]?resist(?: iron)?")),
    (Magnetic.NO, (
        r"bronze", r"brass", r"gun[- ]?metal", r"copper", r"cupro[- ]?nickel", r"(?:nickel|german) silver",
        r"alumini?um", r"white[- ]?metal(?:led)?", r"babbitt", r"lead", r"zinc", r"tin",
    )),
    (Magnetic.YES, (r"steel", r"iron", r"boiler[- ]?plate")),  # copper plate says so, and is told as both
)  # fmt: skip


def magnetic(material: str) -> Magnetic:
    """Whether a piece of that material is ferromagnetic, as far as its name tells."""
    left, found = " ".join(material.lower().split()), set()
    for answer, names in NAMES:
        left, count = re.subn(rf"\b(?:{'|'.join(names)})\b", " | ", left)
        if count:
            found.add(answer)
    if len(found) == 1:
        return found.pop()
    return Magnetic.BOTH if found == {Magnetic.YES, Magnetic.NO} else Magnetic.UNKNOWN


def proposes(method: str, material: str, hidden: bool = False) -> tuple[Proposal, ...]:
    """What speaks against a method on such a piece, or with no method ("" or "any") which one is proposed.

    `hidden` is for what cannot be seen: an axle inside its wheels, a crank pin in its boss.
    """
    if method in ("", ANY):
        return _proposed(material, hidden)
    proposals = []
    if hidden and method != ULTRASONIC:
        proposals.append(
            Proposal(
                "hidden",
                f"Part of it cannot be seen, and {method} finds only what comes to a surface that can be reached: "
                "ultrasonic is the way to look there.",
            )
        )
    if method == MAGNETIC and (doubt := _magnetic_doubt(material)):
        proposals.append(doubt)
    return tuple(proposals)


def _proposed(material: str, hidden: bool) -> tuple[Proposal, ...]:
    proposals = []
    if hidden:
        proposals.append(Proposal(ULTRASONIC, "Ultrasonic for the part that cannot be seen."))
    kind = magnetic(material)
    if kind is Magnetic.YES:
        proposals.append(Proposal(MAGNETIC, f"Magnetic particle, as it is ferromagnetic ({material})."))
    elif kind is Magnetic.NO:
        proposals.append(Proposal(PENETRANT, f"Penetrant, as a magnet does not hold it ({material})."))
    elif doubt := _magnetic_doubt(material):
        proposals.append(doubt)
    return tuple(proposals)


def _magnetic_doubt(material: str) -> Proposal | None:
    kind = magnetic(material)
    if kind is Magnetic.NO:
        return Proposal(
            "not-magnetic",
            f"Magnetic particle needs a ferromagnetic piece, and {material} is not: penetrant is the usual choice.",
        )
    if kind is Magnetic.BOTH:
        return Proposal(
            "part-magnetic",
            f"{material[:1].upper()}{material[1:]}: magnetic particle finds cracks only in the ferromagnetic part. "
            "Say which surfaces it reached, and look at the rest by penetrant.",
        )
    if kind is Magnetic.UNKNOWN:
        known = f"It is not known whether {material} is ferromagnetic" if material.strip() else "No material is given"
        return Proposal("material-unknown", f"{known}: try a magnet. Magnetic particle needs a piece that holds one.")
    return None
