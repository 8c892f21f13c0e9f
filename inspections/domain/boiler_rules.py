"""What codes say of boilers, each figure with its source and clause. They differ, so none of them is a constant.

Which code is in force, and whether it allows the figure here and today, is for the competent person. A row marked
"from memory" was not read: look it up before it is used.
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from .tables import rows


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """`least` and `most` in `unit`, each on the limit still allowed; None where the rule has no such end."""

    subject: str
    regime: str
    case: str
    least: Fraction | None
    most: Fraction | None
    unit: str
    words: str
    source: str
    clause: str
    sure: str

    @property
    def from_memory(self) -> bool:
        return self.sure == "from memory"

    def met_by(self, value: Fraction) -> bool:
        """Whether a value in the rule's unit keeps to it; exactly on the limit does."""
        return (self.least is None or value >= self.least) and (self.most is None or value <= self.most)

    @property
    def cited(self) -> str:
        """`49 CFR Part 230, 230.25 (from memory)`."""
        where = self.source if self.clause in ("as named", "not given", "not kept") else f"{self.source}, {self.clause}"
        return where if self.sure == "read" else f"{where} ({self.sure})"


def rules(subject: str, regime: str | None = None) -> tuple[Rule, ...]:
    """All rules on a subject, of one regime or of all. An unknown subject is a ValueError."""
    found = tuple(rule for rule in every_rule() if rule.subject == subject)
    if not found:
        raise ValueError(f"There are no rules on “{subject}”.")
    return tuple(rule for rule in found if regime in (None, rule.regime))


def the_rule(subject: str, regime: str, case: str) -> Rule:
    """The one rule of a regime for a case. Worked example: stay stress, Montana, new stays: 7,500 lb/in²."""
    for rule in rules(subject, regime):
        if rule.case == case:
            return rule
    raise ValueError(f"{regime} has no rule here on {subject} for {case}.")


def every_rule() -> tuple[Rule, ...]:
    return tuple(_rule(row) for row in rows("boiler_rules"))


def _rule(row: dict[str, str]) -> Rule:
    fields: dict[str, Any] = row | {"least": _figure(row["least"]), "most": _figure(row["most"])}
    return Rule(**fields)


def _figure(text: str) -> Fraction | None:
    return Fraction(text) if text else None
