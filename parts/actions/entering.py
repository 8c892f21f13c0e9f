"""Pieces that enter the register, as the one writer carries it out: rows, events, movements and tags, in bulk."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from core.log.idempotency import under_way
from core.models import Event, Person, bulk

from ..domain.states import PieceAction, piece_action
from ..models import Component, Movement
from . import tags
from .change import EVENT, NewPiece
from .writing import Entry, about, open_overhauls
from .writing import write as write_events


def write(new: Sequence[NewPiece], actor: Person, today: date) -> list[int]:
    """The numbers of the pieces, in the order given."""
    ids = bulk.take_ids(Component, len(new))
    overhauls = open_overhauls(*{piece.columns["locomotive_id"] for piece in new if piece.columns.get("locomotive_id")})
    entries = [_entry(piece, pk, overhauls) for pk, piece in zip(ids, new, strict=True)]
    events = write_events(actor, entries)
    rows = [_row(*each, today) for each in zip(ids, new, events, strict=True)]
    bulk.insert(Component, rows)
    if arrival := under_way.get():
        arrival.seen = events[-1].pk
    _movements(rows, events, actor)
    tags.tie_or_issue(list(zip(ids, (piece.code for piece in new), strict=True)), actor)
    return ids


def _entry(piece: NewPiece, pk: int, overhauls: dict[int, int]) -> Entry:
    columns = piece.columns
    things = {"component_id": pk, "position_id": columns.get("place_id"), "locomotive_id": columns.get("locomotive_id")}
    return Entry(
        word=piece.word,
        about=about(overhauls, **things),
        to_state=piece.state.value,
        remark=piece.remark,
        data=piece.data,
    )


def _row(pk: int, piece: NewPiece, event: Event, today: date) -> dict[str, Any]:
    action: PieceAction = piece_action(piece.word)
    row = {"since": today, **{name: event.pk if value is EVENT else value for name, value in piece.columns.items()}}
    if action.voids_exams:
        row["bared_event"] = event.pk
    return row | {"id": pk, "state": piece.state.value, "last_event": event.pk}


def _movements(rows: list[dict[str, Any]], events: list[Event], actor: Person) -> None:
    moved = [(row, event) for row, event in zip(rows, events, strict=True) if row.get("location_id")]
    ids = bulk.take_ids(Movement, len(moved)) if moved else []
    bulk.insert(
        Movement,
        [
            {
                "id": pk,
                "event_id": event.pk,
                "component_id": row["id"],
                "went_to_id": row["location_id"],
                "promised_back": row.get("promised_back"),
                "by_id": actor.pk,
                "at": event.at,
            }
            for pk, (row, event) in zip(ids, moved, strict=True)
        ],
    )
