"""Stock-takes: what was counted where, who saw what, and what came of it."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from core.models.checks import known

from ..domain.stocktaking import Outcome
from .components import Component
from .locations import Location


class StockTakeQuerySet(models.QuerySet):
    def open(self):
        return self.filter(closed_at=None).select_related("location", "begun_by").order_by("-id")

    def open_at(self, location):
        return self.open().filter(location=location).first()

    def by_number(self, pk):
        return self.select_related("location", "begun_by", "closed_by").filter(pk=pk).first()

    def done(self):
        """Those that were confirmed, the latest first, each with how many were missing and how many seen."""
        number = {
            name: models.Count("lines", filter=Q(lines__outcome=word.value))
            for name, word in (("missing", Outcome.MISSING), ("seen", Outcome.SEEN), ("found", Outcome.FOUND))
        }
        found = self.filter(closed_at__isnull=False, abandoned="").select_related("location", "closed_by")
        return found.annotate(**number).order_by("-id")

    def last_of(self, location):
        return self.done().filter(location=location).first()


class StockTake(models.Model):
    """One count of one place. Until it is confirmed nothing of it changes the register."""

    location = models.ForeignKey(Location, on_delete=models.PROTECT, related_name="stocktakes")
    below = models.BooleanField("with what stands in it", default=True)
    begun_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    begun_at = models.DateTimeField()
    begun_event = models.BigIntegerField(help_text="what has a higher number was done while it was counted")
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    closed_at = models.DateTimeField(null=True, blank=True)
    abandoned = models.CharField("why it was given up", max_length=200, blank=True, default="")

    objects = StockTakeQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.UniqueConstraint(fields=["location"], condition=Q(closed_at=None), name="one_count_of_a_place"),
            models.CheckConstraint(
                condition=Q(closed_at=None, closed_by=None, abandoned="")
                | Q(closed_at__isnull=False, closed_by__isnull=False),
                name="count_closed_by_somebody",
            ),
        ]

    def __str__(self):
        return f"stock-take of {self.location}"

    def get_absolute_url(self):
        return reverse("stock_take_record" if self.closed_at else "stock_take", args=[self.pk])


class Sighting(models.Model):
    """Somebody saw a piece there: by its tag, or with their own eyes where no tag can be read."""

    stocktake = models.ForeignKey(StockTake, on_delete=models.PROTECT, related_name="sightings")
    component = models.ForeignKey(Component, on_delete=models.PROTECT, related_name="sightings")
    by_eye = models.BooleanField(default=False)
    after_event = models.BigIntegerField(default=0, help_text="what has a higher number was done after it was seen")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["-id"]
        constraints = [models.UniqueConstraint(fields=["stocktake", "component"], name="seen_once_a_count")]

    def __str__(self):
        return f"{self.component} seen"


class StockTakeLine(models.Model):
    """What came of one piece: the record, never changed."""

    stocktake = models.ForeignKey(StockTake, on_delete=models.PROTECT, related_name="lines")
    component = models.ForeignKey(Component, on_delete=models.PROTECT, related_name="stocktake_lines")
    outcome = models.CharField(max_length=20)
    name = models.CharField("what it was called", max_length=160)
    code = models.CharField(max_length=8, blank=True, default="")
    was_at = models.CharField("where the register had it", max_length=500, blank=True, default="")
    moved = models.BooleanField("put down as lying here", default=False)

    class Meta:
        ordering = ["id"]
        constraints = [
            models.UniqueConstraint(fields=["stocktake", "component"], name="one_line_a_count"),
            known("outcome", Outcome, "stocktake_outcome_known"),
        ]

    def __str__(self):
        return f"{self.name}: {self.outcome}"
