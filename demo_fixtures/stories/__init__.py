"""The stories that are not ordinary. Each names its places before its first day, so that the table leaves them alone."""

from collections.abc import Iterator

from ..clock import Story
from ..lives import World
from . import (
    axleboxes,
    boiler,
    boiler_file,
    comings,
    consumables,
    cylinders,
    frames,
    goings,
    jobs,
    lots,
    measuring,
    papers,
    wheels,
)  # fmt: skip

TOLD = (
    measuring, frames, axleboxes, cylinders, wheels, boiler, boiler_file, lots, goings, comings, jobs, papers,
    consumables,
)  # fmt: skip


def stories(world: World) -> Iterator[Story]:
    for module in TOLD:
        for story in module.STORIES:
            yield story(world)
