"""The rules of the ways back to ready: days, sums, replacements, and the steps of a route. Pure."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from core.domain.refusals import Refusal

from .job_words import StepEnd
from .plain import day

MOST = Decimal(10) ** 10
"""A sum below this fits into the register's twelve digits, two of them behind the point."""

COST_WORDS = {"estimate": "Estimated cost", "committed": "Cost ordered", "actual": "Cost paid"}


# --- days


def day_troubles(*, ordered: date | None, promised: date | None, done: date | None, today: date) -> list[Refusal]:
    """Why these days cannot be so. Each sentence begins with the field that it is about."""
    found = []
    if ordered and ordered > today:
        found.append(Refusal("ordered", "Ordered on: the day is still to come.", "Give the day of the order."))
    if ordered and promised and promised < ordered:
        sentence = f"Promised for: {day(promised)} is before the order of {day(ordered)}."
        found.append(Refusal("promised", sentence, "Give the day of the order or a later one."))
    if done and done > today:
        found.append(Refusal("done", "Done on: the day is still to come.", "Give the day on which it was done."))
    if ordered and done and done < ordered:
        sentence = f"Done on: {day(done)} is before the order of {day(ordered)}."
        found.append(Refusal("done", sentence, "Give the day of the order or a later one."))
    return found


def promise_troubles(old: date | None, new: date | None, why: str) -> list[Refusal]:
    """A first promise needs no reason; every change of it does."""
    if old == new:
        return [Refusal("promised", "Promised for: that day was promised already.", "Give the new day.")]
    if old and not why.strip():
        sentence = f"Why: nothing was written, and {day(old)} had been promised."
        return [Refusal("why", sentence, "Say in a few words why the day moved.")]
    return []


def days_late(promised: date | None, today: date) -> int:
    """By how many days a promise is overdue; none on the day itself."""
    return max((today - promised).days, 0) if promised else 0


def slips(promises: Iterable[tuple[date | None, date | None]]) -> int:
    """How often a later day was promised than before. An earlier day, a first one, and one taken back are no slips."""
    return sum(1 for old, new in promises if old and new and new > old)


# --- sums


def cost_troubles(entered: Mapping[str, Decimal | None], currency: str) -> list[Refusal]:
    found = []
    for name, amount in entered.items():
        words = COST_WORDS.get(name, "Cost")
        if amount is None:
            continue
        if not amount.is_finite():
            found.append(Refusal(name, f"{words}: that is no sum.", "Write a sum such as 1250.00."))
        elif amount < 0:
            found.append(Refusal(name, f"{words}: less than nothing.", "Write 0 or more, or leave it blank."))
        elif amount >= MOST:
            found.append(Refusal(name, f"{words}: too large a sum.", "Write the sum, to the penny."))
        elif amount != amount.quantize(Decimal("0.01")):
            found.append(Refusal(name, f"{words}: use two decimal places.", "Write two figures behind the point."))
    if not (len(currency) == 3 and currency.isascii() and currency.isalpha() and currency.isupper()):
        cure = "Write its three capital letters, such as GBP or USD."
        found.append(Refusal("currency", f"Currency: “{currency[:10]}”.", cure))
    return found


def amount_troubles(code: str, label: str, amount: Decimal | None, most: Decimal, places: int) -> list[Refusal]:
    """Hours and masses: nothing below zero, and no finer than the register keeps."""
    if amount is None:
        return []
    if not amount.is_finite() or amount < 0:
        return [Refusal(code, f"{label}: less than nothing.", "Write 0 or more, or leave it blank.")]
    if amount >= most or amount != amount.quantize(Decimal(1).scaleb(-places)):
        cure = f"Write it with at most {places} figures behind the point, and below {most}."
        return [Refusal(code, f"{label}: {amount} cannot be kept.", cure)]
    return []


# --- what replaces what


def replacement_trouble(new: int, old: int, replaces: Mapping[int, int]) -> Refusal | None:
    """A piece replaces another one, and following back what each replaced never comes round to it.

    `replaces` leads from a piece to the one it replaces.
    """
    if new == old:
        return Refusal("replaces", "Replaces: a piece does not replace itself.", "Give the tag of the old piece.")
    seen = {new}
    at: int | None = old
    while at is not None:
        if at in seen:
            sentence = "Replaces: that one replaces this piece already, directly or through others between."
            return Refusal("replaces", sentence, "Give the tag of the piece that was there before.")
        seen.add(at)
        at = replaces.get(at)
    return None


# --- the steps of a route


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step, as the rules see it."""

    id: int
    number: int
    name: str
    ended: StepEnd = StepEnd.OPEN


def in_order(steps: Iterable[Step]) -> list[Step]:
    return sorted(steps, key=lambda step: (step.number, step.id))


def open_steps(steps: Iterable[Step]) -> list[Step]:
    return [step for step in in_order(steps) if step.ended is StepEnd.OPEN]


def current(steps: Iterable[Step]) -> Step | None:
    """The first one that is still open."""
    return next(iter(open_steps(steps)), None)


def made_again(steps: Sequence[Step], failed: int, back_to: int) -> list[Step]:
    """Which steps are made again after one failed: from the named one up to the failed one, those in between that had
    been done, and not those that came of an earlier failure and were made again already."""
    ordered = in_order(steps)
    ids = [step.id for step in ordered]
    span = ordered[ids.index(back_to) : ids.index(failed) + 1]
    return [step for step in span if step.ended is StepEnd.DONE or step.id == failed]


def failing_troubles(steps: Sequence[Step], failed: int, back_to: int | None, reason: str) -> list[Refusal]:
    ordered = in_order(steps)
    by_id = {step.id: step for step in ordered}
    found = []
    if not reason.strip():
        found.append(Refusal("reason", "Reason: nothing was written.", "Say what went wrong."))
    if by_id[failed].ended is not StepEnd.OPEN:
        sentence = f"The step “{by_id[failed].name}” is {by_id[failed].ended} already."
        found.append(Refusal("step", sentence, "Only a step that is open can fail."))
    target = by_id.get(back_to) if back_to is not None else None
    before = target is not None and (target.number, target.id) <= (by_id[failed].number, failed)
    usable = target is not None and (target.ended is StepEnd.DONE or target.id == failed)
    if not (before and usable):
        sentence = "Back to: that is no step of this route that was done before."
        found.append(Refusal("back_to", sentence, "Choose the step from which it is made again."))
    return found


def closing_troubles(steps: Iterable[Step], pieces: int) -> list[Refusal]:
    """A route closes when nothing of it is left to do and a piece came of it."""
    left = open_steps(steps)
    if left:
        named = "; ".join(step.name for step in left[:3])
        cure = "Say that they are done or not needed, or give the renewal up."
        return [Refusal("steps-open", f"Steps of the route are still open: {named}.", cure)]
    if not pieces:
        cure = "Begin the new piece, or give the renewal up."
        return [Refusal("no-piece", "Enter the new piece first: there is none yet.", cure)]
    return []
