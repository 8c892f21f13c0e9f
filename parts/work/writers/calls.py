"""Writers of calls and letters to firms: when, to whom, what was said, and the day that they promise now."""

from datetime import date

from core.domain.refusals import Refusal, Refused
from core.models import Event, Person
from parts.actions import writing
from parts.domain.plain import day, says_enough
from parts.foundry.writers.patterns import promise_pattern
from parts.models import Firm, Pattern, RenewalStep, Repair
from parts.stores.writers import may_be_promised, promise_anew

from ..promises import of_firm
from .repairs import promise_repair
from .steps import promise_step

HOW = ("call", "letter", "e-mail", "visit")
MOST = 300


def note_call(
    firm: Firm, actor: Person, *, on: date, how: str, said: str, who: str = "", about: str = "",
    promised: date | None = None,
) -> Event:  # fmt: skip
    """Note it; where another day was promised, that day is kept with what was said as its reason."""
    writing.allow(actor, "call firm")
    said = " ".join(said.split())
    found = list(_troubles(firm, on, how, said, about, promised))
    if found:
        raise Refused(*found)
    with writing.one_transaction():
        if promised:
            _promise(about, promised, said, actor)
        data = {"firm": firm.pk, "on": on.isoformat(), "how": how, "who": " ".join(who.split()), "about": about}
        if promised:
            data["promised"] = promised.isoformat()
        return writing.log(actor, "call firm", location=firm.location, remark=said, data=data)


def _troubles(firm: Firm, on: date, how: str, said: str, about: str, promised: date | None):
    if on > writing.today():
        yield Refusal("on", f"Give the day of the {how}.", f"{day(on)} is still to come.")
    if how not in HOW:
        yield Refusal("how", "Choose how.", f"It is one of {', '.join(HOW)}.")
    if not says_enough(said):
        yield Refusal("said", "Say what they said, in three words or more.", "The next person who rings reads it.")
    if len(said) > MOST:
        yield Refusal("said", "Say it in fewer words.", f"At most {MOST} characters are kept.")
    if about and about not in {one.about for one in of_firm(firm, writing.today())}:
        yield Refusal("about", "Choose from the list.", "The firm no longer promises this.")
    if promised and not about:
        yield Refusal("about", "Choose what the new day is for.", "Say which piece the day is for.")


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
