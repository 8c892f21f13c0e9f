"""The pieces of an import: they enter through the one writer, with what a works vouches for."""

from parts.actions.change import EVENT, NewPiece
from parts.actions.perform import carry_out
from parts.domain.import_plan import FITTED
from parts.domain.import_rows import ImportStep, loose_notes, piece_name, piece_notes, piece_origin
from parts.domain.words import LIVE, Destination, State

from .import_places import Places

CAME_FROM_ELSEWHERE = (State.RENEWED, State.IN_THE_MAKING)


class Pieces:
    def __init__(self, places: Places):
        self.places, self.actor = places, places.actor
        self.opened = places.made.opened
        self.steps = [step for step in places.made.steps if step.adds_piece]
        self.own = getattr(places.locomotive, "location", None)
        self.entered: list[int] = []

    def write(self, tell) -> None:
        total = len(self.steps) + len(self.places.made.loose)
        new = [self._piece(step) for step in self.steps] + [self._loose(step) for step in self.places.made.loose]
        self.entered = carry_out([], new, self.actor, settles=False).entered
        for what in ("pieces", "events", "tags"):
            tell(what, total, total)

    def _piece(self, step: ImportStep) -> NewPiece:
        row, known = step.row, step.known
        position, fitted = self.places.positions[step.key], row.state in FITTED
        return self._new(
            step,
            (None if step.outer else self.own) if fitted else self._where(step),
            notes=piece_notes(row),
            matched=known.matched if known else "",
            came_off_id=None if row.state in CAME_FROM_ELSEWHERE else position,
            place_id=position,
            fitted_id=position if fitted else None,
            broken_down=step.key in self.opened and row.state in LIVE,
            before_refit=self._before_refit(row),
        )

    def _loose(self, step: ImportStep) -> NewPiece:
        """Nobody knows where it belongs, only where it lies."""
        return self._new(step, self._where(step), notes=loose_notes(step.row))

    def _where(self, step: ImportStep):
        return self.places.locations[step.location] if step.location else None

    def _new(self, step: ImportStep, location, **columns) -> NewPiece:
        row, fitted = step.row, columns.get("fitted_id")
        columns |= {
            "locomotive_id": self.places.locomotive.pk,
            "name": piece_name(row),
            "quantity": step.quantity,
            "side": row.side,
            "marks": row.marks,
            "works_number": "" if step.code else row.tag,
            "origin": piece_origin(row),
            "origin_evidence": row.origin_evidence,
            "location_id": location.pk if location else None,
            "normal_location_id": location.pk if location and not fitted and not location.away else None,
            "away_since": self.places.day if location and location.away else None,
            "destination": Destination.NOT_SAID.value if row.state is State.WITHDRAWN else "",
            "vouched_state": State(row.state).value,
            "vouched_event": EVENT,
        }
        data = {"row": row.number, "source": self.places.source}
        return NewPiece(word="take over", state=State(row.state), columns=columns, code=step.code, data=data)

    def _before_refit(self, row) -> str:
        """What it is again if it is taken off."""
        if row.state is not State.REFITTED:
            return ""
        return (State.RENEWED if row.origin == "new" else State.ACCEPTED).value
