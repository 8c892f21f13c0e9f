"""Joints, packings and pins: some on the shelf, some ordered and late, one sort short."""

from typing import Any

from parts.consumables import writers
from parts.models import Consumable

from ..lives import World

ON_THE_SHELF = {"split pin": (60, 40), "worsted": (4, 2), "union washer": (30, 12), "gauge glass ring": (2, 8)}
"""By name: how many are there, and the least stock."""


def shelf(world: World):
    nell = world.cast.nell
    yield 150
    for consumable in Consumable.objects.filter(name__in=ON_THE_SHELF).order_by("name", "size"):
        there, least = ON_THE_SHELF[consumable.name]
        kept: dict[str, Any] = {"name": consumable.name, "size": consumable.size, "unit": consumable.unit, "note": ""}
        writers.edit(consumable, nell, **kept, least=least, location=world.places["crate 13"])
        writers.put_in_stock(consumable, nell, there, "Counted when the shelf was laid out.")
    yield 24
    rings = Consumable.objects.get(name="gauge glass ring")
    writers.order(rings, nell, 12, who="Pellow & Dray, joints (invented)", promised=world.clock.ago(6))
    yield 9
    pins = Consumable.objects.get(name="split pin")
    writers.take(pins, world.cast.bram, 4, "Spring hangers, driving axle")


STORIES = (shelf,)
