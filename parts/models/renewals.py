"""Renewals: the way to a new piece, a route of steps; and the routes that may be taken."""

from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from core.models.checks import known
from core.models.numbered import numbered

from ..domain.job_words import Ending, StepEnd
from .decisions import Decision
from .firms import Firm
from .money import COSTS, after_the_order, cost, currency, never_negative
from .positions import Position
from .promises import SLIPS


class RenewalQuerySet(models.QuerySet):
    def under_way(self):
        return self.filter(ended=Ending.OPEN.value)

    def to_choose(self):
        """Everything under way, for a list to choose from."""
        return self.under_way().select_related("position").order_by("position__name", "id")

    def of_place(self, position):
        """Every renewal that a place has had, the open ones first."""
        return self.filter(position=position).order_by("ended", "-id")

    def around_piece(self, component):
        """Those that it comes from, and those of its successors."""
        found = self.filter(Q(replaces=component) | Q(pk=component.renewal_id)).select_related("position")
        return found.order_by("ended", "-id")

    def for_page(self):
        return self.select_related(
            "position__locomotive", "position__subassembly", "replaces", "pattern", "decision__decided_by"
        )

    def of_locomotive(self, locomotive):
        """What is under way for it, with its places and steps, in the order of the places."""
        found = self.under_way().filter(position__locomotive=locomotive).select_related("position__subassembly")
        found = found.order_by("position__subassembly__sequence", "position__name", "id")
        return found.prefetch_related("steps__firm", "steps__promises__event")


class Renewal(models.Model):
    """One way to a new piece for a place. The old piece may still fill it meanwhile."""

    position = models.ForeignKey(Position, on_delete=models.PROTECT, related_name="renewals")
    replaces = models.ForeignKey(
        "parts.Component", on_delete=models.PROTECT, null=True, blank=True, related_name="renewals"
    )
    pattern = models.ForeignKey(
        "parts.Pattern", on_delete=models.PROTECT, null=True, blank=True, related_name="renewals",
        help_text="what it is cast from",
    )  # fmt: skip
    decision = models.ForeignKey(Decision, on_delete=models.PROTECT, null=True, blank=True, related_name="renewals")
    route = models.CharField("by what route", max_length=120)
    quantity = models.PositiveIntegerField(default=1)
    why = models.TextField(blank=True, default="")
    opened = models.DateField()
    ended = models.CharField(max_length=10, blank=True, default=Ending.OPEN.value, editable=False)
    ended_on = models.DateField(null=True, blank=True, editable=False)
    why_ended = models.CharField(max_length=300, blank=True, default="", editable=False)
    last_event = models.BigIntegerField(default=0, editable=False)

    objects = RenewalQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            known("ended", Ending, "renewal_ending_known"),
            models.CheckConstraint(condition=Q(quantity__gte=1), name="renewal_quantity_positive"),
            models.CheckConstraint(
                condition=Q(ended="", ended_on__isnull=True) | ~Q(ended="") & Q(ended_on__isnull=False),
                name="renewal_ended_on_a_day",
            ),
        ]
        indexes = [models.Index(fields=["position"], name="renewal_open", condition=Q(ended=""))]

    def __str__(self):
        return f"{self.position.words}: {self.route}"

    def get_absolute_url(self):
        return reverse("renewal", args=[self.pk])


class RenewalStepQuerySet(models.QuerySet):
    def under_way(self):
        return self.filter(ended=StepEnd.OPEN.value)

    def with_slips(self):
        """Each with `slips`, how often a later day was promised than before."""
        return self.annotate(slips=SLIPS)

    def by_number(self, number):
        """The one of this number, with its renewal and what leads to it; None where there is none."""
        found = self.select_related(
            "firm", "renewal__position__locomotive", "renewal__position__subassembly", "renewal__replaces"
        )
        return numbered(found, number)

    def of_locomotive(self, locomotive):
        return self.filter(renewal__position__locomotive=locomotive)

    def to_go_back_to(self, step):
        """From which a failed step may be made again: itself, and what was done before it."""
        return self.filter(Q(pk=step.pk) | Q(ended=StepEnd.DONE.value, number__lt=step.number))

    def for_page(self):
        """In the order of the route: a counting query keeps no order of its own."""
        found = (
            self.with_slips()
            .select_related("firm", "again")
            .prefetch_related("promises__by", "promises__event", "holds")
        )
        return found.order_by("number", "id")

    def promised_by_firms(self):
        """The current steps that firms have in hand: what each has promised."""
        found = self.under_way().filter(firm__isnull=False, promised__isnull=False, renewal__ended=Ending.OPEN.value)
        return found.select_related("renewal__position")

    def at_firm(self, firm):
        """What this firm has under way, the earliest promise first."""
        found = self.under_way().filter(firm=firm, renewal__ended=Ending.OPEN.value).with_slips()
        found = found.select_related("renewal__position__locomotive")
        return found.order_by(F("promised").asc(nulls_last=True), "id")


class RenewalStep(models.Model):
    """One step of a route. A failed one stays, with its cost and its delay; it is made again as a further step."""

    renewal = models.ForeignKey(Renewal, on_delete=models.PROTECT, related_name="steps")
    number = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=120)
    firm = models.ForeignKey(Firm, on_delete=models.PROTECT, null=True, blank=True, related_name="steps")
    who = models.CharField("who does it", max_length=120, blank=True, default="")
    ordered = models.DateField(null=True, blank=True)
    promised = models.DateField(null=True, blank=True)
    done = models.DateField(null=True, blank=True)
    estimate = cost("estimated cost")
    committed = cost("cost ordered")
    actual = cost("cost paid")
    currency = currency()
    papers = models.CharField(max_length=300, blank=True, default="")
    note = models.CharField(max_length=300, blank=True, default="")
    again = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="repeats", help_text="the step it repeats"
    )
    ended = models.CharField(max_length=10, blank=True, default=StepEnd.OPEN.value, editable=False)
    ended_on = models.DateField(null=True, blank=True, editable=False)
    why_ended = models.CharField(max_length=300, blank=True, default="", editable=False)

    objects = RenewalStepQuerySet.as_manager()

    class Meta:
        ordering = ["renewal", "number", "id"]
        constraints = [
            known("ended", StepEnd, "step_ending_known"),
            never_negative(COSTS, "step_cost_not_negative"),
            after_the_order("promised", "step_promised_after_order"),
            after_the_order("done", "step_done_after_order"),
            models.CheckConstraint(
                condition=Q(ended="", ended_on__isnull=True) | ~Q(ended="") & Q(ended_on__isnull=False),
                name="step_ended_on_a_day",
            ),
            models.CheckConstraint(
                condition=Q(ended="done", done__isnull=False) | ~Q(ended="done") & Q(done__isnull=True),
                name="step_done_on_a_day",
            ),
            models.CheckConstraint(condition=~Q(name=""), name="step_has_a_name"),
        ]

    def __str__(self):
        return self.name

    @property
    def by_words(self) -> str:
        return str(self.firm) if self.firm_id else self.who


class RouteTemplate(models.Model):
    """A route as this works takes it: one that is supplied and was edited here, or one of its own."""

    key = models.SlugField(max_length=60, unique=True)
    name = models.CharField(max_length=120)
    says = models.CharField("when it is taken", max_length=300, blank=True, default="")
    steps = models.JSONField(default=list, help_text="pairs of a step and the papers that it brings")
    retired = models.BooleanField(default=False)

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name
