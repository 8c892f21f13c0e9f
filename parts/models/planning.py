"""What a forecast is made from that only people know: opening days, how many come, and a guess a subassembly; and the
forecasts that were kept."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from .locomotives import Locomotive
from .structure import Subassembly

TOOK = ("as thought", "half", "double")
"""How long a job took, beside what was guessed."""
DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
DAY_MINUTES = 24 * 60


def _minutes() -> models.PositiveSmallIntegerField:
    return models.PositiveSmallIntegerField(default=0, help_text="minutes that the workshop is open; 0 is closed")


class WorkingWeek(models.Model):
    """When the workshop is open in a usual week, and how many come on a poor, a usual and a good day. One row."""

    monday = _minutes()
    tuesday = _minutes()
    wednesday = _minutes()
    thursday = _minutes()
    friday = _minutes()
    saturday = _minutes()
    sunday = _minutes()
    poor = models.PositiveSmallIntegerField(help_text="people on a poor day")
    usual = models.PositiveSmallIntegerField(help_text="people on a usual day")
    good = models.PositiveSmallIntegerField(help_text="people on a good day")
    by_people = models.BooleanField(default=False, help_text="hands are counted from the days that people said")
    last_event = models.BigIntegerField(default=0, editable=False)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(id=1), name="one_working_week"),
            models.CheckConstraint(
                condition=Q(poor__lte=F("usual"), usual__lte=F("good"), usual__gte=1), name="hands_in_order"
            ),
            *(
                models.CheckConstraint(condition=Q(**{f"{day}__lte": DAY_MINUTES}), name=f"{day}_has_24_hours")
                for day in DAYS
            ),
        ]


class UnusualDay(models.Model):
    """A day on which the workshop is open otherwise than its week says: a holiday, an extra working weekend."""

    date = models.DateField(unique=True)
    minutes = models.PositiveSmallIntegerField(default=0)
    note = models.CharField(max_length=120, blank=True, default="")

    class Meta:
        ordering = ["date"]
        constraints = [
            models.CheckConstraint(condition=Q(minutes__lte=DAY_MINUTES), name="unusual_day_has_24_hours"),
        ]


class Guess(models.Model):
    """How many open days the work left on a subassembly takes so many hands. A later guess replaces it; the event log
    keeps the earlier ones."""

    subassembly = models.OneToOneField(Subassembly, on_delete=models.PROTECT, related_name="guess")
    least = models.DecimalField(max_digits=6, decimal_places=1)
    likely = models.DecimalField(max_digits=6, decimal_places=1)
    most = models.DecimalField(max_digits=6, decimal_places=1)
    hands = models.PositiveSmallIntegerField(default=2)
    steps = models.PositiveIntegerField(help_text="steps that were left when it was guessed")
    on = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(least__gte=0, least__lte=F("likely"), likely__lte=F("most")), name="guess_in_order"
            ),
            models.CheckConstraint(condition=Q(hands__gte=1), name="guess_for_some_hands"),
        ]


class KeptForecast(models.Model):
    """A forecast as it was on a day: `subassemblies` maps codes to the days by which half and nine in ten runs end.
    `assumes` is told wherever its dates are."""

    locomotive = models.ForeignKey(Locomotive, on_delete=models.CASCADE, related_name="kept_forecasts")
    on = models.DateField()
    at = models.DateTimeField(null=True, blank=True)
    half = models.DateField(null=True, blank=True)
    nine_in_ten = models.DateField(null=True, blank=True)
    subassemblies = models.JSONField(default=dict)
    decided_by = models.JSONField(default=list)
    assumes = models.JSONField(default=list)

    class Meta:
        ordering = ["on"]
        constraints = [models.UniqueConstraint(fields=["locomotive", "on"], name="one_forecast_a_day")]
