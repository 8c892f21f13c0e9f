"""Builds the demo by the real actions, as its invented people, over a year that has passed."""

from itertools import chain

from django.db import transaction

from parts.actions.refresh import put_off
from parts.domain.structure import LocomotiveSpec
from parts.models import Overhaul
from parts.structure.writers.locomotives import new_locomotive

from . import putting_back
from .cast import make_cast, sign_ins
from .clock import Clock, same_codes, told_time
from .lives import World
from .ordinary import ordinary
from .pictures import picture_stories
from .planning import planning
from .sites import INVENTED, make_firms, make_places
from .stories import stories

SEED = 26
BEGINS = 340
"""Days ago that the locomotive came into the works."""
SPEC = LocomotiveSpec(wheels="2-6-0T", outside_cylinders=2, valve_gear="Walschaerts", brake="vacuum")


def build_demo() -> list[tuple[str, str, str]]:
    """The whole demo into an empty database; returns (role, sign-in name, password) for each person."""
    clock = Clock(begins=BEGINS, seed=SEED)
    # One transaction: a thousand small ones would each wait for the disk.
    with told_time(clock), same_codes(SEED), transaction.atomic(), put_off() as standings:
        cast = make_cast(authorised_until=clock.ago(-300))
        locomotive, places = lay_out(cast), make_places(cast.nell)
        firms = make_firms(cast.ada, places)
        world = World(clock=clock, cast=cast, locomotive=locomotive, places=places, firms=firms, standings=standings)
        # The stories come first: each says which places are its own, and the table tells of all the others.
        late = [planning(world), *(story(world) for story in putting_back.STORIES)]
        clock.tell(chain(stories(world), ordinary(world), picture_stories(world), late))
    return sign_ins()


def lay_out(cast):
    """The locomotive, its overhaul, and every place on it."""
    locomotive = new_locomotive(
        cast.ada,
        name="Embermoss No. 5",
        slug="embermoss-5",
        spec=SPEC,
        starting_holds=False,  # the stories set their own
        named_dimensions=False,  # its own sheet of limits names them (sizes.py)
        gauge="1000 mm",
        builder="Ottersham & Vale (invented)",
        works_number="742",
        built="1911",
    )
    reason = f"Ten-yearly overhaul, Embermoss Forest Railway; the firebox is worn out. {INVENTED}"
    Overhaul.objects.filter(locomotive=locomotive).update(reason=reason)
    return locomotive
