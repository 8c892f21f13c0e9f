"""Plate and bar: a lot with its number and certificate. What is cut from it carries both, and pieces that are welded up
become one built-up piece."""

from collections.abc import Sequence

from core.domain.refusals import Refusal, Refused
from core.models.longest import longest

from ..actions import writing
from ..actions.change import Follows, NewPiece
from ..actions.perform import carry_out, followers
from ..actions.refresh import refresh
from ..actions.tags import free_tag
from ..actions.writing import lying
from ..domain.plain import capital
from ..domain.words import Destination, Origin, State
from ..entering.writers import pieces
from ..models import Component, Location, Locomotive, Position, Renewal, Repair

NUMBER, PAPERS = (longest(Component, name) for name in ("cast_number", "papers"))
LET_IN = longest(Repair, "let_in")


def receive_stock(
    actor,
    *,
    name: str,
    cast_number: str,
    papers: str = "",
    quantity: int = 1,
    code: str = "",
    location: Location | None = None,
    locomotive: Locomotive | None = None,
    notes: str = "",
) -> Component:
    """Plate, bar or block comes in: in the making, for no place yet, with its number and certificate."""
    if not cast_number.strip():
        raise Refused(
            Refusal(
                "cast_number", "Plate number: nothing was written.", "Copy the number stamped on it or on its paper."
            )
        )
    described = {"cast_number": cast_number, "papers": papers, "notes": notes}
    with writing.one_transaction():
        return _enter(actor, name, quantity, code, location, locomotive, described)


def cut_from(
    stock: Component,
    actor,
    *,
    name: str,
    place: Position | None = None,
    quantity: int = 1,
    code: str = "",
    location: Location | None = None,
    renewal: Renewal | None = None,
) -> Component:
    """A piece is cut from plate or bar: it carries the number and the certificate of what it came from. With a place it
    is begun for that; without, it is to be welded up with others."""
    with writing.one_transaction():
        stock = writing.locked(stock.pk)
        _may_be_cut(stock)
        described = {"cast_number": stock.cast_number, "papers": stock.papers}
        location = location or stock.location
        if place is not None:
            piece = pieces.start_on(
                actor, place=place, name=name, code=code, location=location, quantity=quantity, renewal=renewal,
                reason=f"cut from {stock.name}", **described,
            )  # fmt: skip
        else:
            piece = _enter(actor, name, quantity, code, location, stock.locomotive, described)
            piece.renewal = renewal
        piece.cut_from = stock
        piece.save(update_fields=["cut_from", "renewal"])
        return piece


def weld_up(
    joined: list[Component],
    actor,
    *,
    name: str,
    place: Position,
    procedure: str,
    welder: str,
    code: str = "",
    location: Location | None = None,
    renewal: Renewal | None = None,
) -> Component:
    """Pieces in the making become one built-up piece for a place. It carries the numbers of all of them; they stay on
    record as what it was made from."""
    with writing.one_transaction():
        joined = [writing.locked(piece.pk) for piece in joined]
        found = list(_may_be_joined(joined, procedure, welder))
        if found:
            raise Refused(*found)
        own = [piece for piece in joined if piece.place_id == place.pk]
        for piece in own:  # it makes way for the whole
            Component.objects.filter(pk=piece.pk).update(place=None)
            piece.place = None
        whole = pieces.start_on(
            actor, place=place, name=name, code=code, location=location or joined[0].location, renewal=renewal,
            reason=f"welded up by {welder.strip()}, procedure {procedure.strip()}",
            cast_number=_together([piece.cast_number for piece in joined], NUMBER),
            papers=_together([piece.papers for piece in joined], PAPERS),
        )  # fmt: skip
        _become_part(joined, whole, actor, "welded up into")
        refresh(place.pk)
        return whole


def is_stock(component: Component) -> bool:
    """Plate or bar, or something cut from it that is to be welded up: in the making, for no place."""
    return component.state == State.IN_THE_MAKING and component.place_id is None


def _enter(actor, name, quantity, code, location, locomotive, described):
    writing.allow(actor, "start on")
    name = " ".join(name.split())
    if not name:
        raise Refused(Refusal("name", "What it is: nothing was written.", "Name it in a few words."))
    if quantity < 1:
        raise Refused(Refusal("quantity", "How many: it must be at least 1.", "Write a whole number."))
    columns = {
        "locomotive_id": locomotive.pk if locomotive else None,
        "name": name,
        "quantity": quantity,
        "origin": Origin.NEW.value,
        **lying(location, today=writing.today()),
        **{field: " ".join(value.split()) for field, value in described.items()},
    }
    code = free_tag(code).code if code else ""
    piece = NewPiece(word="start on", state=State.IN_THE_MAKING, columns=columns, code=code)
    (number,) = carry_out([], [piece], actor).entered
    return Component.objects.get(pk=number)


def _may_be_cut(stock):
    if not is_stock(stock):
        begun = stock.state == State.IN_THE_MAKING
        sentence = f"{capital(stock.name)} is {f'begun for {stock.place.words}' if begun else stock.state}."
        raise Refused(Refusal("state", sentence, "Choose plate or bar that is here: only that can be cut."))
    if not stock.cast_number:
        cure = "Enter its number first: pieces cut from it get the same number."
        raise Refused(Refusal("cast_number", f"{capital(stock.name)} has no plate number.", cure))


def _may_be_joined(joined, procedure, welder):
    if len({piece.pk for piece in joined}) < 2:
        yield Refusal("pieces", "Pieces: fewer than two.", "Choose at least two pieces to weld up.")
    for piece in joined:
        if piece.state != State.IN_THE_MAKING:
            sentence = f"Pieces: {piece.name} is {piece.state}."
            yield Refusal("pieces", sentence, "Only pieces in the making are welded up.")
    if not (procedure.strip() and welder.strip()):
        yield Refusal("procedure", "Welding: the procedure and the welder are missing.", "Record both.")


def let_in(pieces_cut: Sequence[Component], whole: Component, actor) -> None:
    """What was cut from plate or bar is let into an old piece by a repair, inside the transaction of its end."""
    for piece in [writing.locked(piece.pk) for piece in pieces_cut]:
        if piece.pk == whole.pk or not (is_stock(piece) and piece.cut_from_id):
            sentence = f"Cut for it: {piece.name} is no longer in stock."
            raise Refused(Refusal("plates", sentence, "Choose a piece that was cut from plate or bar and is in stock."))
    _become_part(pieces_cut, whole, actor, "let into")


def numbers_of(pieces_cut: Sequence[Component]) -> str:
    """What was let in, in words: each by its name and the number it carries."""
    return _together([f"{piece.name} ({piece.cast_number})" for piece in pieces_cut], LET_IN)


def _become_part(pieces_joined, whole: Component, actor, how: str) -> None:
    """They stay on record as what the whole was made from."""
    built_in = {"destination": Destination.BUILT_IN.value, "joined_into": whole, "place": None}
    follows = [
        Follows(
            word="withdraw",
            piece=piece,
            remark=f"{how} {whole.name}",
            data={"destination": Destination.BUILT_IN.value, "into": whole.pk},
            changes=built_in,
        )
        for piece in pieces_joined
    ]
    carry_out(followers(follows, actor), [], actor)


def _together(texts: list[str], most: int) -> str:
    """Each once, as many as the field keeps; the pieces themselves keep all of them."""
    words = ""
    for text in dict.fromkeys(text for text in texts if text):
        longer = f"{words}, {text}" if words else text
        if len(longer) > most - len(", and more"):
            return f"{words}, and more" if words else text[:most]
        words = longer
    return words
