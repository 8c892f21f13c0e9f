"""Writers of stock-takes: begun for one place, pieces seen one by one, and confirmed at the end or given up. Nothing
of a count changes where anything lies before it is confirmed."""

from dataclasses import dataclass

from django.db.models import Q
from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions.refresh import put_off

from ..actions import writing
from ..domain.plain import capital, several
from ..domain.stocktaking import Counted, Outcome, mark_of, outcome
from ..domain.words import State
from ..models import Component, Location, Movement, Sighting, StockTake, StockTakeLine
from ..models.locations import BETWEEN
from ..stores import writers as moving


@dataclass
class CountedPiece:
    """One piece of a count, as it stands now."""

    piece: Component
    outcome: Outcome
    seen: Sighting | None
    picture: str = ""  # for the page: the name of its latest photo

    @property
    def may_lie_here(self) -> bool:
        """What is fitted lies where it is fitted, until it is taken off."""
        return moving.stays_put(self.piece) is None


def begin(location: Location, actor, *, below: bool = True) -> StockTake:
    """Count this place. Where a count of it is open, that one: two people count one rack together."""
    writing.allow(actor, "stock-take")
    with writing.one_transaction():
        location = Location.objects.select_for_update(of=("self",)).get(pk=location.pk)
        if location.retired or location.locomotive_id:
            cure = "Choose a crate, a shelf or a rack."
            raise Refused(Refusal("into", f"Where: {location} is not counted.", cure))
        there = StockTake.objects.open().filter(location=location).first()
        if there:
            return there
        stocktake = StockTake.objects.create(
            location=location, below=below, begun_by=actor, begun_at=timezone.now(),
            begun_event=Event.objects.newest_number(),
        )  # fmt: skip
        writing.log(actor, "begin stock-take", location=location, data={"stocktake": stocktake.pk})
        return stocktake


def see(stocktake: StockTake, piece: Component, actor, *, by_eye: bool = False) -> bool:
    """It is there. Says whether nobody had seen it yet in this count."""
    writing.allow(actor, "move")
    with writing.one_transaction():
        stocktake = _open(stocktake)
        seen, new = Sighting.objects.get_or_create(
            stocktake=stocktake,
            component=piece,
            defaults={
                "by": actor,
                "at": timezone.now(),
                "by_eye": by_eye,
                "after_event": Event.objects.newest_number(),
            },
        )
        if seen.by_eye and not by_eye:
            seen.by_eye = False  # somebody has read its tag since
            seen.save(update_fields=["by_eye"])
        return new


def see_not(stocktake: StockTake, piece: Component, actor) -> None:
    """It was ticked by mistake."""
    writing.allow(actor, "move")
    with writing.one_transaction():
        _open(stocktake).sightings.filter(component=piece).delete()


def give_up(stocktake: StockTake, actor, *, reason: str) -> None:
    """It is not finished; nothing is changed by it."""
    writing.allow(actor, "stock-take")
    reason = " ".join(reason.split())
    with writing.one_transaction():
        stocktake = _open(stocktake)
        if not reason or len(reason) > 200:
            raise Refused(Refusal("reason", "Reason: write why, in a few words.", ""))
        _close(stocktake, actor, "give up stock-take", remark=reason)
        stocktake.abandoned = reason
        stocktake.save()


def lines_of(stocktake: StockTake) -> list[CountedPiece]:
    """Every piece that is or was to be there, or was seen there, by name, with what would come of it now."""
    places = _places(stocktake)
    seen = {sighting.component_id: sighting for sighting in stocktake.sightings.select_related("by")}
    moved = _moves(stocktake, places)
    pieces = (
        Component.objects.filter(
            Q(pk__in={*seen, *moved.left}) | Q(location__in=places, fitted=None) & ~Q(state=State.WITHDRAWN.value)
        )
        .with_codes()
        .select_related("location", "place", "fitted__part_of")
        .order_by("name", "id")
    )
    return [
        CountedPiece(piece, outcome(_counted(stocktake, piece, places, seen.get(piece.pk), moved)), seen.get(piece.pk))
        for piece in pieces
    ]


def _counted(stocktake, piece: Component, places, sighting: Sighting | None, moved: "_Moves") -> Counted:
    loose = piece.fitted_id is None
    since = sighting.after_event if sighting else stocktake.begun_event
    return Counted(
        here=loose and piece.location_id in places,
        seen=sighting is not None,
        lost=loose and (piece.missed_on is not None or piece.location_id is None),
        moved_since=max(moved.of_pieces.get(piece.pk, 0), moved.of_places.get(piece.location_id or 0, 0)) > since,
    )


