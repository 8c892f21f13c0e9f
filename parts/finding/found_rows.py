"""What was found, as rows to read: what each is called, where it lies, its state and its need today."""

from dataclasses import dataclass

from django.db.models import Max
from django.urls import reverse

from core.models import EventSubject

from ..domain.plain import capital
from ..domain.words import Need, State
from ..models import Component, Drawing, Firm, Location, Locomotive, Pattern, Position, Subassembly

PRINTED = "print labels"
"""The one act that is no sign of somebody having had the piece in hand."""


@dataclass(frozen=True, kw_only=True)
class Row:
    """One thing that was found. What its kind does not have is empty."""

    thing: int
    title: str
    href: str
    about: str = ""  # what stands beside or under its name
    code: str = ""
    state: str = ""
    need: str = ""
    looked: object = None  # when somebody last had it in hand


def rows_of(kind: str, ids: list[int], today) -> list[Row]:
    """The things of one kind, in the order of these numbers; one that is gone since is left out."""
    found = READ[kind](ids, today)
    return [found[pk] for pk in ids if pk in found]


def piece_rows(pieces: list[Component], today) -> dict[int, Row]:
    needs = needs_today([piece.place for piece in pieces if piece.place], today)
    looked = last_in_hand([piece.pk for piece in pieces])
    return {
        piece.pk: Row(
            thing=piece.pk,
            title=_called(piece),
            href=reverse("tag", args=[piece.code]) if piece.code else "",
            about=" · ".join(filter(None, [_meant_for(piece), lies(piece)])),
            code=piece.code or "",
            state=piece.state,
            need=needs.get(piece.place_id, "") if piece.state != State.WITHDRAWN else "",
            looked=looked.get(piece.pk),
        )
        for piece in pieces
    }


def _called(piece: Component) -> str:
    """By the words of its place where that has the same name: they say which of several it is."""
    name = piece.place.words if piece.place and piece.place.name == piece.name else piece.name
    return capital(name) + (f" × {piece.quantity}" if piece.quantity > 1 else "")


def _meant_for(piece: Component) -> str:
    if piece.place is None:
        return "for no place yet"
    return "" if piece.place.name == piece.name else f"for {piece.place.words}"


def lies(piece: Component) -> str:
    """Where it lies, in a few words; its own page says more."""
    if piece.state == State.WITHDRAWN and piece.location is None:
        return piece.destination
    if piece.fitted_id and piece.fitted.part_of_id:
        return f"fitted in the {piece.fitted.part_of.words}"
    if piece.fitted_id:
        return piece.location.path if piece.location else "in its place"
    if piece.missed_on and piece.location:
        return f"missed; last known: {piece.location.path}"
    return piece.location.path if piece.location else "nobody has recorded where"


def needs_today(places: list[Position], today) -> dict[int, str]:
    """What each place needs, under its number."""
    stand = {place.pk: place.stands_on(today) for place in places}
    return {pk: need for pk, (word, need) in stand.items() if word in ("blocked", "refitted")}


def places_in_need(need: Need, today):
    """Every place in use that leads with this need today."""
    changed = Position.objects.changed_by(today)
    now = [place.pk for place in changed if place.stands_on(today)[1] == need]
    stored = Position.objects.waiting_for([need]).exclude(pk__in=changed.values("pk"))
    return stored | Position.objects.in_use().by_numbers(now)


def last_in_hand(ids: list[int]) -> dict:
    """When somebody last did, recorded or signed anything about each piece, printing its tag aside."""
    about = EventSubject.objects.filter(kind="piece", number__in=ids).exclude(event__action=PRINTED)
    return dict(about.values_list("number").annotate(last=Max("event__at")).order_by())


def _pieces(ids, today):
    return piece_rows(list(Component.objects.filter(pk__in=ids).as_found()), today)


def _places(ids, today):
    places = list(Position.objects.filter(pk__in=ids).select_related("subassembly", "locomotive"))
    needs = needs_today(places, today)
    return {
        place.pk: Row(
            thing=place.pk,
            title=capital(place.words),
            href=place.get_absolute_url(),
            about=" · ".join(filter(None, [place.locomotive.name, place.subassembly.name, place.drawing])),
            need=needs.get(place.pk, ""),
        )
        for place in places
    }


def _locations(ids, today):
    return {
        place.pk: Row(
            thing=place.pk,
            title=capital(place.name),
            href=place.get_absolute_url(),
            about=" · ".join(filter(None, [place.get_kind_display(), _above(place.path), place.note])),
        )
        for place in Location.objects.in_bulk(ids).values()
    }


def _above(path: str) -> str:
    above, _, _ = path.rpartition(" / ")
    return f"in {above}" if above else ""


def _firms(ids, today):
    firms = Firm.objects.in_bulk(ids).values()
    return {
        firm.pk: Row(thing=firm.pk, title=firm.name, href=firm.get_absolute_url(), about=firm.does) for firm in firms
    }


def _subassemblies(ids, today):
    found = Subassembly.objects.filter(pk__in=ids).select_related("locomotive", "parent")
    return {
        sub.pk: Row(
            thing=sub.pk,
            title=capital(sub.name),
            href=sub.get_absolute_url(),
            about=" · ".join([sub.locomotive.name, *([f"part of {sub.parent.name}"] if sub.parent else [])]),
        )
        for sub in found
    }


def _locomotives(ids, today):
    found = Locomotive.objects.in_bulk(ids).values()
    return {each.pk: Row(thing=each.pk, title=each.name, href=each.get_absolute_url()) for each in found}


def _drawings(ids, today):
    return {
        each.pk: Row(
            thing=each.pk,
            title=f"{each}: {each.title}",
            href=each.get_absolute_url(),
            about=" · ".join(filter(None, [each.dated, each.lies])),
        )
        for each in Drawing.objects.filter(pk__in=ids).select_related("original_at")
    }


def _patterns(ids, today):
    return {
        each.pk: Row(
            thing=each.pk,
            title=capital(str(each)),
            href=each.get_absolute_url(),
            about=" · ".join(filter(None, [each.state, each.location.path if each.location else "", each.drawing])),
            code=each.code or "",
        )
        for each in Pattern.objects.filter(pk__in=ids).with_codes().select_related("location")
    }


READ = {
    "piece": _pieces,
    "place": _places,
    "location": _locations,
    "firm": _firms,
    "subassembly": _subassemblies,
    "locomotive": _locomotives,
    "drawing": _drawings,
    "pattern": _patterns,
}
HEADINGS = {
    "piece": "Pieces",
    "place": "Places without a piece",
    "location": "Where things lie",
    "firm": "Firms",
    "subassembly": "Subassemblies",
    "locomotive": "Locomotives",
    "drawing": "Drawings",
    "pattern": "Patterns, core boxes, jigs",
}
