"""A refusal is a value: what fails, in a sentence, and what would cure it."""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why an action may not be done. `passable` ones the responsible engineer may pass, saying why."""

    code: str
    sentence: str
    cure: str = ""
    passable: bool = False

    def naming(self, name: str) -> "Refusal":
        """Of one thing among several: which one it is."""
        return self if name in self.sentence else replace(self, sentence=f"{name}: {self.sentence}")

    def __str__(self) -> str:
        return f"{self.sentence} {self.cure}".strip()


class Refused(Exception):
    """Raised by a writer that was asked for something refused; carries the same values that grey the button."""

    def __init__(self, *refusals: Refusal):
        self.refusals = refusals
        super().__init__(" ".join(str(refusal) for refusal in refusals))
