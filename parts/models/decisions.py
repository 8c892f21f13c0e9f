"""Decisions on a piece or on an empty place, with the options weighed. Never edited: a later one supersedes it."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from core.models import Event
from core.models.checks import known

from ..domain.job_words import Outcome, TimeUnit
from .components import Component
from .firms import Firm
from .money import cost, currency, never_negative
from .photos import Photo
from .positions import Position


class DecisionQuerySet(models.QuerySet):
    def in_force(self):
        """Those that no later one has taken the place of."""
        return self.filter(superseded_by__isnull=True)

    def about_piece(self, component):
        return self.filter(component=component)

    def about_empty(self, position):
        """Those on the place itself, not on a piece in it."""
        return self.filter(position=position, component__isnull=True)

    def for_page(self):
        """Newest first, with all that a page tells of them."""
        told = self.select_related("decided_by", "superseded_by", "component", "position")
        return told.prefetch_related("options__firm", "photos", "examined").order_by("-id")

    def latest_standing(self):
        return self.in_force().order_by("-id").first()


class Decision(models.Model):
    """What somebody decided, why, and what it rests on. A provisional one only notes."""

    component = models.ForeignKey(Component, on_delete=models.PROTECT, null=True, blank=True, related_name="decisions")
    position = models.ForeignKey(
        Position, on_delete=models.PROTECT, null=True, blank=True, related_name="decisions",
        help_text="the place decided on, or the one that the piece was for",
    )  # fmt: skip
    outcome = models.CharField(max_length=24)
    provisional = models.BooleanField(default=False)
    reason = models.TextField()
    examined = models.ManyToManyField(
        Event, related_name="rested_on", blank=True, help_text="the signings of the examinations it rests on"
    )
    photos = models.ManyToManyField(Photo, related_name="rested_on", blank=True)
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="decision")
    decided_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    supersedes = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="superseded_by"
    )

    objects = DecisionQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            known("outcome", Outcome, "decision_outcome_known"),
            models.CheckConstraint(
                condition=Q(component__isnull=False) | Q(position__isnull=False), name="decision_of_something"
            ),
            models.CheckConstraint(condition=~Q(reason=""), name="decision_has_a_reason"),
            models.CheckConstraint(condition=~Q(supersedes=F("id")), name="decision_supersedes_another"),
        ]

    def __str__(self):
        return f"{'provisionally ' if self.provisional else ''}{self.outcome}"

    @property
    def is_superseded(self) -> bool:
        return hasattr(self, "superseded_by")


class Option(models.Model):
    """One way that was weighed before deciding. Frozen with its decision."""

    decision = models.ForeignKey(Decision, on_delete=models.PROTECT, related_name="options")
    what = models.CharField(max_length=200)
    estimate = cost("cost, estimated")
    currency = currency()
    takes = models.PositiveIntegerField("time it takes", null=True, blank=True)
    unit = models.CharField(max_length=6, default=TimeUnit.WEEKS.value)
    firm = models.ForeignKey(Firm, on_delete=models.PROTECT, null=True, blank=True, related_name="options")
    who = models.CharField("who would do it", max_length=120, blank=True, default="")
    risk = models.TextField(blank=True, default="")
    keeps = models.CharField("original material kept", max_length=200, blank=True, default="")
    keeps_percent = models.PositiveSmallIntegerField(null=True, blank=True)
    chosen = models.BooleanField(default=False)

    class Meta:
        ordering = ["id"]
        constraints = [
            known("unit", TimeUnit, "option_unit_known"),
            never_negative(("estimate",), "option_cost_not_negative"),
            models.CheckConstraint(
                condition=Q(keeps_percent__isnull=True) | Q(keeps_percent__lte=100),
                name="option_keeps_no_more_than_all",
            ),
            models.UniqueConstraint(fields=["decision"], condition=Q(chosen=True), name="one_option_chosen"),
        ]

    def __str__(self):
        return self.what
