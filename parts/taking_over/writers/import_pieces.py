"""The pieces of an import: components, the events that take them over, their movements and tags, written in bulk."""

from core.models import Event
from parts.domain.import_plan import FITTED
from parts.domain.import_rows import Step, piece_name, piece_notes, piece_origin
from parts.domain.words import LIVE, Destination, State
from parts.models import Component, Movement, Tag
from parts.tags.writers import fresh_codes

from . import bulk
from .import_known import TAKE_OVER
from .import_places import Places

CAME_FROM_ELSEWHERE = (State.RENEWED, State.IN_THE_MAKING)


class Pieces:
    def __init__(self, places: Places):
        self.places, self.actor, self.at = places, places.actor, places.at
        self.opened = places.made.opened
        self.steps = [step for step in places.made.steps if step.adds_piece]
        self.own = getattr(places.locomotive, "location", None)

    def write(self, tell) -> None:
        total = len(self.steps)
        pieces, events = bulk.take_ids(Component, total), bulk.take_ids(Event, total)
        rows = [self._piece(*each) for each in zip(self.steps, pieces, events, strict=True)]
        bulk.insert(Component, rows)
        tell("pieces", total, total)
        bulk.insert(Event, map(self._event, self.steps, rows))
        tell("events", total, total)
        moved = [row for row in rows if row["location_id"]]
        ids = bulk.take_ids(Movement, len(moved))
        bulk.insert(Movement, map(self._movement, ids, moved))
        self._tags(pieces)
        tell("tags", total, total)

    def _piece(self, step: Step, pk: int, event: int) -> dict:
        row, known = step.row, step.known
        position = self.places.positions[step.key]
        location = self._location(step)
        fitted = row.state in FITTED
        return {
            "id": pk,
            "locomotive_id": self.places.locomotive.pk,
            "name": piece_name(row),
            "quantity": step.quantity,
            "state": row.state.value,
            "since": self.places.day,
            "side": row.side,
            "marks": row.marks,
            "works_number": "" if step.code else row.tag,
            "origin": piece_origin(row),
            "origin_evidence": row.origin_evidence,
            "notes": piece_notes(row),
            "matched": known.matched if known else "",
            "came_off_id": None if row.state in CAME_FROM_ELSEWHERE else position,
            "place_id": position,
            "fitted_id": position if fitted else None,
            "broken_down": step.key in self.opened and row.state in LIVE,
            "location_id": location.pk if location else None,
            "normal_location_id": location.pk if location and not fitted and not location.away else None,
            "away_since": self.places.day if location and location.away else None,
            "destination": Destination.NOT_SAID.value if row.state is State.WITHDRAWN else "",
            "vouched_state": row.state.value,
            "vouched_event": event,
            "last_event": event,
            "before_refit": self._before_refit(row),
        }

    def _before_refit(self, row) -> str:
        """What it is again if it is taken off."""
        if row.state is not State.REFITTED:
            return ""
        return (State.RENEWED if row.origin == "new" else State.ACCEPTED).value

    def _location(self, step: Step):
        if step.row.state in FITTED:
            return None if step.outer else self.own
        return self.places.locations[step.location] if step.location else None

    def _event(self, step: Step, piece: dict) -> dict:
        return self.places.event(
            TAKE_OVER,
            id=piece["last_event"],
            component_id=piece["id"],
            position_id=piece["place_id"],
            to_state=piece["state"],
            data={"row": step.row.number, "source": self.places.source},
        )

    def _movement(self, pk: int, piece: dict) -> dict:
        return {
            "id": pk,
            "event_id": piece["last_event"],
            "component_id": piece["id"],
            "went_to_id": piece["location_id"],
            "by_id": self.actor.pk,
            "at": self.at,
        }

    def _tags(self, pieces) -> None:
        """Tags that a row names are tied; the other pieces have a code issued."""
        named = {step.code: piece for step, piece in zip(self.steps, pieces, strict=True) if step.code}
        for tag in Tag.objects.select_for_update().filter(code__in=named):
            tag.component_id, tag.current, tag.tied_by = named[tag.code], True, self.actor
            tag.save()
        bare = [piece for step, piece in zip(self.steps, pieces, strict=True) if not step.code]
        fresh = zip(bulk.take_ids(Tag, len(bare)), _codes(len(bare)), bare, strict=True)
        common = {"current": True, "issued": self.at, "tied_by_id": self.actor.pk}
        bulk.insert(Tag, [{"id": pk, "code": code, "component_id": piece, **common} for pk, code, piece in fresh])


def _codes(count: int) -> set[str]:
    """As many fresh codes, asked for in portions that every SQLite takes."""
    codes: set[str] = set()
    while len(codes) < count:
        codes.update(fresh_codes(min(count - len(codes), 10_000)))
    return codes
