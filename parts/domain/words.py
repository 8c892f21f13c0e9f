"""The closed word lists of the register: states, actions, needs, examinations. One meaning each, in one sentence."""

from enum import StrEnum


class State(StrEnum):
    """What has become of a piece in this overhaul."""

    IN_PLACE = "in place"  # on the locomotive, not yet dealt with in this overhaul
    STRIPPED = "stripped"  # off (or opened up where it stands), nothing done to it since
    CLEANED = "cleaned"  # clean enough to be looked at
    CRACK_CHECKED = "crack-checked"  # every crack check that its place calls for is signed
    ACCEPTED = "accepted"  # an old piece found good for one place
    REFITTED = "refitted"  # in its place, on the locomotive or in the piece it is part of
    IN_THE_MAKING = "in the making"  # a new piece, tagged, not yet passed
    RENEWED = "renewed"  # a new piece, made and passed
    WITHDRAWN = "withdrawn"  # out of this overhaul, with a destination


class Need(StrEnum):
    """What a place needs before its piece can go together; the order here is the order in which the first one leads."""

    FIND = "find"
    FETCH = "fetch"
    RELEASE = "release"
    DECIDE = "decide"
    REPAIR = "repair"
    RECHECK = "recheck"
    STRIP = "strip"
    SOURCE = "source"
    AWAIT = "await"
    CLEAN = "clean"
    CRACK_CHECK = "crack-check"
    EXAMINE = "examine"
    MEASURE = "measure"
    SIGN = "sign"
    FIT = "fit"
    AFTER = "after"


class Kind(StrEnum):
    """Kinds of examination."""

    VISUAL = "visual"
    CRACK_CHECK = "crack check"
    DIMENSIONAL = "dimensional"
    THICKNESS = "ultrasonic thickness"
    HYDRAULIC_TEST = "hydraulic test"
    CALIBRATION = "calibration"  # a gauge against a standard
    SET_PRESSURE = "set pressure"  # where a safety or relief valve lifts, and where it shuts
    SPRING_TEST = "spring test"  # load against camber or length
    PRESSURE_TEST = "pressure test"  # a pipe, a cylinder or a vessel other than the boiler


class Method(StrEnum):
    """Ways of looking for cracks. A place may call for one of them, or for any."""

    ANY = "any"
    MAGNETIC_PARTICLE = "magnetic particle"
    PENETRANT = "penetrant"
    ULTRASONIC = "ultrasonic"


class Result(StrEnum):
    """What an examination found."""

    SOUND = "sound"
    INDICATION = "indication"  # a crack check showed something
    DEFECT = "defect"  # worn, wasted, broken, out of limits


class Side(StrEnum):
    """Handing, looking forward from the footplate."""

    NONE = ""
    LH = "LH"
    RH = "RH"


class Origin(StrEnum):
    """Where a piece came from, as far as is known."""

    ORIGINAL = "original"
    EARLIER_REPAIR = "earlier repair"
    ANOTHER_LOCOMOTIVE = "another locomotive"
    NEW = "new"
    WRONG = "wrong"
    UNKNOWN = "unknown"


class Destination(StrEnum):
    """Where a withdrawn piece goes."""

    SCRAPPED = "scrapped"
    DISPLAY = "set aside for display"
    PATTERN = "pattern"
    SPARE = "spare"
    TO_OWNER = "to its owner"
    WRONG = "wrong for this locomotive"
    LOST = "lost"
    BUILT_IN = "built into another piece"  # welded up with others, or let in by a repair; no form offers it
    NOT_SAID = "not recorded"  # taken over from a list that does not say; never offered in a form


class Whereabouts(StrEnum):
    """Where a piece lies, as far as its readiness cares."""

    WORKS = "works"
    UNKNOWN = "unknown"
    MISSED = "missed"  # not there when it was looked for
    ELSEWHERE = "elsewhere"  # at another firm, or lent


IN_HAND = frozenset({State.STRIPPED, State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED})
"""States of a piece that lies loose and may be worked on."""

LIVE = frozenset(State) - {State.WITHDRAWN, State.IN_THE_MAKING}
"""States in which a piece fills its place."""
