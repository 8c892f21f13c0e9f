"""Firms: who does work for us elsewhere, and where what they have of ours lies."""

from django.db import models
from django.db.models import Count, F, Q
from django.db.models.functions import Lower
from django.urls import reverse

from core.models.numbered import numbered

from .locations import Location
from .struck import StandingManager, Strikable


class FirmQuerySet(models.QuerySet):
    def in_use(self):
        return self.filter(retired=False).select_related("location").order_by("name")

    def by_number(self, number):
        """The one of this number, as an address gave it; None where there is none."""
        return numbered(self, number)

    def as_list(self, today):
        """Every firm, each with what lies there, what is promised from it and open, and what of that is late."""
        there = ~Q(location__components__state="withdrawn")
        overdue = there & Q(location__components__promised_back__lt=today)
        steps = Q(steps__ended="", steps__renewal__ended="")
        repairs = Q(repairs__ended="")
        return (
            self.select_related("location")
            .annotate(
                pieces=Count("location__components", filter=there, distinct=True),
                pieces_late=Count("location__components", filter=overdue, distinct=True),
                steps_open=Count("steps", filter=steps, distinct=True),
                repairs_open=Count("repairs", filter=repairs, distinct=True),
                steps_late=Count("steps", filter=steps & Q(steps__promised__lt=today), distinct=True),
                repairs_late=Count("repairs", filter=repairs & Q(repairs__promised__lt=today), distinct=True),
                patterns_open=Count("patterns", distinct=True),
                patterns_late=Count("patterns", filter=Q(patterns__promised_back__lt=today), distinct=True),
            )
            .annotate(
                under_way=F("steps_open") + F("repairs_open") + F("patterns_open"),
                late=F("steps_late") + F("repairs_late") + F("patterns_late"),
            )
            .order_by("retired", "name")
        )


class Firm(Strikable):
    """One firm. Its location is away, so whatever lies there is known to be at that firm."""

    name = models.CharField(max_length=120)
    does = models.CharField("what they do", max_length=200, blank=True, default="")
    contact = models.TextField(blank=True, default="")
    note = models.TextField(blank=True, default="")
    location = models.OneToOneField(Location, on_delete=models.PROTECT, related_name="firm")
    retired = models.BooleanField(default=False)

    objects = StandingManager.from_queryset(FirmQuerySet)()

    class Meta:
        ordering = ["name"]
        constraints = [models.UniqueConstraint(Lower("name"), condition=Q(struck=False), name="firm_name_once")]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("firm", args=[self.pk])
