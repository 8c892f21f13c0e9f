"""The closed word lists of the ways back to ready: decisions, repairs, renewals, evidence. One meaning each."""

from enum import StrEnum


class Outcome(StrEnum):
    """What is decided of a piece, or of a place that is known empty."""

    ACCEPT = "accept"
    CONCESSION = "accept under concession"  # outside a shop limit, with the concession recorded
    REPAIR = "repair"
    RENEW = "renew"
    WITHDRAW = "withdraw"
    LEAVE = "leave"  # a piece in place stays as it is this time; an empty place stays empty


OF_A_PIECE = tuple(Outcome)
OF_AN_EMPTY_PLACE = (Outcome.RENEW, Outcome.LEAVE)


class RepairMethod(StrEnum):
    """Ways of mending the old piece."""

    WELD = "weld"
    BUSH = "bush"
    SLEEVE = "sleeve"
    METAL_SPRAY = "metal spray"
    RE_METAL = "re-metal"  # new white metal in a bearing
    COLD_STITCH = "cold stitch"  # a crack in a casting closed by metal keys and screws, without heat
    RE_RIVET = "re-rivet"
    RETAP = "retap oversize"
    ANNEAL = "anneal"
    RE_LEAF = "re-leaf"  # new plates in a laminated spring
    NEW_PLATE = "let in new plate"
    UNDERSIZE = "re-machine undersize"
    STRAIGHTEN = "straighten"
    HEAT_TREAT = "heat treat"
    OTHER = "other"


class Ending(StrEnum):
    """How a repair or a renewal came to its end; an open one has none."""

    OPEN = ""
    DONE = "done"
    GIVEN_UP = "given up"


class StepEnd(StrEnum):
    """How a step of a route came to its end; an open one has none."""

    OPEN = ""
    DONE = "done"
    FAILED = "failed"  # the blank was spoilt; the route went back to an earlier step
    DROPPED = "not needed"


class EvidenceKind(StrEnum):
    """What something that is no longer there is known from."""

    HOLES = "holes"
    STAMPING = "stamping"
    PHOTOGRAPH = "photograph"
    DRAWING = "drawing"
    OTHER = "other"


class TimeUnit(StrEnum):
    """In what an option's time is told."""

    DAYS = "days"
    WEEKS = "weeks"
    MONTHS = "months"
