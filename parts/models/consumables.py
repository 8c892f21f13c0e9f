"""Consumables: what is new every time, counted in stock and ordered; no tag and no state."""

from django.db import models
from django.db.models import Exists, F, OuterRef, Prefetch, Q, Subquery, Sum
from django.db.models.functions import Coalesce, Lower
from django.urls import reverse

from core.models.numbered import numbered

from .firms import Firm
from .locations import Location
from .positions import Position

OPEN = ("ready", "blocked")
"""Standings of places that still want theirs. What is refitted has had its own; what sleeps wants none yet."""
ENDED = ("", "arrived", "given up")
"""How an order came to its end; an open one has none."""


class ConsumableQuerySet(models.QuerySet):
    def in_use(self):
        return self.filter(retired=False)

    def by_number(self, number):
        return numbered(self, number)

    def with_stock(self):
        """Each with `wanted` by the open places and not in hand for them, and its orders still to come."""
        wanted = ConsumableUse.objects.still_open().filter(consumable=OuterRef("pk")).order_by()
        total = wanted.values("consumable").annotate(sum=Sum(F("quantity") - F("in_hand"))).values("sum")
        to_come = ConsumableOrder.objects.to_come().select_related("firm")
        return (
            self.annotate(wanted=Coalesce(Subquery(total), 0))
            .select_related("location")
            .prefetch_related(Prefetch("orders", to_come, to_attr="to_come"))
            .order_by(Lower("name"), "size", "id")
        )


class Consumable(models.Model):
    """One sort of joint, packing, pin …, of one size."""

    name = models.CharField("what it is", max_length=120)
    size = models.CharField(max_length=120, blank=True, default="")
    unit = models.CharField("counted in", max_length=12, blank=True, default="")
    in_stock = models.PositiveIntegerField(default=0)
    least = models.PositiveIntegerField("least stock", default=0)
    location = models.ForeignKey(
        Location, on_delete=models.PROTECT, null=True, blank=True, related_name="consumables", help_text="stock place"
    )
    note = models.CharField(max_length=300, blank=True, default="")
    retired = models.BooleanField(default=False)
    last_event = models.BigIntegerField(default=0, editable=False)

    objects = ConsumableQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(Lower("name"), Lower("size"), name="consumable_once")]

    def __str__(self):
        return f"{self.name}, {self.size}" if self.size else self.name

    def get_absolute_url(self):
        return reverse("consumable", args=[self.pk])


class ConsumableUseQuerySet(models.QuerySet):
    def still_open(self):
        """Of places that are not together yet, on a locomotive that is being overhauled."""
        open_now = {"position__locomotive__overhauls__isnull": False, "position__locomotive__overhauls__closed": None}
        return self.filter(position__retired=False, position__standing__in=OPEN, **open_now)

    def with_open(self):
        """Each with `is_open`: whether what it wants counts."""
        return self.annotate(is_open=Exists(ConsumableUse.objects.still_open().filter(pk=OuterRef("pk"))))

    def in_order(self):
        found = self.select_related("position__subassembly", "position__locomotive", "consumable")
        return found.order_by("position__locomotive", "position__subassembly__sequence", "position__name", "id")


class ConsumableUse(models.Model):
    """How many one place takes each time it goes together."""

    consumable = models.ForeignKey(Consumable, on_delete=models.CASCADE, related_name="uses")
    position = models.ForeignKey(Position, on_delete=models.CASCADE, related_name="consumables")
    quantity = models.PositiveIntegerField(default=1)
    in_hand = models.PositiveIntegerField("taken from the shelf for it, and not fitted yet", default=0)

    objects = ConsumableUseQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["consumable", "position"], name="consumable_use_once"),
            models.CheckConstraint(condition=Q(quantity__gte=1), name="consumable_use_positive"),
            models.CheckConstraint(condition=Q(in_hand__lte=F("quantity")), name="no_more_in_hand_than_used"),
        ]


class ConsumableOrderQuerySet(models.QuerySet):
    def to_come(self):
        return self.filter(ended="").order_by(F("promised").asc(nulls_last=True), "id")


class ConsumableOrder(models.Model):
    """So many ordered, of whom, and the day they promised."""

    consumable = models.ForeignKey(Consumable, on_delete=models.PROTECT, related_name="orders")
    quantity = models.PositiveIntegerField()
    firm = models.ForeignKey(Firm, on_delete=models.PROTECT, null=True, blank=True, related_name="consumable_orders")
    who = models.CharField("of whom", max_length=120, blank=True, default="")
    ordered = models.DateField()
    promised = models.DateField(null=True, blank=True)
    ended = models.CharField(max_length=10, blank=True, default="")

    objects = ConsumableOrderQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gte=1), name="consumable_order_positive"),
            models.CheckConstraint(condition=Q(ended__in=ENDED), name="consumable_order_ended"),
            models.CheckConstraint(
                condition=Q(promised__isnull=True) | Q(promised__gte=F("ordered")), name="consumable_promised_after"
            ),
        ]

    @property
    def of(self) -> str:
        return str(self.firm) if self.firm_id else self.who
