"""Where things lie, and how they came there."""

from functools import reduce
from operator import or_
from typing import TYPE_CHECKING, Self

from django.conf import settings
from django.db import models
from django.db.models import Count, F, Max, Q
from django.db.models.functions import Lower
from django.urls import reverse

from core.models.numbered import numbered

from ..domain.plain import by_number
from ..domain.tagcodes import check, is_code
from .locomotives import Locomotive
from .struck import StandingManager, Strikable

if TYPE_CHECKING:
    from .components import Component
    from .patterns import Pattern


class LocationKind(models.TextChoices):
    BUILDING = "building", "building"
    RACK = "rack", "rack"
    SHELF = "shelf", "shelf"
    CRATE = "crate", "crate"
    BAG = "bag", "bolt bag"
    BENCH = "bench", "bench"
    FIRM = "firm", "another firm"
    LOAN = "loan", "lent"
    LOCOMOTIVE = "locomotive", "the locomotive"
    QUARANTINE = "quarantine", "quarantine: cracked pieces, kept apart"
    OTHER = "other", "other place"


BETWEEN = " / "  # the names of a path
AWAY = (LocationKind.FIRM.value, LocationKind.LOAN.value)


LONGEST = 1000
"""Letters of what is looked for: a longer text names no place, and SQLite refuses a pattern of 50,000 bytes."""


class LocationQuerySet(models.QuerySet["Location"]):
    def in_use(self) -> Self:
        return self.filter(retired=False).order_by("path")

    def inside_of(self, place) -> list["Location"]:
        """What stands directly inside a place, each with `pieces`, those in whatever is inside it included."""
        beneath = self.filter(path__startswith=f"{place.path}{BETWEEN}").as_tree()
        return [inside for inside in beneath if inside.parent_id == place.pk]

    def no_longer_used(self):
        return self.filter(retired=True).order_by("path")

    def quarantines(self):
        """Where cracked pieces are kept apart, outermost first."""
        return self.in_use().filter(kind=LocationKind.QUARANTINE)

    def above(self, place: "Location") -> list["Location"]:
        """What a place stands in, the outermost first, in one query."""
        names = place.path.split(BETWEEN)
        paths = [BETWEEN.join(names[:deep]) for deep in range(1, len(names))]
        return sorted(self.filter(path__in=paths), key=lambda above: len(above.path)) if paths else []

    def for_labels(self, ids) -> dict:
        """What the label of a crate or a shelf says of them, under their numbers, in one query."""
        return self.select_related("parent").in_bulk(ids)

    def standing_in(self, location_ids):
        """What stands directly inside these places."""
        return sorted(self.in_use().filter(parent__in=location_ids), key=as_numbered)

    def with_all_inside(self, places) -> list["Location"]:
        """These places and everything inside them, however deep, each once."""
        inside = Q()
        for place in places:
            inside |= Q(pk=place.pk) | Q(path__startswith=f"{place.path}{BETWEEN}")
        return sorted(self.in_use().filter(inside), key=as_numbered) if inside else []

    def as_tree(self) -> list["Location"]:
        """Every place in use, parents before what is in them, each with `depth`, `places` inside it, and `pieces` in it
        and in whatever is inside it."""
        here = Count("components", filter=~Q(components__state="withdrawn"))
        found: list[Location] = sorted(self.in_use().annotate(pieces=here), key=as_numbered)
        by_id = {place.pk: place for place in found}
        for place in found:
            place.depth, place.places = place.path.count(BETWEEN), 0
        for place in reversed(found):  # from the inside outwards
            if place.parent_id and (above := by_id.get(place.parent_id)):
                above.pieces += place.pieces
                above.places += 1 + place.places
        return found

    def longest_uncounted(self, most: int):
        """Places in our works with something right in them, those that were not counted for the longest first, each
        with `counted`, when that was, and `pieces`."""
        done = Q(stocktakes__closed_at__isnull=False, stocktakes__abandoned="")
        here = ~Q(components__state="withdrawn") & Q(components__isnull=False)
        found = self.in_use().filter(away=False, locomotive=None).annotate(
            counted=Max("stocktakes__closed_at", filter=done), pieces=Count("components", filter=here, distinct=True)
        )  # fmt: skip
        return list(found.filter(pieces__gt=0).order_by(F("counted").asc(nulls_first=True), "path")[:most])

    def called(self, text: str):
        """Those with these letters anywhere in their path."""
        return self.in_use().filter(path__icontains=text) if text else self.in_use()

    def meant_by(self, text: str) -> list["Location"]:
        """The places that somebody may mean by what was typed or scanned: by tag, path, name, or part of the path."""
        if len(text) > LONGEST:
            return []
        if is_code(text) and (place := self.in_use().filter(tags__code=check(text)).first()):
            return [place]
        for lookup in ("path__iexact", "name__iexact", "path__icontains"):
            found: list[Location] = list(self.in_use().filter(**{lookup: text})[:5])
            if found:
                return found
        return []

    def like(self, text: str) -> list["Location"]:
        """The first places that bear some word of a name that no place bears."""
        words = [word for word in text.split() if len(word) > 2][:6] if len(text) <= LONGEST else []
        some = reduce(or_, (Q(name__icontains=word) for word in words), Q(pk=None))
        return list(self.in_use().filter(some)[:4])

    def by_number(self, number):
        """The one of this number, as an address gave it; None where there is none."""
        return numbered(self, number)

    def last_used_by(self, person, most: int = 6) -> list["Location"]:
        """Where this person put things last, the latest first."""
        latest = Movement.objects.filter(by=person, went_to__retired=False).exclude(went_to__kind="locomotive")
        ids = list(dict.fromkeys(latest.order_by("-event").values_list("went_to", flat=True)[:60]))[:most]
        by_id = self.in_bulk(ids)
        return [by_id[pk] for pk in ids]

    def meant_by_each(self, lines: list[str]) -> list[list["Location"]]:
        """What each line may mean, as `meant_by`, in two queries for all of them."""
        everything = list(self.in_use())
        codes = [check(line) for line in lines if is_code(line)]
        tagged = {code: pk for pk, code in self.filter(tags__code__in=codes).values_list("pk", "tags__code")}
        return [_meant(line, everything, tagged) for line in lines]


