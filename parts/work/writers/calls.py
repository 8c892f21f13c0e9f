"""Writers of calls and letters to firms: when, to whom, what was said, and the day that they promise now."""

from datetime import date

from core.domain.refusals import Refusal, Refused
from core.models import Person
from parts.actions import writing
from parts.domain.plain import day, says_enough
from parts.foundry.writers.patterns import promise_pattern
from parts.models import Firm, Pattern, RenewalStep, Repair
from parts.stores.writers import may_be_promised, promise_anew

from ..promises import Promised, of_firm
from .repairs import promise_repair
from .steps import promise_step

HOW = ("call", "letter", "e-mail", "visit")
EVERYTHING = "all"
"""That the firm has promised; without it and without one of them a call is about the firm."""
KEEP, FORWARD = "keep", "forward"
"""Of one day for all of it: what was promised for later keeps its day, or comes earlier too."""
MOST = 300


def note_call(
    firm: Firm, actor: Person, *, on: date, how: str, said: str, who: str = "", about: str = "",
    promised: date | None = None, earlier: str = "",
) -> list[Promised]:  # fmt: skip
    """Note it; where another day was promised, that day is kept with what was said as its reason: for the promise that
    it is about, for EVERYTHING, or for the only one there is. What is promised anew, with the day that it had."""
    writing.allow(actor, "call firm")
    said = " ".join(said.split())
    with writing.one_transaction():
        open_now = of_firm(firm, writing.today())
        found = list(_troubles(open_now, on, how, said, about, promised))
        sooner = brought_forward(open_now, about, promised)
        if sooner and earlier not in (KEEP, FORWARD):
            told = "; ".join(f"{one.what} ({day(one.due)})" for one in sooner if one.due)
            found.append(Refusal("earlier", "Choose whether they come earlier.", f"{told}."))
        if found:
            raise Refused(*found)
        data = {"firm": firm.pk, "on": on.isoformat(), "how": how, "who": " ".join(who.split())}
        data["about"] = "" if about == EVERYTHING else about
        if promised:
            data["promised"] = promised.isoformat()
        writing.log(actor, "call firm", location=firm.location, remark=said, data=data)
        moved = _moved(open_now, about, promised)
        if earlier == KEEP:
            moved = [one for one in moved if one not in sooner]
        for one in moved:
            assert promised is not None  # else nothing moved
            _promise(one.about, promised, said, actor)
        return moved


def _moved(open_now: list[Promised], about: str, promised: date | None) -> list[Promised]:
    """What gets the new day: also the one that is named, though it has that day, which is refused where it stands."""
    if not promised:
        return []
    if about in ("", EVERYTHING):
        return [one for one in open_now if one.due != promised]
    return [one for one in open_now if one.about == about]


def brought_forward(open_now: list[Promised], about: str, promised: date | None) -> list[Promised]:
    """What one day for all of it would have come earlier than it was promised for."""
    if about != EVERYTHING:
        return []
    return [one for one in _moved(open_now, about, promised) if one.due and promised and one.due > promised]


def _troubles(open_now: list[Promised], on: date, how: str, said: str, about: str, promised: date | None):
    if on > writing.today():
        yield Refusal("on", f"Give the day of the {how}.", f"{day(on)} is still to come.")
    if how not in HOW:
        yield Refusal("how", "Choose how.", f"It is one of {', '.join(HOW)}.")
    if not says_enough(said):
        yield Refusal("said", "Say what they said, in three words or more.", "The next person who rings reads it.")
    if len(said) > MOST:
        yield Refusal("said", "Say it in fewer words.", f"At most {MOST} characters are kept.")
    if about not in {"", EVERYTHING, *(one.about for one in open_now)}:
        yield Refusal("about", "Choose from the list.", "The firm no longer promises this.")
    if promised and not open_now:
        yield Refusal("promised", "Leave the new day blank.", "This firm has nothing of ours that it promised.")
    if promised and not about and len(open_now) > 1:
        yield Refusal("about", "Choose which promise the new day is for, or all of it.", "The firm made several.")


def _promise(about: str, new: date, said: str, actor: Person) -> None:
    kind, _, number = about.partition("-")
    if kind == "step":
        promise_step(RenewalStep.objects.get(pk=number), actor, new=new, why=said)
    elif kind == "repair":
        promise_repair(Repair.objects.get(pk=number), actor, new=new, why=said)
    elif kind == "pattern":
        promise_pattern(Pattern.objects.get(pk=number), actor, new=new, why=said)
    else:
        piece = writing.locked(int(number))
        may_be_promised(piece.location, new)
        promise_anew(piece, new, actor)
