from .boilers import Boiler, BoilerEntry, BoilerPart, BoilerRecord, BoilerRecordNote, SchemeRow
from .crack_checks import CrackCheck, Indication
from .dimensions import Dimension, Limits
from .examinations import Examination, FindingDecision
from .fits import Fit, FitLimits
from .instruments import Calibration, Instrument
from .measurements import Concession, Draft, Measurement, Reading
from .sheets import LimitSheet, SheetRow
from .taken import TakenSize

__all__ = [
    "Boiler",
    "BoilerEntry",
    "BoilerPart",
    "BoilerRecord",
    "BoilerRecordNote",
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
    "SchemeRow",
    "SheetRow",
    "TakenSize",
]
