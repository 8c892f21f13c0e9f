"""Fits: pairs of dimensions that run or press together, and the clearance or interference allowed, in editions."""

from django.conf import settings
from django.db import models
from django.db.models import F, OuterRef, Q, Subquery

from ..domain.fits import FitLimits as PlainLimits
from .dimensions import Dimension
from .exact_field import MillimetresField


class FitQuerySet(models.QuerySet):
    def in_use(self):
        return self.filter(retired=False)

    def at(self, scope: dict):
        """Those of which either side is on a place in scope (lookups of Position)."""
        hole = Q(**{f"hole__position__{key}": value for key, value in scope.items()})
        shaft = Q(**{f"shaft__position__{key}": value for key, value in scope.items()})
        return self.in_use().filter(hole | shaft)

    def whatever_its_use(self, pk: int):
        """The one of this number, retired or not."""
        return self.filter(pk=pk).with_limits()

    def of_locomotive(self, locomotive):
        """By the words of the places; both are on one locomotive."""
        found = self.filter(hole__position__locomotive=locomotive, retired=False)
        return found.with_limits().order_by(
            "hole__position__name", "hole__position__axle", "hole__position__side", "id"
        )

    def with_limits(self):
        """Each with both dimensions, their places, and `limits_id`, the newest edition."""
        newest = FitLimits.objects.filter(fit=OuterRef("pk")).order_by("-edition")
        return self.select_related("hole__position__locomotive", "shaft__position").annotate(
            limits_id=Subquery(newest.values("pk")[:1])
        )


class Fit(models.Model):
    """A hole and what runs or is pressed in it: brass and journal, bush and pin, boss and wheel seat."""

    name = models.CharField(max_length=160)
    hole = models.ForeignKey(Dimension, on_delete=models.PROTECT, related_name="fits_as_hole")
    shaft = models.ForeignKey(Dimension, on_delete=models.PROTECT, related_name="fits_as_shaft")
    retired = models.BooleanField(default=False)

    objects = FitQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["hole", "shaft"], condition=Q(retired=False), name="fit_once"),
            models.CheckConstraint(condition=~Q(hole=F("shaft")), name="fit_of_two_dimensions"),
        ]

    def __str__(self):
        return self.name


class FitLimits(models.Model):
    """One edition of what a fit may be. Clearances in millimetres; below zero is interference."""

    fit = models.ForeignKey(Fit, on_delete=models.PROTECT, related_name="editions")
    edition = models.PositiveIntegerField()
    kind = models.CharField(max_length=8, default="running")
    least = MillimetresField("least clearance wanted")
    most = MillimetresField("most clearance wanted")
    shop_least = MillimetresField("least clearance allowed", null=True, blank=True)
    shop_most = MillimetresField("most clearance allowed", null=True, blank=True)
    scrapping_most = MillimetresField("most clearance at all", null=True, blank=True)
    unit = models.CharField(max_length=2)
    code = models.CharField("ISO 286 fit", max_length=20, blank=True, default="")
    source = models.CharField(max_length=200)
    source_edition = models.CharField(max_length=80)
    set_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    set_at = models.DateTimeField()

    class Meta:
        ordering = ["-edition"]
        constraints = [
            models.UniqueConstraint(fields=["fit", "edition"], name="fit_edition_once"),
            models.CheckConstraint(condition=Q(kind__in=["running", "press"]), name="fit_kind_known"),
            models.CheckConstraint(condition=Q(unit__in=["mm", "in"]), name="fit_unit_known"),
            models.CheckConstraint(condition=~Q(source="") & ~Q(source_edition=""), name="fit_limits_say_their_source"),
        ]

    def plain(self) -> PlainLimits:
        return PlainLimits(
            least=self.least,
            most=self.most,
            shop_least=self.shop_least,
            shop_most=self.shop_most,
            scrapping_most=self.scrapping_most,
            kind=self.kind,
            unit=self.unit,
        )
