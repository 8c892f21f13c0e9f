"""The filters of the find page: what they leave of the pieces, and of the places that have none."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cached_property
from urllib.parse import urlencode

from django.db.models import Exists, F, Max, OuterRef, Q, Subquery
from django.db.models.functions import Lower
from django.utils import timezone

from core.models import Event, EventSubject

from ..common.found import PRINTED
from ..domain.words import Need, State
from ..models import Component, Findable, Location, Locomotive, Photo, Position, Subassembly
from ..queries.measured import measured
from ..queries.needs_today import places_in_need
from .finding import understood, unfilled
from .found_rows import rows_of

UNSEEN_DAYS = 365
TICKS = {
    "critical": "safety-critical",
    "pressure": "pressure part",
    "flawed": "a crack or another defect was found on it",
    "unseen": "nobody has looked for a year",
    "nophoto": "no photo",
    "noplace": "for no place yet",
    "lost": "nobody has recorded where it lies",
    "nowithdrawn": "withdrawn ones left out",
}
"""Filters that are on or off, as they stand in the address, each with what it is called."""
OF_PIECES = frozenset({"state", "flawed", "where", "unseen", "nophoto", "noplace", "lost", "nowithdrawn"})
"""Filters that only a piece can answer."""
SORTS = {"": "best first", "name": "name", "tag": "tag", "where": "where it lies", "looked": "longest not looked at"}
LONGEST = 100


@dataclass(frozen=True)
class Filters:
    """What somebody asks for, as read from an address. What is no filter of ours is passed over."""

    given: dict[str, str]
    today: date

    @classmethod
    def read(cls, asked, today) -> "Filters":
        entered = {key: " ".join(value.replace("\0", " ").split())[:LONGEST] for key, value in asked.items()}
        given = {key: entered.get(key, "") for key in ("q", "in", "where")}
        given["state"] = entered.get("state", "") if entered.get("state") in list(State) else ""
        given["need"] = entered.get("need", "") if entered.get("need") in list(Need) else ""
        given |= {key: "1" if entered.get(key) else "" for key in TICKS}
        given["sort"] = entered.get("sort", "") if entered.get("sort") in SORTS else ""
        return cls(given, today)

    def __getitem__(self, key: str) -> str:
        return self.given[key]

    @property
    def text(self) -> str:
        return self.given["q"]

    @property
    def on(self) -> list[str]:
        """The filters beside the words that are on."""
        return [key for key, value in self.given.items() if value and key not in ("q", "sort")]

    @property
    def query(self) -> str:
        """As it stands in an address: what is kept of a saved filter."""
        return urlencode({key: value for key, value in self.given.items() if value})

    def without(self, key: str) -> str:
        return urlencode({other: value for other, value in self.given.items() if value and other != key})

    def chips(self) -> list[tuple[str, str]]:
        """What is on, in words, each with the question without it."""
        return [(self._words_of(key), self.without(key)) for key in self.on]

    def _words_of(self, key: str) -> str:
        words = {"in": self.within_words, "state": self["state"], "need": f"needs: {self['need']}"}
        words["where"] = f"lies in or below “{self['where']}”"
        return words.get(key) or TICKS.get(key, "")

    # --- what the words in it mean

    @cached_property
    def within(self) -> tuple[Locomotive | None, list[int] | None]:
        """The locomotive, and the numbers of a subassembly and all its parts; neither where there is no such one."""
        slug, _, code = self["in"].partition("/")
        engine = Locomotive.objects.with_slug(slug)
        subs = Subassembly.objects.with_all_parts(engine, code) if engine and code else None
        return engine, subs

    @property
    def within_words(self) -> str:
        engine, subs = self.within
        slug, _, code = self["in"].partition("/")
        if engine is None or (code and not subs):
            return f"in {self['in']}"
        return f"in {Subassembly.objects.get(pk=subs[0]).name} of {engine.name}" if subs else f"of {engine.name}"

    @cached_property
    def places_meant(self) -> list[Location]:
        """Where the pieces shall lie: the places meant and everything inside them."""
        return Location.objects.with_all_inside(Location.objects.meant_by(self["where"]))

    def troubles(self) -> list[str]:
        """Filters that nothing can answer, in sentences."""
        engine, subs = self.within
        sentences = []
        if self["in"] and (engine is None or subs == []):
            sentences.append("In: there is no such locomotive or subassembly here. Choose one from the list.")
        if self["where"] and not self.places_meant:
            sentences.append(f"Lies in: no place is called “{self['where']}”. Type its name, or the code on its tag.")
        return sentences

    @cached_property
    def words(self) -> list[str]:
        return understood(self.text)


class Found:
    """The pieces that the filters leave, as a sequence that a paginator can cut, each page read in few queries."""

    def __init__(self, filters: Filters):
        self.filters = filters
        self.left = pieces_left(filters)

    def __len__(self) -> int:
        if not hasattr(self, "_many"):
            self._many = self._numbers().count()
        return self._many

    def __getitem__(self, cut: slice) -> list:
        return self._rows(list(self._numbers()[cut]))

    def all_rows(self, at_once: int = 2000):
        for start in range(0, len(self), at_once):
            yield from self[start : start + at_once]

    def _rows(self, ids: list[int]):
        return rows_of("piece", ids, self.filters.today)

    def _numbers(self):
        """The numbers of the pieces, in the order asked for."""
        sort, words = self.filters["sort"], self.filters.words if self.filters.text else []
        if words and not sort:
            found = Findable.objects.pieces().bearing(words).best_first(words)
            found = found.filter(thing__in=self.left.order_by().values("pk")) if self.filters.on else found
            return found.values_list("thing", flat=True)
        found = self.left
        if words or self.filters.text:
            found = found.filter(pk__in=Findable.objects.pieces().bearing(words).values("thing"))
        return sorted_by(found, sort).values_list("pk", flat=True)


def sorted_by(found, sort: str):
    if sort == "tag":
        return found.with_codes().order_by(F("code").asc(nulls_last=True), "pk")
    if sort == "where":
        return found.order_by(F("location__path").asc(nulls_last=True), Lower("name"), "pk")
    if sort == "looked":
        events = EventSubject.objects.filter(kind="piece", number=OuterRef("pk")).exclude(event__action=PRINTED)
        last = events.order_by().values("number").annotate(last=Max("event__at")).values("last")
        return found.annotate(looked=Subquery(last)).order_by(F("looked").asc(nulls_first=True), "pk")
    return found.order_by(Lower("name"), "pk")


def pieces_left(filters: Filters):
    """The pieces that every filter leaves; words and order aside."""
    found = Component.objects.all()
    if filters.troubles():
        return found.none()
    engine, subs = filters.within
    if engine and subs is None:
        found = found.filter(Q(locomotive=engine) | Q(place__locomotive=engine))
    elif engine and subs is not None:
        found = found.filter(place__subassembly__in=subs)
    if filters["state"]:
        found = found.in_state(filters["state"])
    if filters["need"]:
        places = places_in_need(Need(filters["need"]), filters.today)
        found = found.live().filter(place__in=places.values("pk"))
    if filters["where"]:
        found = found.filter(_lying_in([place.pk for place in filters.places_meant]))
    if filters["critical"]:
        found = found.filter(place__safety_critical=True)
    if filters["pressure"]:
        found = found.filter(place__pressure_part=True)
    if filters["flawed"]:
        found = found.exclude(state=State.WITHDRAWN.value).filter(pk__in=measured.flawed())
    return _ticked(found, filters)


def _ticked(found, filters: Filters):
    if filters["unseen"]:
        last = datetime.combine(filters.today - timedelta(UNSEEN_DAYS), time.max)
        recent = Event.objects.about("piece", OuterRef("pk")).filter(at__gt=timezone.make_aware(last))
        found = found.exclude(state=State.WITHDRAWN.value).filter(~Exists(recent.exclude(action=PRINTED)))
    if filters["nophoto"]:
        found = found.filter(~Exists(Photo.objects.filter(component=OuterRef("pk"))))
    if filters["noplace"]:
        found = found.exclude(state=State.WITHDRAWN.value).filter(place=None)
    if filters["lost"]:
        found = found.exclude(state=State.WITHDRAWN.value).filter(location=None, fitted=None)
    if filters["nowithdrawn"]:
        found = found.exclude(state=State.WITHDRAWN.value)
    return found


def _lying_in(locations: list[int]) -> Q:
    """Right there, or fitted in something that lies there: what is fitted in a piece has no location of its own."""
    outer = Component.objects.live().filter(location__in=locations).values("place")
    within = Component.objects.live().filter(fitted__part_of__in=outer).values("place")
    return Q(location__in=locations) | Q(fitted__part_of__in=outer) | Q(fitted__part_of__in=within)


def places_left(filters: Filters):
    """Places without a piece that the filters leave; none where a filter asks for what only a piece has."""
    if filters.troubles() or OF_PIECES & set(filters.on) or not filters.on:
        return Position.objects.none()
    found = Position.objects.in_use().exclude(standing="asleep")
    found = found.filter(~Exists(Component.objects.live().filter(place=OuterRef("pk"))))
    engine, subs = filters.within
    if engine:
        found = found.filter(locomotive=engine)
    if subs:
        found = found.filter(subassembly__in=subs)
    if filters["need"]:
        found = found.filter(pk__in=places_in_need(Need(filters["need"]), filters.today).values("pk"))
    if filters["critical"]:
        found = found.filter(safety_critical=True)
    if filters["pressure"]:
        found = found.filter(pressure_part=True)
    if filters.text:
        found = found.filter(pk__in=unfilled().bearing(filters.words).of_kind("place").values("thing"))
    return found.in_words_order()
