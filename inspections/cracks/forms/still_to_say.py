"""What a crack check still has to say before it can be signed, in ten words at most, for the bar of each step."""

from dataclasses import dataclass

from parts.domain.words import Result

from .crack_checks import DETAIL, GROUPS, MISSED, REASON, CrackCheckForm
from .marks import Marks

MOST_WORDS = 10
ORDER = [name for _, _, names in GROUPS for name in names]
SHORT_OF = {
    "on": "day", "reached": "surfaces", "inside_reached": "inside", "inside_not_reached": "inside",
    "two_directions": "directions", "demagnetised": "demagnetising", "viewing": "viewing", "uv_a_w_m2": "UV-A",
    "light_lux": "light", "dwell_min": "dwell", "surface_c": "temperature", "level_by": "level",
    "level_reason": "level", "found": "finding", "look_again": "date", "supersedes": "record",
}  # fmt: skip
"""By field, the one word for it; the others are called as the form calls them."""


@dataclass(frozen=True)
class Still:
    """The sentence, and where the first of it is mended; nowhere if nothing is missing."""

    words: str
    at: str = ""


def still_to_say(form: CrackCheckForm, marks: Marks) -> Still:
    """`form` and `marks` were made over what was typed. It never sounds better than what is signed would be."""
    good = marks.is_valid() & form.is_valid()
    if marks.is_valid():
        marks.judge(form.cleaned_data.get("level", ""))
    wrong = _wrong(form) | _wrong_marks(marks)
    if wrong or not good:
        names = list(dict.fromkeys(wrong.values())) or ["marks"]
        return Still(_shortened(names), next(iter(wrong), "marks"))
    return Still(f"Nothing is missing: {_comes_to(form, marks)}.")


def _wrong(form: CrackCheckForm) -> dict[str, str]:
    """By the address of each field that is wrong, its word, in the order of the steps."""
    asked = {f"{REASON}{question.code}": question.field for question in form.questions}
    found = {}
    for name in form.errors:
        if name in form.fields:
            about = asked.get(name, name)
            blank = about not in form.fields or not form[about].data
            word = SHORT_OF.get(about, "report" if about.startswith(DETAIL) else about.partition("_")[0])
            found[about, name] = word if blank or name == about else f"reason for {word}"
    places = sorted(found, key=lambda one: ORDER.index(one[0]) if one[0] in ORDER else len(ORDER))
    return {form[_there(form, about, name)].auto_id: found[about, name] for about, name in places}


def _there(form: CrackCheckForm, about: str, name: str) -> str:
    """A field that stands on the page whatever was sent: the room for a reason may not, what it is about does."""
    if name == MISSED and form[about].data:
        return name
    return "directions" if about == "directions_deg" else about


def _wrong_marks(marks: Marks) -> dict[str, str]:
    wrong = [(number, mark) for number, mark in enumerate(marks.forms, 1) if mark.errors]
    return {mark[next(iter(mark.errors))].auto_id: f"mark {number}" for number, mark in wrong}


def _shortened(names: list[str]) -> str:
    """Three of them, or as many as ten words hold."""
    for kept in range(min(len(names), 3), 0, -1):
        more = f" and {len(names) - kept} more" if kept < len(names) else ""
        words = f"Before signing: {', '.join(names[:kept])}{more}."
        if len(words.split()) <= MOST_WORDS:
            break
    return words


def _comes_to(form: CrackCheckForm, marks: Marks) -> str:
    if marked := len(marks.marks):
        return f"{marked} indication{'s' if marked > 1 else ''} marked"
    if form.cleaned_data["result"] != Result.SOUND:
        return "an indication"
    return "sound where it was reached" if form.missed() else "sound"
