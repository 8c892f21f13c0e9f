"""Builds the demo by the real actions, as its invented people, over a year that has passed."""

from pathlib import Path

from django.db import transaction

from parts.actions.importing import take_over
from parts.actions.life import perform
from parts.actions.locomotives import new_locomotive
from parts.domain.rows import Given
from parts.domain.structure import LocomotiveSpec
from parts.domain.words import Action, State
from parts.models import Component, Locomotive
from parts.register_files import read_sheet

from .cast import make_cast, sign_ins
from .clock import Clock, same_codes, told_time
from .lives import World
from .pictures import picture_stories
from .plot import stories
from .sites import make_places

SEED = 26
BEGINS = 340
"""Days ago that the locomotive came into the works."""
SPEC = LocomotiveSpec(
    wheels="2-6-0T", outside_cylinders=2, inside_cylinders=0, valve_gear="Walschaerts", brake="vacuum"
)
EARLIER_LIST = Path(__file__).with_name("earlier_list.csv")


def build_demo() -> list[tuple[str, str, str]]:
    """The whole demo into an empty database; returns (role, sign-in name, password) for each person."""
    clock = Clock(begins=BEGINS, seed=SEED)
    # One transaction: a thousand small ones would each wait for the disk.
    with told_time(clock), same_codes(SEED), transaction.atomic():
        cast = make_cast(authorised_until=clock.ago(-300))
        locomotive = new_locomotive(
            cast.ada,
            name="Hazelwick No. 5",
            slug="hazelwick-5",
            spec=SPEC,
            gauge="metre",
            builder="Ottersham & Vale, invented for the demo",
            works_number="742",
            built="1911",
        )
        world = World(clock=clock, cast=cast, locomotive=locomotive, places=make_places(cast.nell))
        clock.tell([_take_over_list(world), *stories(world), _left_alone(world), *picture_stories(world)])
    return sign_ins()


def _take_over_list(world):
    """The works that had it before kept a list; some of its pieces are vouched for by that alone."""
    yield BEGINS - 5
    sheet = read_sheet(EARLIER_LIST.read_bytes())
    made = take_over(Locomotive.objects.get(pk=world.locomotive.pk), sheet, world.cast.ada, source=EARLIER_LIST.name)
    assert not made.bad, made.bad
    yield 220
    confirmed = Component.objects.filter(name__iexact="number plate", state=State.ACCEPTED)
    assert confirmed.exists()


def _left_alone(world):
    """The works plates stay where they are this time."""
    yield 45
    for plate in Component.objects.filter(place__name="works plate", state=State.IN_PLACE):
        perform(
            Action.LEAVE_ALONE,
            plate,
            world.cast.maud,
            Given(reason="Sound and tight; nothing is gained by taking it off."),
        )
