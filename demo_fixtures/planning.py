"""When the demo's workshop is open, who comes, and what its works manager guesses. Invented."""

from decimal import Decimal
from typing import Any

from parts.attendance import writers as writers_of_days
from parts.domain.forecast import forecast
from parts.forecast import loading, writers
from parts.models import Machine

GUESSES = {
    "frames": (10, 20, 45, 3),
    "boiler": (60, 120, 260, 4),
    "wheelsets": (15, 30, 60, 3),
    "cab": (8, 15, 30, 2),
}
"""Open days, least, likely and most, and for how many hands. What is not here goes at the pace of the works."""
WEEK = {"wednesday": 420, "saturday": 480, "sunday": 300, "monday": 0, "tuesday": 0, "thursday": 0, "friday": 0}

COMES = {
    "pim": ["saturday"],
    "wren": ["saturday"],
    "nell": ["wednesday", "saturday"],
    "bram": ["wednesday", "saturday"],
    "ines": ["saturday", "sunday"],
    "petra": ["saturday"],
    "maud": ["wednesday", "saturday"],
    "oskar": ["sunday"],
}
SKILLS = (("bram", "in charge"), ("bram", "turn"), ("ines", "braze"), ("petra", "crack-check"), ("nell", "ring firms"))
MACHINES = ("lathe", "wheel lathe", "wash bay", "hoist")


def planning(world):
    """Ada sets the week when the strip-down ends, and guesses; who comes is written down, and forecasts are kept."""
    yield 120
    ada = world.cast.ada
    writers.set_working_week(ada, **WEEK, poor=3, usual=6, good=10)
    yield 90
    for name, week in COMES.items():
        writers_of_days.say_week(ada, getattr(world.cast, name), week)
    writers_of_days.set_learner(ada, world.cast.wren, True)
    for name in MACHINES:
        writers_of_days.save_machine(ada, Machine(), name=name, units=1)
    for name, skill in SKILLS:
        writers_of_days.add_skill(ada, getattr(world.cast, name), skill)
    world.standings.catch_up()
    steps = {group.code: group.steps for group in loading.load_groups(world.locomotive, world.clock.now.date())}
    for code, (least, likely, most, hands) in GUESSES.items():
        subassembly = world.locomotive.subassemblies.get(code=code)
        days: dict[str, Any] = {"least": Decimal(least), "likely": Decimal(likely), "most": Decimal(most)}
        writers.guess_work_left(ada, subassembly, **days, hands=hands, steps=steps[code])
    for days_ago in range(84, 0, -21):
        yield days_ago
        world.standings.catch_up()
        today = world.clock.now.date()
        writers.keep(world.locomotive, forecast(loading.OpenWork(world.locomotive, today).workshop(), runs=200), today)
