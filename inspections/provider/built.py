"""What is measured in a place as its piece goes on: its fits, and those of its sizes that are taken there."""

from parts.domain.conceding import never_conceded
from parts.domain.fastening import BuiltFigure, BuiltSize
from parts.domain.plain import capital, mentions
from parts.models import Position

from ..domain.as_built import MEASURED_IN_PLACE, allowed_in_words, judge_built
from ..models import Dimension, Fit, FitLimits, Limits


def built(position: Position) -> list[BuiltSize]:
    fits = list(Fit.objects.at({"in": [position.pk]}).with_limits().order_by("id"))
    sizes = [
        size
        for size in Dimension.objects.of_place(position).for_all().with_limits()
        if mentions(size.name, MEASURED_IN_PLACE)
    ]
    of_fits = FitLimits.objects.in_bulk([fit.limits_id for fit in fits if fit.limits_id])
    of_sizes = Limits.objects.select_related("dimension").in_bulk([size.limits_id for size in sizes if size.limits_id])
    found = [_asked(f"fit_{fit.pk}", f"Clearance, {fit.name}", of_fits.get(fit.limits_id), False) for fit in fits]
    never = never_conceded(position.name)
    return found + [_asked(f"size_{size.pk}", size.name, of_sizes.get(size.limits_id), never) for size in sizes]


def _asked(key: str, name: str, edition, never: bool) -> BuiltSize:
    limits, name = edition.plain() if edition else None, capital(name)

    def judge(typed: str) -> BuiltFigure:
        found = judge_built(typed, limits, *([edition.rule] if isinstance(edition, Limits) else []))
        final = found.beyond_scrapping or (found.outside and never)
        return BuiltFigure(
            key=key, name=name, typed=typed, verdict=found.words, outside=found.outside, final=final
        )  # fmt: skip

    return BuiltSize(key=key, name=name, allowed=allowed_in_words(limits), judge=judge)
