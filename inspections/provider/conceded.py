"""What stands under a concession on a locomotive: it goes into service like that, and is looked at again by a day."""

from dataclasses import dataclass
from datetime import date

from parts.models import Component, Locomotive

from .loading import load_fits, load_sizes


@dataclass(frozen=True, kw_only=True)
class Conceded:
    what: str
    until: date | None
    piece: Component | None = None  # none where it is a fit


def conceded_on(locomotive: Locomotive) -> list[Conceded]:
    """Sizes and fits, whichever comes first to be looked at again. The number of queries does not grow with them."""
    of_sizes = {"place__locomotive": locomotive.pk, "examinations__measurements__concessions__isnull": False}
    pieces = list(Component.objects.live().filter(**of_sizes).distinct().with_codes().order_by("id"))
    sizes = load_sizes({"pk__in": [piece.pk for piece in pieces]})
    found = [
        Conceded(what=size.sentence, until=size.conceded_until, piece=piece)
        for piece in pieces
        for size in sizes.of_piece(piece)
        if size.concession and size.event > piece.bared_event
    ]
    fits = {fit.number: fit for at in load_fits({"locomotive": locomotive.pk}).values() for fit in at if fit.concession}
    found += [Conceded(what=fit.sentence, until=fit.conceded_until) for fit in fits.values()]
    return sorted(found, key=lambda one: (one.until or date.max, one.what))
