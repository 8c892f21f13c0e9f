"""The usual cautions, each where the work is. Common practice, no source: the competent person and code decide."""

from .words import Kind, Method

LIFTING = (
    "Sling and prop it before the last fastening is out, and keep out from under it. "
    "Whoever is in charge of the lift decides how."
)
CLEANING = (
    "Blasting dust, old lead paint and the asbestos in old lagging and joints harm for life. "
    "If you do not know what is on it, stop, and ask the competent person first."
)
HOT_WORK = (
    "Hot work: clear what burns, keep a watch afterwards. Welding on a boiler is for the inspecting body to allow."
)
CHEMICALS = (
    "Penetrant, developer and solvent burn and harm skin and lungs; magnets harm pacemakers. "
    "Follow the written procedure of the qualified examiner."
)
UV_A = "UV-A harms eyes and skin: never look into the lamp, use none with a cracked filter, cover up, wear glasses."
MAGNETS = "Yokes, coils and magnetised pieces harm pacemakers and implants. Look at the cables before the current."
PRODS = "Prods burn where they arc, and a burn may crack: never on a journal; dress it out and look at it again."
SPRAYS = "Sprays and cleaners burn and harm the lungs: air, no flame, nothing hot; never in a firebox or a pit."
HYDRAULIC = (
    "A pressure test is made with water, never with air or steam. Vent it till no air is left, keep out of the line of "
    "plugs, doors and gauge glasses, raise it slowly, and tighten nothing under pressure. "
    "The competent person and the local code say how far, how long and who is there."
)
SET_PRESSURE = (
    "A safety valve is set in steam by the competent person, against two gauges: keep clear of where it blows, and put "
    "no gag or weight on it but the one that the test prescribes."
)
SPRING_TEST = "A loaded spring breaks or flies out: a guard goes round it, and nobody stands in line with it."
CRACKED = "A cracked piece is marked and kept apart, so that nobody takes it for a spare."

CRACKED_TRIAL = (
    "It is cracked: sling it as if it may part, and keep out from under it. It is offered up to mark it off, never "
    "under load, pressure or in steam. Whoever is in charge of the lift decides how."
)

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
