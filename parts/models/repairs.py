"""Repairs: work on the old piece, after which it is examined again."""

from django.db import models
from django.db.models import Q
from django.urls import reverse

from core.models import Event
from core.models.checks import known

from ..domain.job_words import Ending, RepairMethod
from .components import Component
from .decisions import Decision
from .firms import Firm
from .money import COSTS, after_the_order, cost, currency, never_negative
from .promises import SLIPS


class RepairQuerySet(models.QuerySet):
    def under_way(self):
        return self.filter(ended=Ending.OPEN.value)

    def with_slips(self):
        """Each with `slips`, how often a later day was promised than before."""
        return self.annotate(slips=SLIPS)

    def for_page(self):
        found = self.with_slips().select_related("component__place__locomotive", "component__locomotive")
        return found.select_related("firm", "decision")

    def promised_by_firms(self):
        return self.under_way().filter(firm__isnull=False, promised__isnull=False).select_related("component__place")

    def at_firm(self, firm):
        """What this firm has under way, the earliest promise first."""
        found = self.under_way().filter(firm=firm).with_slips().select_related("component")
        return found.order_by(models.F("promised").asc(nulls_last=True), "id")


class Repair(models.Model):
    """One repair of one piece. Finishing it is the action “finish repair”."""

    component = models.ForeignKey(Component, on_delete=models.PROTECT, related_name="repairs")
    decision = models.ForeignKey(Decision, on_delete=models.PROTECT, null=True, blank=True, related_name="repairs")
    method = models.CharField(max_length=24)
    what = models.CharField("what is done", max_length=300)
    firm = models.ForeignKey(Firm, on_delete=models.PROTECT, null=True, blank=True, related_name="repairs")
    who = models.CharField("who does it", max_length=120, blank=True, default="")
    hours = models.DecimalField(max_digits=7, decimal_places=2, null=True, blank=True)
    estimate = cost("estimated cost")
    committed = cost("cost ordered")
    actual = cost("cost paid")
    currency = currency()
    opened = models.DateField()
    ordered = models.DateField(null=True, blank=True)
    promised = models.DateField(null=True, blank=True)
    done = models.DateField(null=True, blank=True)
    let_in = models.CharField("new material let in", max_length=200, blank=True, default="")
    let_in_kg = models.DecimalField(max_digits=9, decimal_places=3, null=True, blank=True)
    procedure = models.CharField("weld procedure", max_length=120, blank=True, default="")
    welder = models.CharField(max_length=120, blank=True, default="")
    ended = models.CharField(max_length=10, blank=True, default=Ending.OPEN.value, editable=False)
    ended_on = models.DateField(null=True, blank=True, editable=False)
    why_ended = models.CharField(max_length=300, blank=True, default="", editable=False)
    done_event = models.OneToOneField(
        Event, on_delete=models.PROTECT, null=True, blank=True, related_name="repair", editable=False
    )
    last_event = models.BigIntegerField(default=0, editable=False)

    objects = RepairQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            known("method", RepairMethod, "repair_method_known"),
            known("ended", Ending, "repair_ending_known"),
            never_negative(COSTS, "repair_cost_not_negative"),
            never_negative(("hours", "let_in_kg"), "repair_hours_and_mass_not_negative"),
            after_the_order("promised", "repair_promised_after_order"),
            after_the_order("done", "repair_done_after_order"),
            models.CheckConstraint(
                condition=Q(ended="", ended_on__isnull=True) | ~Q(ended="") & Q(ended_on__isnull=False),
                name="repair_ended_on_a_day",
            ),
        ]
        indexes = [models.Index(fields=["component"], name="repair_open", condition=Q(ended=""))]

    def __str__(self):
        return self.what

    def get_absolute_url(self):
        return reverse("repair", args=[self.pk])

    @property
    def by_words(self) -> str:
        return str(self.firm) if self.firm_id else self.who
