"""One decision over all that is missing of a subassembly: every place gets it, in one transaction."""

from collections.abc import Collection

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.models import Decision, Position, Subassembly

from .decisions import Following, decide


def missing_places(subassembly: Subassembly) -> list[Position]:
    """The places of it and of its parts that somebody must say a source for."""
    branch = Subassembly.objects.with_all_parts(subassembly.locomotive_id, subassembly.code)
    return list(Position.objects.waiting_for_source(branch).in_words_order())


def decide_on_whole(
    subassembly: Subassembly,
    actor,
    *,
    places: Collection[int],
    outcome: str,
    reason: str,
    route: str = "",
    provisional: bool = False,
) -> list[Decision]:
    """The same for each of these places; one that is refused refuses all."""
    with writing.one_transaction():
        missing = {place.pk: place for place in missing_places(subassembly)}
        if not places:
            raise Refused(Refusal("places", "Places: tick at least one.", "Tick those that the decision is for."))
        if not missing.keys() >= set(places):
            cure = "Look at the list again, then decide."
            raise Refused(Refusal("places", "Places: one of them is no longer missing.", cure))
        return [
            decide(
                actor, position=place, outcome=outcome, reason=reason, provisional=provisional,
                following=Following(route=route),
            )
            for pk, place in missing.items() if pk in places
        ]  # fmt: skip