def _meant(line, everything, tagged):
    if is_code(line) and check(line) in tagged:
        return [place for place in everything if place.pk == tagged[check(line)]]
    entered = line.casefold()
    for fits in (
        lambda place: place.path.casefold() == entered,
        lambda place: place.name.casefold() == entered,
        lambda place: entered in place.path.casefold(),
    ):
        if found := [place for place in everything if fits(place)]:
            return found
    return []


def as_numbered(place: "Location") -> list:
    """Parents before what is in them, and crate 2 before crate 14."""
    return [by_number(name) for name in place.path.split(BETWEEN)]


class Location(Strikable):
    """A building, rack, shelf, crate, another firm …; a tree. `away` is kept true below a firm."""

    depth: int  # added by `as_tree`, and so are these
    places: int
    pieces: int

    parent = models.ForeignKey("self", on_delete=models.PROTECT, null=True, blank=True, related_name="inside")
    name = models.CharField(max_length=120)
    kind = models.CharField(max_length=12, choices=LocationKind.choices, default=LocationKind.OTHER)
    locomotive = models.OneToOneField(
        Locomotive, on_delete=models.PROTECT, null=True, blank=True, related_name="location"
    )
    away = models.BooleanField(default=False, editable=False)
    path = models.CharField(max_length=500, editable=False, help_text="in words a stranger can follow")
    note = models.CharField(max_length=200, blank=True)
    retired = models.BooleanField(default=False)

    objects = StandingManager.from_queryset(LocationQuerySet)()

    class Meta:
        ordering = ["path"]
        constraints = [
            models.UniqueConstraint(
                "parent", Lower("name"), condition=Q(parent__isnull=False, struck=False), name="location_name_once"
            ),
            models.UniqueConstraint(
                Lower("name"), condition=Q(parent__isnull=True, struck=False), name="top_location_name_once"
            ),
            models.CheckConstraint(condition=Q(kind__in=LocationKind.values), name="location_kind_known"),
            models.CheckConstraint(condition=~Q(parent=models.F("id")), name="location_not_in_itself"),
        ]

    def __str__(self):
        return self.path

    @property
    def words(self) -> str:
        """Where it stands, as one would tell a stranger: "Shed 2, rack B, third shelf, crate 14"."""
        return self.path.replace(BETWEEN, ", ")

    @property
    def keeps_apart(self) -> bool:
        """It is a quarantine place, or stands in one."""
        quarantine = LocationKind.QUARANTINE
        return self.kind == quarantine or any(p.kind == quarantine for p in Location.objects.above(self))

    def get_absolute_url(self):
        return reverse("location", args=[self.pk])


class MovementQuerySet(models.QuerySet["Movement"]):
    def to_or_from(self, place: Location, most: int = 12):
        """The last pieces and crates that came to a place or left it."""
        found = self.filter(Q(went_to=place) | Q(came_from=place))
        found = found.select_related("component", "crate", "pattern", "came_from", "went_to", "by")
        return found.order_by("-event")[:most]

    def last_of_crate(self, crate: Location) -> "Movement | None":
        """How the crate itself came to where it stands."""
        return self.filter(crate=crate, went_to=crate.parent_id).select_related("came_from").order_by("-event").first()

    def of_piece(self, event: int, person) -> "Movement | None":
        """The one of this event, if this person moved a piece or a pattern by it."""
        found = self.filter(event=event, by=person, crate=None, went_to__isnull=False)
        return found.select_related("component", "pattern", "came_from", "went_to").first()

    def put_into(self, place: Location, person, since: int) -> list["Movement"]:
        """What this person has put into a place after that event and what lies there still, the latest first."""
        found = self.filter(went_to=place, by=person, event__gt=since)
        found = found.filter(Q(component__location=place) | Q(pattern__location=place))
        latest: dict[tuple[int | None, int | None], Movement] = {}
        for movement in found.select_related("component", "pattern", "came_from").order_by("-event"):
            latest.setdefault((movement.component_id, movement.pattern_id), movement)
        return list(latest.values())


class Movement(models.Model):
    """One thing went from one place to another: who and when. Never edited."""

    thing: "Component | Pattern | None"  # what went and its code, added by `put_so_far`
    code: str

    event = models.OneToOneField("core.Event", on_delete=models.PROTECT, related_name="movement")
    component = models.ForeignKey(
        "parts.Component", on_delete=models.PROTECT, null=True, blank=True, related_name="movements"
    )
    crate = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="movements")
    pattern = models.ForeignKey(
        "parts.Pattern", on_delete=models.PROTECT, null=True, blank=True, related_name="movements"
    )
    came_from = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, related_name="+")
    went_to = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, related_name="+")
    promised_back = models.DateField(null=True, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = MovementQuerySet.as_manager()

    class Meta:
        ordering = ["-event"]
        constraints = [
            models.CheckConstraint(
                condition=Q(component__isnull=False, crate__isnull=True, pattern__isnull=True)
                | Q(component__isnull=True, crate__isnull=False, pattern__isnull=True)
                | Q(component__isnull=True, crate__isnull=True, pattern__isnull=False),
                name="movement_of_one_thing",
            )
        ]
