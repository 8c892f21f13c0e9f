"""What the pages of fits show: both sides as last measured, the clearance, its verdict, and what to make."""

from dataclasses import dataclass

from inspections.fits.judging import Pair, judged
from parts.models import Component, Locomotive, Position

from ..domain.fits import Make, clearances, what_to_make
from ..domain.pairing import Proposed, SizeToPair, propose
from ..domain.two_units import in_both
from ..models import Dimension, Fit, Limits, Measurement

WORST_FIRST = {True: 0, None: 1, False: 2}


@dataclass(frozen=True, kw_only=True)
class FitSide:
    """One piece of a pair: what its place calls it, and what was last measured on it."""

    what: str  # "Hole" or "Shaft"
    dimension: Dimension
    measured: list[Measurement]
    size: str  # least and most in both units
    settled: bool
    unmeasured: tuple[str, ...] = ()  # the tags of the pieces there, where it was not measured


@dataclass(frozen=True, kw_only=True)
class PairRow:
    """One pair in a list. `outside`: it needs to be made or decided; None where it is not known yet."""

    pair: Pair
    words: str
    outside: bool | None

    @property
    def fit(self) -> Fit:
        return self.pair.fit


def line_of(pair: Pair) -> PairRow:
    if pair.verdict is not None:
        outside = pair.verdict.outside and pair.concession is None
        words = pair.verdict.sentence
        if pair.concession:
            words += ", under a concession"
        return PairRow(pair=pair, words=words, outside=outside)
    wanting = [
        side.position.words for side, there in ((pair.fit.hole, pair.hole), (pair.fit.shaft, pair.shaft)) if not there
    ]
    return PairRow(pair=pair, words=f"not measured yet: {' and '.join(wanting)}", outside=None)


def lines_of(locomotive: Locomotive) -> list[PairRow]:
    """Every pair of a locomotive: what is out first, then what is not measured yet."""
    lines = [line_of(pair) for pair in judged(Fit.objects.of_locomotive(locomotive))]
    return sorted(lines, key=lambda line: WORST_FIRST[line.outside])


def counted(lines: list[PairRow]) -> dict[str, int]:
    return {
        "out of limits": sum(line.outside is True for line in lines),
        "not measured yet": sum(line.outside is None for line in lines),
        "good": sum(line.outside is False for line in lines),
    }


def pair_of(fit: Fit) -> Pair:
    [pair] = judged(Fit.objects.whatever_its_use(fit.pk))
    return pair


def sides(pair: Pair) -> list[FitSide]:
    taken = Measurement.objects.for_sides([one.pk for one in (*pair.hole, *pair.shaft)])
    return [
        _side(what, dimension, [taken[one.pk] for one in measured], pair)
        for what, dimension, measured in (
            ("Hole", pair.fit.hole, pair.hole), ("Shaft", pair.fit.shaft, pair.shaft)
        )
    ]  # fmt: skip


def _side(what, dimension, measured, pair: Pair) -> FitSide:
    size = ""
    if measured:
        least, most = min(one.least for one in measured), max(one.most for one in measured)
        unit = pair.limits.unit if pair.limits else dimension.unit
        size = in_both(least, unit) if least == most else f"{in_both(least, unit)} to {in_both(most, unit)}"
    return FitSide(
        what=what,
        dimension=dimension,
        measured=measured,
        size=size,
        settled=pair.settled[dimension.position_id],
        unmeasured=() if measured or pair.fit.retired else _tags_at(dimension.position),
    )


def _tags_at(place: Position) -> tuple[str, ...]:
    """Of the pieces there; of what is looked at inside a whole piece, that of the whole."""
    there = place.pieces.live()
    if place.part_of_id and Position.objects.looked_at_inside().filter(pk=place.pk).exists() and not there.exists():
        there = Component.objects.live().filter(place=place.part_of_id, broken_down=False)
    return tuple(piece.code for piece in there.with_codes() if piece.code)


def to_make(pair: Pair) -> list[Make]:
    """What brings the pair back to the fit wanted: nothing to say until both sides are measured."""
    if pair.verdict is None or pair.limits is None:
        return []
    hole, shaft = pair.sides
    own = {size.pk: size.limits_id for size in Dimension.objects.both_of(pair.fit).with_limits()}
    limits = Limits.objects.select_related("dimension").in_bulk([pk for pk in own.values() if pk])
    mine = [limits[own[pk]].plain() if own.get(pk) else None for pk in (pair.fit.hole_id, pair.fit.shaft_id)]
    return what_to_make(hole, shaft, pair.limits.plain(), *mine)


def is_to_be_made(pair: Pair) -> bool:
    """Outside what is wanted: a pair that is good as new needs nothing made."""
    if pair.verdict is None or pair.limits is None:
        return False
    least, most = clearances(*pair.sides)
    return least < pair.limits.least or most > pair.limits.most


def proposals(locomotive: Locomotive) -> list[Proposed]:
    sizes = [
        SizeToPair(
            number=one.pk, name=one.name, place=one.position.name, axle=one.position.axle, side=one.position.side,
            wears=one.wears,
        )
        for one in Dimension.objects.of_locomotive(locomotive)
    ]  # fmt: skip
    there = frozenset((fit.hole_id, fit.shaft_id) for fit in Fit.objects.of_locomotive(locomotive))
    return propose(sizes, there)


def fits_at(position: Position) -> list[PairRow]:
    return [line_of(pair) for pair in judged(Fit.objects.at({"pk": position.pk}).with_limits())]


def latest_of(pair: Pair) -> list[Measurement]:
    """The measurement on either side that a concession names: of a lot, the one signed last."""
    numbers = [max(one.pk for one in side) for side in (pair.hole, pair.shaft)]
    taken = Measurement.objects.for_sides(numbers)
    return [taken[number] for number in numbers]
