"""A count that was confirmed by mistake, as if it had been given up; its record stays."""

from core.models import Event

from ..models import StockTake

REACTIONS = ()


def given_up(event: Event, undone: Event) -> None:
    """What it said of each piece, the events of the pieces put back."""
    StockTake.objects.filter(pk=event.data["stocktake"]).update(abandoned=f"Undone: {undone.actor} confirmed too early")


UNDOES = {"stock-take": given_up}
