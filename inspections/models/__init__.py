from .examinations import Examination, FindingDecision

__all__ = ["Examination", "FindingDecision"]