@dataclass
class _Moves:
    """The last move, by its event's number, of pieces and of crates with what is in them, since the counting began."""

    of_pieces: dict[int, int]
    of_places: dict[int, int]
    left: set[int]  # pieces that lay there and were taken somewhere else


def _moves(stocktake, places) -> _Moves:
    since = Movement.objects.filter(event__gt=stocktake.begun_event).order_by("event")
    of_pieces, of_places, left = {}, {}, set()
    for piece, came_from, event in since.filter(component__isnull=False).values_list("component", "came_from", "event"):
        of_pieces[piece] = event
        if came_from in places:
            left.add(piece)
    crates = list(since.filter(crate__isnull=False).select_related("crate"))
    gone = set()
    for place in Location.objects.with_all_inside([move.crate for move in crates]):
        for move in crates:
            if move.crate and f"{place.path}{BETWEEN}".startswith(f"{move.crate.path}{BETWEEN}"):
                of_places[place.pk] = move.event_id
                if move.came_from_id in places:
                    gone.add(place.pk)
    left |= set(Component.objects.in_crates(gone).values_list("pk", flat=True))
    return _Moves(of_pieces, of_places, left)


def _places(stocktake) -> set[int]:
    at = stocktake.location
    inside = Q(pk=at.pk) | Q(path__startswith=f"{at.path}{BETWEEN}") if stocktake.below else Q(pk=at.pk)
    return set(Location.objects.filter(inside).values_list("pk", flat=True))


def confirm(stocktake: StockTake, actor, *, mark: str, leave=()) -> list[Refusal]:
    """Now it holds: what was not seen is missed, what had been lost is found, and what should be elsewhere lies here,
    but for those in `leave`, which stay on record as seen. Answers which could not be recorded as lying here."""
    writing.allow(actor, "stock-take")
    with writing.one_transaction(), put_off():
        stocktake = _open(stocktake)
        lines, places = lines_of(stocktake), _places(stocktake)
        if mark != mark_of((line.piece.pk, line.outcome) for line in lines):
            sentence = "Something was seen or moved after you opened the page."
            raise Refused(Refusal("stale", sentence, "Nothing was changed. Look at the lists again, then confirm."))
        not_moved: list[Refusal] = []
        rows = []
        for line in lines:
            was_at = line.piece.location.path if line.piece.location else ""
            moved = False
            if line.outcome is Outcome.MISSING:
                moving.missed(line.piece, actor, str(stocktake.location), {"stocktake": stocktake.pk})
            elif line.outcome is Outcome.FOUND or (
                line.outcome is Outcome.STRAY and line.may_lie_here and line.piece.pk not in leave
            ):
                moved = _lies_here(line, stocktake, places, actor, not_moved)
            rows.append(
                StockTakeLine(
                    stocktake=stocktake, component=line.piece, outcome=line.outcome.value, name=line.piece.called[:160],
                    code=line.piece.code or "", was_at=was_at, moved=moved,
                )
            )  # fmt: skip
        StockTakeLine.objects.bulk_create(rows)
        counts = {word.value: sum(line.outcome is word for line in lines) for word in Outcome}
        told = [several(counts[word.value], word.value, word.value) for word in Outcome if counts[word.value]]
        _close(stocktake, actor, "stock-take", remark=", ".join(told) or "nothing was there", data=counts)
        stocktake.save()
        return not_moved


def _lies_here(line: CountedPiece, stocktake, places, actor, not_moved: list[Refusal]) -> bool:
    piece, at = line.piece, stocktake.location
    if line.outcome is Outcome.FOUND and piece.location_id in places:
        moving.found_again(writing.locked(piece.pk), actor, remark=str(stocktake))
        return False
    try:
        moving.move(piece, at, actor, remark=f"seen there at the {stocktake}")
        return True
    except Refused as refused:
        not_moved += [one.naming(f"{capital(piece.name)} {piece.code or ''}") for one in refused.refusals]
        return False


def _close(stocktake, actor, action, *, remark, data=None) -> None:
    event = writing.log(
        actor, action, location=stocktake.location, remark=remark, data={"stocktake": stocktake.pk, **(data or {})}
    )
    stocktake.closed_by, stocktake.closed_at = actor, event.at


def _open(stocktake: StockTake) -> StockTake:
    """The count, held against other writers, if it is open still."""
    stocktake = StockTake.objects.select_for_update(of=("self",)).select_related("location").get(pk=stocktake.pk)
    if stocktake.closed_at:
        sentence = f"This count of {stocktake.location} is closed."
        raise Refused(Refusal("closed", sentence, "Begin another one to count again."))
    return stocktake
