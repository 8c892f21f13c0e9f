"""A clearance or a distance measured in place as a piece is refitted, judged by the limits of its fit or its size.

No instrument is named there, so a figure is taken to be no truer than it is written: to half of its last place, or half
of the fraction it is read to. Within so much of a limit it is not proved (`verdicts.judge`), and counts as outside.

Worked example: at most 0.020 in may stand. `0.018 in` is known to 0.0005 in and is within; `0.020 in` is not proved;
`0.022 in` is beyond; `1/64 in`, which is 0.0156 in, is known to 1/128 in and so is not proved.
"""

import re
from dataclasses import dataclass
from fractions import Fraction

from .classes import SizeClass
from .fit_limits import FitLimits
from .length_tokens import VULGAR
from .lengths import LengthError, parse_length
from .limit_words import limits_in_words
from .limits import Limits
from .size_sentences import in_short
from .sizing import OUTSIDE, worst
from .verdicts import Rule

MEASURED_IN_PLACE = (
    "clearance",
    "float",
    "end play",
    "side play",
    "lateral",
    "back to back",
    "between tyres",
    "lift",
    "gap",
)
"""In the name of a size that is measured again when its piece is in its place. Common practice, no source."""

NUMBER = re.compile(rf"\d+[/\u2044](?P<below>\d+)|(?P<sign>[{''.join(VULGAR)}])|\d*\.(?P<places>\d+)|\d+")


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltVerdict:
    words: str  # ten at most
    outside: bool
    beyond_scrapping: bool


def allowed_in_words(limits: FitLimits | Limits | None) -> str:
    """`Drawing 0.1 mm (…) to 0.2 mm (…); shop limit at most 0.5 mm (…)`; of a fit, `Wanted …`."""
    if limits is None or (isinstance(limits, Limits) and not limits.any):
        return ""
    fit = isinstance(limits, FitLimits)
    told = limits_in_words(limits.bands() if isinstance(limits, FitLimits) else limits)
    return "; ".join(f"{'Wanted' if fit and name == 'Drawing' else name} {words}" for name, words in told)


def judge_built(typed: str, limits: FitLimits | Limits | None, rule: str = Rule.GUARDED) -> BuiltVerdict:
    """One figure or two, `0.10 mm to 0.15 mm`, of which the worse counts. What cannot be read is a LengthError."""
    read = read_built(typed)
    sizes, guard = [size for size, _ in read], max(step / 2 for _, step in read)
    bands = limits.bands() if isinstance(limits, FitLimits) else limits
    if bands is None:
        return BuiltVerdict(words=in_short(None, 1, 1), outside=False, beyond_scrapping=False)
    found = worst(sizes, bands, guard, rule)[1]
    size_class = found.size_class if found else None
    if isinstance(limits, FitLimits):
        beyond = limits.scrapping_most is not None and max(sizes) > limits.scrapping_most
    else:
        beyond = size_class is SizeClass.BEYOND_SCRAPPING
    return BuiltVerdict(
        words=in_short(SizeClass.BEYOND_SCRAPPING if beyond else size_class, 1, 1),
        outside=beyond or size_class in OUTSIDE,
        beyond_scrapping=beyond,
    )


def read_built(typed: str) -> list[tuple[Fraction, Fraction]]:
    """Each figure in mm, with the step it was read to. A unit behind the last holds for both."""
    parts = re.split(r"\s+to\s+|\s*–\s*", typed.strip())
    if len(parts) > 2:
        raise LengthError(
            "too-many", f"“{typed.strip()[:40]}” is more than two figures.", "Write the least and the most."
        )
    unit = NUMBER.split(parts[-1])[-1]
    return [_read(part if NUMBER.split(part)[-1].strip() else part + unit) for part in parts]


def _read(text: str) -> tuple[Fraction, Fraction]:
    size = parse_length(text, signed=True)
    *_, last = NUMBER.finditer(text)
    below = VULGAR[last["sign"]][1] if last["sign"] else last["below"]
    step = f"1/{below}" if below else f"0.{'0' * (len(last['places']) - 1)}1" if last["places"] else "1"
    return size, parse_length(step + text[last.end() :])
