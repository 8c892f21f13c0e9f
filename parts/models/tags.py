"""Tags: the code tied to a piece, to a place where things lie, or to a pattern."""

from collections import defaultdict

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone

from core.models.checks import at_most_one
from core.models.prepared import Scope, prepared

from .components import Component
from .locations import Location
from .patterns import Pattern


class TagQuerySet(models.QuerySet["Tag"]):
    def of_code(self, code: str):
        """The tag that bears this code, with the place it hangs on; None if it was never printed."""
        return self.select_related("location", "pattern").filter(code=code).first()

    def borne_now_by(self, old: "Tag"):
        """The tag that the thing of an older one bears now."""
        return self.filter(
            current=True, component=old.component_id, location=old.location_id, pattern=old.pattern_id
        ).first()

    def tied_among(self, codes: list[str]):
        """Those of these codes that hang on something, in the order given."""
        tied = self.exclude(component=None, location=None, pattern=None)
        tied = tied.select_related("component", "location", "pattern")
        return sorted(tied.filter(code__in=codes), key=lambda tag: codes.index(tag.code))

    def among(self, codes) -> list["Tag"]:
        """Those of these codes that were printed here, tied or not, in the order given."""
        codes = list(codes)
        found = self.select_related("component", "location", "pattern").filter(code__in=codes)
        return sorted(found, key=lambda tag: codes.index(tag.code))

    def borne_by_locations(self, location_ids):
        """The current tags of these places, those that have one."""
        return self.filter(current=True, location__in=location_ids)

    def codes_in(self, location) -> list[str]:
        """The codes of every piece that lies right there, then of every pattern."""
        found = self.filter(Q(component__location=location) | Q(pattern__location=location), current=True)
        found = found.exclude(component__state="withdrawn").exclude(pattern__state="withdrawn")
        pieces_first = F("component__name").asc(nulls_last=True)
        return list(found.order_by(pieces_first, "pattern__name", "id").values_list("code", flat=True))

    def codes_of_subassembly(self, subassembly) -> list[str]:
        """The codes of every piece with a place in it."""
        found = self.filter(component__place__subassembly=subassembly, current=True)
        found = found.exclude(component__state="withdrawn").order_by("component__name", "component_id")
        return list(found.values_list("code", flat=True))

    def of_pieces_in(self, places) -> dict[int, list[str]]:
        """The codes of the pieces in each of these places."""
        found = self.filter(component__place__in=list(places), current=True).exclude(component__state="withdrawn")
        codes: dict[int, list[str]] = {place: [] for place in places}
        for place, code in found.order_by("component_id").values_list("component__place", "code"):
            codes[place].append(code)
        return codes

    def codes_by(self, thing: str, ids) -> defaultdict[int, list[str]]:
        """Every tag that each of these has borne, torn ones too; `thing` is component, location or pattern."""
        codes = defaultdict(list)
        for tag in _borne({f"{thing}__in": list(ids)}):
            codes[getattr(tag, f"{thing}_id")].append(tag.code)
        return codes

    def codes_borne(self, moves) -> dict:
        """The code that the piece or the pattern of each of these moves bears now, under both their numbers."""
        borne = Q(component__in=[move.component_id for move in moves]) | Q(
            pattern__in=[move.pattern_id for move in moves]
        )
        found = self.filter(borne, current=True).values_list("component_id", "pattern_id", "code")
        return {(component, pattern): code for component, pattern, code in found}

    def of_sightings(self, sightings) -> list[str]:
        """What hangs, or should hang, on the pieces that were seen."""
        found = self.filter(current=True, component__in=sightings.values("component"))
        return list(found.order_by("code").values_list("code", flat=True))

    def current_code(self) -> str:
        """Of one thing's tags: the code that hangs on it now, or nothing if it never had a tag."""
        return self.order_by("-current", "-id").values_list("code", flat=True).first() or ""


class Tag(models.Model):
    """One printed code. It belongs to one thing at a time; a thing may have had several, one is current."""

    code = models.CharField(max_length=8, unique=True)
    component = models.ForeignKey(Component, on_delete=models.PROTECT, null=True, blank=True, related_name="tags")
    location = models.ForeignKey(Location, on_delete=models.PROTECT, null=True, blank=True, related_name="tags")
    pattern = models.ForeignKey(Pattern, on_delete=models.PROTECT, null=True, blank=True, related_name="tags")
    current = models.BooleanField(default=False)
    issued = models.DateTimeField(default=timezone.now)
    tied_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    objects = TagQuerySet.as_manager()

    class Meta:
        constraints = [
            at_most_one(["component", "location", "pattern"], "tag_of_one_thing"),
            models.CheckConstraint(
                condition=Q(current=False)
                | Q(component__isnull=False)
                | Q(location__isnull=False)
                | Q(pattern__isnull=False),
                name="current_tag_is_tied",
            ),
            models.UniqueConstraint(fields=["component"], condition=Q(current=True), name="one_current_tag_a_piece"),
            models.UniqueConstraint(fields=["location"], condition=Q(current=True), name="one_current_tag_a_location"),
            models.UniqueConstraint(fields=["pattern"], condition=Q(current=True), name="one_current_tag_a_pattern"),
        ]

    def __str__(self):
        return self.code

    @property
    def thing(self):
        """What it hangs on: a piece, a place where things lie, a pattern, or nothing yet."""
        return self.component or self.location or self.pattern

    def get_absolute_url(self):
        return reverse("tag", args=[self.code])


@prepared
def _borne(scope: Scope) -> models.QuerySet[Tag]:
    return Tag.objects.filter(**scope).order_by("pk")
