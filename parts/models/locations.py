"""Where things lie, and how they came there."""

from django.conf import settings
from django.db import models
from django.db.models import Count, Q
from django.db.models.functions import Lower
from django.urls import reverse

from ..domain.tagcodes import check, is_code
from .locomotives import Locomotive


class LocationKind(models.TextChoices):
    BUILDING = "building", "building"
    RACK = "rack", "rack"
    SHELF = "shelf", "shelf"
    CRATE = "crate", "crate"
    BENCH = "bench", "bench"
    FIRM = "firm", "another firm"
    LOAN = "loan", "lent"
    LOCOMOTIVE = "locomotive", "the locomotive"
    OTHER = "other", "other place"


AWAY = (LocationKind.FIRM.value, LocationKind.LOAN.value)


class LocationQuerySet(models.QuerySet):
    def in_use(self):
        return self.filter(retired=False).order_by("path")

    def inside_of(self, parent):
        """What stands directly inside a place (or at the top), each with how many pieces lie right there."""
        pieces = Count("components", filter=~Q(components__state="withdrawn"))
        return self.in_use().filter(parent=parent).annotate(pieces=pieces).order_by("name")

    def as_tree(self) -> list["Location"]:
        """Every place in use, the ones inside under the ones they are in, each with `depth` and `pieces`."""
        pieces = Count("components", filter=~Q(components__state="withdrawn"))
        found = list(self.in_use().annotate(pieces=pieces))
        for place in found:
            place.depth = place.path.count(" / ")
        return found

    def called(self, text: str):
        """Those with these letters anywhere in their path."""
        return self.in_use().filter(path__icontains=text) if text else self.in_use()

    def meant_by(self, text: str) -> list["Location"]:
        """The places that somebody may mean by what was typed or scanned: by tag, path, name, or part of the path."""
        if is_code(text) and (place := self.in_use().filter(tags__code=check(text)).first()):
            return [place]
        for lookup in ("path__iexact", "name__iexact", "path__icontains"):
            if found := list(self.in_use().filter(**{lookup: text})[:5]):
                return found
        return []

    def by_number(self, number):
        """The one of this number, as an address gave it; None where there is none."""
        return self.filter(pk=number).first() if str(number or "").isdecimal() else None

    def last_used_by(self, person, most: int = 6) -> list["Location"]:
        """Where this person put things last, the latest first."""
        latest = Movement.objects.filter(by=person, went_to__retired=False).exclude(went_to__kind="locomotive")
        ids = list(dict.fromkeys(latest.order_by("-event").values_list("went_to", flat=True)[:60]))[:most]
        by_id = self.in_bulk(ids)
        return [by_id[pk] for pk in ids]


class Location(models.Model):
    """A building, rack, shelf, crate, another firm …; a tree. `away` is kept true below a firm."""

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

    objects = LocationQuerySet.as_manager()

    class Meta:
        ordering = ["path"]
        constraints = [
            models.UniqueConstraint(
                "parent", Lower("name"), condition=Q(parent__isnull=False), name="location_name_once"
            ),
            models.UniqueConstraint(Lower("name"), condition=Q(parent__isnull=True), name="top_location_name_once"),
            models.CheckConstraint(condition=Q(kind__in=LocationKind.values), name="location_kind_known"),
            models.CheckConstraint(condition=~Q(parent=models.F("id")), name="location_not_in_itself"),
        ]

    def __str__(self):
        return self.path

    def get_absolute_url(self):
        return reverse("location", args=[self.pk])


class Movement(models.Model):
    """One thing went from one place to another: who and when. Never edited."""

    event = models.OneToOneField("parts.Event", on_delete=models.PROTECT, related_name="movement")
    component = models.ForeignKey(
        "parts.Component", on_delete=models.PROTECT, null=True, blank=True, related_name="movements"
    )
    crate = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="movements")
    came_from = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, related_name="+")
    went_to = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, related_name="+")
    promised_back = models.DateField(null=True, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["-event"]
        constraints = [
            models.CheckConstraint(
                condition=Q(component__isnull=False, crate__isnull=True)
                | Q(component__isnull=True, crate__isnull=False),
                name="movement_of_one_thing",
            )
        ]
