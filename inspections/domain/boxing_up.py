"""Boxing up: in which order the places of a subassembly are filled, and what must be so before it is closed. Pure."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from core.domain.refusals import Refusal
from parts.domain.fastening import Fastening
from parts.domain.needs import PlaceStatus, Standing
from parts.domain.plain import capital, listed, several
from parts.domain.rows import Piece, Place
from parts.domain.words import State

NAMED = 3
"""So many places are named in a refusal; the rest are counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """A place of the subassembly, how it stands, and how each piece in it is held."""

    place: Place
    standing: Standing
    held: Mapping[int, Fastening]  # by piece

    @property
    def words(self) -> str:
        return self.place.words or self.place.name

    @property
    def counts(self) -> bool:
        return self.standing.status not in (PlaceStatus.ASLEEP, PlaceStatus.NOT_REQUIRED)

    @property
    def refitted(self) -> list[Piece]:
        return [piece for piece in self.place.pieces if piece.state is State.REFITTED]

    @property
    def loose(self) -> list[Piece]:
        """Refitted, and nobody has said how locked. What was left alone in its place was never undone."""
        held = self.held
        return [p for p in self.refitted if not (p.left_alone or held.get(p.id, Fastening()).locked)]

    @property
    def outside(self) -> list[Piece]:
        """Refitted, and measured in its place outside what is allowed, which nobody let stand."""
        return [p for p in self.refitted if self.held.get(p.id, Fastening()).outside]


def in_order(places: Iterable[Place], subassemblies: Sequence[int]) -> list[Place]:
    """As they go together: the subassemblies in this order, in each what has an order of its own after the rest, and
    what goes inside a piece before that piece."""
    rank = {pk: at for at, pk in enumerate(subassemblies)}
    found = sorted(places, key=lambda p: (rank.get(p.subassembly, len(rank)), bool(p.own_order), p.id))
    here = {place.id for place in found}
    inside: dict[int | None, list[Place]] = defaultdict(list)
    for place in found:
        inside[place.part_of if place.part_of in here else None].append(place)

    def walk(outer: int | None) -> Iterator[Place]:
        for place in inside[outer]:
            yield from walk(place.id)
            yield place

    return list(walk(None))


def against(inside: Iterable[Inside]) -> list[Refusal]:
    """What keeps the subassembly from being boxed up."""
    counted = [one for one in inside if one.counts]
    if not counted:
        return [Refusal("empty", "Nothing is required here.", "Box up a subassembly that has places.")]
    return [
        Refusal(code, told, f"{cure}: {_named([one.words for one in these])}.")
        for code, told, cure, these in keeping_open(counted)
    ]


def keeping_open(inside: Iterable[Inside]) -> Iterator[tuple[str, str, str, list[Inside]]]:
    """What is still to be mended: its code, in words how many places it is, what mends it, and each of them."""
    counted = [one for one in inside if one.counts]
    asked = (
        ("on-trial", "on trial", "Refit for good", lambda one: one.standing.on_trial),
        ("doubt", "in doubt", "Have looked at again", lambda one: one.standing.in_doubt),
        ("refitted", "not refitted", "Refit", lambda one: one.standing.status is not PlaceStatus.REFITTED),
        ("built", "outside as measured there", "Put right", lambda one: bool(one.outside)),
        ("locked", "not locked", "Lock", lambda one: bool(one.loose)),
    )
    for code, word, cure, so in asked:
        if these := [one for one in counted if so(one)]:
            yield code, f"{capital(several(len(these), 'place is', 'places are'))} {word}.", cure, these


def miscounted(what: str, counted_in: int, counted_out: int) -> Refusal | None:
    """Tools or rags: as many come out as went in."""
    if counted_in == counted_out:
        return None
    far = f"{counted_in} went in and {counted_out} came out"
    name = f"{what}_out"
    return Refusal(
        name, f"{capital(what)} counted out: {far}.", "Find what is missing, or count again, before closing."
    )


def _named(words: Sequence[str]) -> str:
    more = len(words) - NAMED
    return listed(words[:NAMED]) if more <= 0 else f"{', '.join(words[:NAMED])} and {more} more"
