from .boilers import Boiler, BoilerEntry, BoilerPart, BoilerRecord, BoilerRecordNote, SchemeRow
from .boxing_up import BoxedPiece, BoxingUp
from .crack_checks import CrackCheck, Indication
from .dimensions import Dimension, Limits
from .examinations import Examination, FindingDecision
from .fits import Fit, FitLimits
from .instruments import Calibration, Instrument
from .measurements import Concession, Draft, Measurement, Reading
from .return_to_service import AskedItem, ReturnToService, Tick
from .sheets import LimitSheet, SheetRow
from .taken import TakenSize

__all__ = [
    "AskedItem",
    "Boiler",
    "BoilerEntry",
    "BoilerPart",
    "BoilerRecord",
    "BoilerRecordNote",
    "BoxedPiece",
    "BoxingUp",
    "Calibration",
    "Concession",
    "CrackCheck",
    "Dimension",
    "Draft",
    "Examination",
    "FindingDecision",
    "Fit",
    "FitLimits",
    "Indication",
    "Instrument",
    "LimitSheet",
    "Limits",
    "Measurement",
    "Reading",
    "ReturnToService",
    "SchemeRow",
    "SheetRow",
    "TakenSize",
    "Tick",
]
