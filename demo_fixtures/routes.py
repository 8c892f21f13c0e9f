"""How the renewals of the demo go on, by the real actions: a step is given out, slips, is done."""

from datetime import date

from parts.domain.job_words import Ending, StepEnd
from parts.models import Position, RenewalStep
from parts.work.writers import steps

from .lives import World


def open_step(place: Position, begins: str) -> RenewalStep:
    """The open step of the renewal under way for this place whose name begins like this."""
    return place.renewals.get(ended=Ending.OPEN.value).steps.get(name__startswith=begins, ended=StepEnd.OPEN.value)


def give(world: World, place: Position, begins: str, *, promised: date | None = None, **entered) -> None:
    """Somebody takes the step on, and may name a day."""
    steps.edit_step(open_step(place, begins), world.cast.ada, **entered)
    if promised:
        steps.promise_step(open_step(place, begins), world.cast.ada, new=promised)


def slip(world: World, place: Position, begins: str, to: date, why: str) -> None:
    steps.promise_step(open_step(place, begins), world.cast.ada, new=to, why=why)


def done(world: World, place: Position, begins: str, **entered) -> None:
    steps.finish_step(open_step(place, begins), world.cast.ada, **entered)
