"""The measuring room: what is measured and judged by what, and an instrument that came back from calibration."""

from .. import sizes
from ..lives import World


def the_sheets(world: World):
    yield 338
    sizes.set_up(world.locomotive, world.cast, world.clock)


def calibrated_again(world: World):
    for code, (on, _) in sizes.CALIBRATED_AGAIN.items():
        yield on
        sizes.calibrate_again(code, world.cast, world.clock)


STORIES = (the_sheets, calibrated_again)
