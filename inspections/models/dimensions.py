"""Dimensions of a position, and the limits they are judged by. Limits come in editions: added, never edited."""

from django.conf import settings
from django.db import models
from django.db.models import Case, OuterRef, Q, Subquery, Value, When

from core.models.checks import known
from parts.models import Position

from ..domain.classes import Wears
from ..domain.sizing import Limits as PlainLimits
from ..domain.verdicts import Rule
from .exact_field import MillimetresField
from .sheets import SheetRow

UNITS = (("mm", "Millimetres"), ("in", "Inches"))


def in_unit(name: str) -> models.CheckConstraint:
    return models.CheckConstraint(condition=Q(unit__in=[unit for unit, _ in UNITS]), name=name)


def inside(places) -> models.QuerySet[Position]:
    """The safety-critical places inside these, one or two deep."""
    return Position.objects.looked_at_inside().inside(part_of__in=places)


def inner_of(place: int | None) -> Case:
    return Case(When(position=place, then=Value(False)), default=Value(True), output_field=models.BooleanField())


class DimensionQuerySet(models.QuerySet):
    def in_use(self):
        return self.filter(retired=False)

    def out_of_use(self):
        return self.filter(retired=True).order_by("letter", "id")

    def with_limits(self):
        """Each with `limits_id`, the newest edition of its limits."""
        newest = Limits.objects.filter(dimension=OuterRef("pk")).order_by("-edition")
        return self.annotate(limits_id=Subquery(newest.values("pk")[:1]))

    def of_locomotive(self, locomotive):
        """Every size of its places, by the words of the place."""
        found = self.filter(position__locomotive=locomotive, position__retired=False, retired=False)
        return found.select_related("position").order_by("position__name", "position__axle", "position__side", "id")

    def both_of(self, fit):
        return self.filter(pk__in=(fit.hole_id, fit.shaft_id)).order_by("id")

    def called(self, name: str, places):
        return self.filter(name=name, position__in=[place.pk for place in places], retired=False).order_by("id")

    def of_place(self, position):
        return self.filter(position=position, retired=False).order_by("letter", "id")

    def for_all(self):
        """Those that every piece of the place is measured for."""
        return self.filter(for_successors=False)

    def asked_of(self, piece):
        """What this piece is measured for, and while it is left whole what is safety-critical inside it: sizes taken
        from an old piece of the place are for those that follow it."""
        own = Q(position=piece.place_id)
        if piece.came_off_id == piece.place_id:
            own &= Q(for_successors=False)
        if not piece.broken_down:
            own |= Q(position__in=inside([piece.place_id]), for_successors=False)
        found = self.filter(own, retired=False).select_related("position").annotate(inner=inner_of(piece.place_id))
        return found.order_by("inner", "position_id", "letter", "id")

    def to_reproduce(self, position):
        """What the next piece of this place must match, by what was taken from one that went."""
        return self.of_place(position).filter(taken_sizes__isnull=False).distinct()


class Dimension(models.Model):
    """A named size on a position: what is measured, where on the piece, and which way it wears."""

    limits_id: int | None  # the newest edition of its limits, added by `with_limits`
    inner: bool = False  # it is measured on the whole piece around its place, added by `asked_of`

    position = models.ForeignKey(Position, on_delete=models.PROTECT, related_name="dimensions")
    letter = models.CharField(max_length=8, blank=True, default="", help_text="as on the drawing or the sheet")
    name = models.CharField(max_length=120)
    stations = models.JSONField(default=list, blank=True, help_text="where along the piece it is taken")
    directions = models.JSONField(default=list, blank=True, help_text="in which directions across it")
    wears = models.CharField(max_length=8, default=Wears.EITHER.value)
    unit = models.CharField(max_length=2, help_text="the unit that the drawing uses")
    round_part = models.BooleanField("a diameter", default=False)
    note = models.CharField(max_length=300, blank=True, default="")
    for_successors = models.BooleanField(
        "called for of a new piece only", default=False, help_text="taken from a condemned piece, to be reproduced"
    )
    retired = models.BooleanField(default=False)

    objects = DimensionQuerySet.as_manager()

    class Meta:
        ordering = ["letter", "id"]
        constraints = [
            known("wears", Wears, "dimension_wears_known"),
            in_unit("dimension_unit_known"),
            models.CheckConstraint(condition=~Q(name=""), name="dimension_has_a_name"),
            models.UniqueConstraint(
                fields=["position", "name"], condition=Q(retired=False), name="dimension_named_once_on_a_place"
            ),
        ]

    def __str__(self):
        where = f"{self.position.words}: " if self.inner else ""
        return f"{where}{self.letter} {self.name}".replace("  ", " ").strip()

    def spots(self) -> list[tuple[str, str]]:
        """Every (station, direction) that a whole sheet asks for; one spot without a name where none is set."""
        return [(station, way) for station in self.stations or [""] for way in self.directions or [""]]


class LimitsQuerySet(models.QuerySet):
    def judged_by(self, sheet, newest):
        """Of the newest editions, those that are a row of this sheet, on places that are in use."""
        found = self.filter(row__sheet=sheet, pk__in=newest, dimension__position__retired=False)
        return found.order_by("id")


class Limits(models.Model):
    """One edition of what a dimension is judged by. Without a source and its edition there is no limit."""

    dimension = models.ForeignKey(Dimension, on_delete=models.PROTECT, related_name="editions")
    edition = models.PositiveIntegerField()
    drawing = models.CharField("drawing size and tolerance", max_length=80, blank=True, default="")
    new_lower = MillimetresField(null=True, blank=True)
    new_upper = MillimetresField(null=True, blank=True)
    shop_lower = MillimetresField(null=True, blank=True)
    shop_upper = MillimetresField(null=True, blank=True)
    scrapping_lower = MillimetresField(null=True, blank=True)
    scrapping_upper = MillimetresField(null=True, blank=True)
    shop_open = models.BooleanField("a value exactly on the shop limit fails", default=False)
    scrapping_open = models.BooleanField("a value exactly on the scrapping limit fails", default=False)
    rule = models.CharField(max_length=8, default=Rule.GUARDED.value)
    source = models.CharField(max_length=200)
    source_edition = models.CharField(max_length=80)
    row = models.ForeignKey(SheetRow, on_delete=models.PROTECT, null=True, blank=True, related_name="used_in")
    set_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    set_at = models.DateTimeField()

    objects = LimitsQuerySet.as_manager()

    class Meta:
        ordering = ["-edition"]
        constraints = [
            models.UniqueConstraint(fields=["dimension", "edition"], name="limits_edition_once"),
            models.CheckConstraint(condition=~Q(source="") & ~Q(source_edition=""), name="limits_say_their_source"),
            known("rule", Rule, "limits_rule_known"),
            models.CheckConstraint(
                condition=Q(new_lower__isnull=False) | Q(new_upper__isnull=False) | Q(shop_lower__isnull=False)
                | Q(shop_upper__isnull=False) | Q(scrapping_lower__isnull=False) | Q(scrapping_upper__isnull=False),
                name="limits_set_a_limit",
            ),
        ]  # fmt: skip

    def __str__(self):
        return f"{self.source}, {self.source_edition}"

    def plain(self) -> PlainLimits:
        """As the arithmetic takes them."""
        return PlainLimits.of(self, unit=self.dimension.unit, wears=self.dimension.wears)
