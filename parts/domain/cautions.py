"""The usual cautions, each where the work is. Common practice, no source: the competent person and code decide."""

from .words import Action, Kind, Method

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
CRACKED = "A cracked piece is marked and kept apart, so that nobody takes it for a spare."

OF_ACTION = {
    Action.STRIP: LIFTING,
    Action.BREAK_DOWN: LIFTING,
    Action.CLEAN: CLEANING,
    Action.FINISH_REPAIR: HOT_WORK,
    Action.REFIT: LIFTING,
    Action.OFFER_UP: LIFTING,
    Action.TAKE_OFF: LIFTING,
}


def caution_of(action: str, *, cracked: bool = False) -> str:
    if action == Action.WITHDRAW and cracked:
        return CRACKED
    return OF_ACTION.get(action, "")


def caution_of_look(kind: str, method: str = "") -> str:
    """A look for cracks has its own dangers; a plain look has those of the place."""
    return CHEMICALS if kind == Kind.CRACK_CHECK or method in list(Method) else ""
