"""What is questioned on a sheet before it is signed. A question is answered by a reason, and the reason is kept."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Question:
    """Which field, a code by which its reason is kept, and the sentence. A blocking one no reason answers."""

    field: str
    code: str
    sentence: str
    blocking: bool = False
    cure: str = "Correct the value, or say why it is right as it is."


def unanswered(questions: Iterable[Question], reasons: Mapping[str, str]) -> list[Question]:
    """Those that no reason has been given for, by code. Blanks are no reason, and a blocking question has none."""
    return [one for one in questions if one.blocking or not (reasons.get(one.code) or "").strip()]
