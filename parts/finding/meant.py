"""What the words of a question mean beside what stands on things: a state, a need, a finding, who is rung at a firm."""

from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from ..domain.folding import joined
from ..domain.words import Need, State
from ..models import Firm
from .filtering import Filters, Found

FLAWS = (
    "crack", "cracks", "cracked", "indication", "indications", "flaw", "flaws", "flawed", "defect", "defects",
    "defective",
)  # fmt: skip
PHRASES: dict[str, tuple[str, str]] = {
    **{need.value: ("need", need.value) for need in Need if need is not Need.AFTER},
    **{state.value: ("state", state.value) for state in State},
    **dict.fromkeys(FLAWS, ("flawed", "1")),
    "lost": ("lost", "1"),
    "missing": ("need", Need.FIND.value),
}
"""Of a question, the filter that it names."""
LONGEST_PHRASE = 3


@dataclass(frozen=True, kw_only=True)
class Meant:
    words: str
    href: str
    many: int | None = None


def meant(text: str, today: date, *, may_reach: bool) -> list[Meant]:
    return [*_filters(text, today), *(_reached_by(text) if may_reach else ())]


def _filters(text: str, today: date) -> list[Meant]:
    chunks = text.split()
    known = {joined(phrase): (phrase, filter) for phrase, filter in PHRASES.items()}
    for length in range(min(LONGEST_PHRASE, len(chunks)), 0, -1):
        for start in range(len(chunks) - length + 1):
            phrase, rest = chunks[start : start + length], [*chunks[:start], *chunks[start + length :]]
            _, (key, value) = known.get(joined(" ".join(phrase)), ("", ("", "")))
            if key:
                filters = Filters.read({key: value, "q": " ".join(rest)}, today)
                many = len(Found(filters))
                words = f"Pieces, {filters.chips()[0][0]}" + (f", with “{filters.text}”" if rest else "")
                return [Meant(words=words, href=f"{reverse('find')}?{filters.query}", many=many)]
    return []


def _reached_by(text: str) -> list[Meant]:
    """Firms with these words or this number in how they are reached; they are few."""
    words = [joined(chunk) for chunk in text.split()]
    if len("".join(words)) < 3:
        return []
    return [
        Meant(words=f"{firm.name}: {' '.join(firm.contact.split())}", href=firm.get_absolute_url())
        for firm in Firm.objects.in_use().exclude(contact="").order_by("name")
        if (reached := joined(firm.contact)) and ("".join(words) in reached or all(word in reached for word in words))
    ]
