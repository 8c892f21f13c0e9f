"""Codes that a mistyped one may have been meant as: the check character turns most misreadings into none of ours, and
leaves few codes that are one slip away."""

from .tagcodes import ALPHABET, LENGTH, normalise, weighted_sum

USUAL_SLIPS = frozenset(
    frozenset(pair)
    for pair in ("B8", "5S", "2Z", "6G", "VY", "1T", "17", "0D", "0Q", "38", "4A", "CG", "KX", "MN", "PR")
)
"""Characters that a dirty tag or a quick hand makes alike. Common practice, no source."""


def near_codes(text: str) -> list[str]:
    """Every code that is one wrong character or one swap of neighbours away, the likeliest slips first."""
    typed = normalise(text)
    if len(typed) != LENGTH or any(c not in ALPHABET for c in typed):
        return []
    swaps = [typed[:i] + typed[i + 1] + typed[i] + typed[i + 2 :] for i in range(LENGTH - 1)]
    slips = [(typed[i], c, typed[:i] + c + typed[i + 1 :]) for i in range(LENGTH) for c in ALPHABET if c != typed[i]]
    likely = [code for was, now, code in slips if frozenset((was, now)) in USUAL_SLIPS]
    others = [code for was, now, code in slips if frozenset((was, now)) not in USUAL_SLIPS]
    return [code for code in dict.fromkeys(likely + swaps + others) if code != typed and not weighted_sum(code)]
