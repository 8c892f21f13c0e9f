"""Machines and places that work queues for, and the work that needs them."""

from django.db import models
from django.db.models import F, Q

from .planning import DAY_MINUTES, DAYS, TOOK
from .structure import Subassembly


def _hours() -> models.PositiveSmallIntegerField:
    return models.PositiveSmallIntegerField(null=True, blank=True, help_text="minutes; blank is whenever it is open")


class Machine(models.Model):
    """A machine or a place that work queues for: a lathe, a wash bay, a hoist. So many jobs at once."""

    name = models.CharField(max_length=60, unique=True)
    units = models.PositiveSmallIntegerField(default=1)
    monday = _hours()
    tuesday = _hours()
    wednesday = _hours()
    thursday = _hours()
    friday = _hours()
    saturday = _hours()
    sunday = _hours()
    out_of_use = models.BooleanField(default=False)
    last_event = models.BigIntegerField(default=0, editable=False)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(condition=Q(units__gte=1), name="machine_takes_one_job"),
            *(
                models.CheckConstraint(
                    condition=Q(**{f"{day}__isnull": True}) | Q(**{f"{day}__lte": DAY_MINUTES}),
                    name=f"machine_{day}_has_24_hours",
                )
                for day in DAYS
            ),
        ]

    def __str__(self):
        return self.name

    @property
    def week(self) -> tuple[int | None, ...]:
        return tuple(getattr(self, day) for day in DAYS)


class MachineWorkQuerySet(models.QuerySet):
    def to_do(self, locomotive):
        """In the order in which the subassemblies go together."""
        found = self.filter(subassembly__locomotive=locomotive, subassembly__retired=False, done_on=None)
        found = found.select_related("subassembly__locomotive", "machine")
        return found.order_by("subassembly__sequence", "subassembly", "id")


class MachineWork(models.Model):
    """Work of a subassembly that a machine or a skill is needed for, guessed apart from the rest: turn the tyres on the
    wheel lathe. It comes before the subassembly is put together."""

    subassembly = models.ForeignKey(Subassembly, on_delete=models.PROTECT, related_name="machine_work")
    what = models.CharField(max_length=80)
    least = models.DecimalField(max_digits=6, decimal_places=1)
    likely = models.DecimalField(max_digits=6, decimal_places=1)
    most = models.DecimalField(max_digits=6, decimal_places=1)
    hands = models.PositiveSmallIntegerField(default=1)
    machine = models.ForeignKey(Machine, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    skill = models.CharField(max_length=40, blank=True, default="")
    done_on = models.DateField(null=True, blank=True)
    took = models.CharField(max_length=12, blank=True, default="")

    objects = MachineWorkQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(least__gte=0, least__lte=F("likely"), likely__lte=F("most")), name="machine_work_in_order"
            ),
            models.CheckConstraint(condition=Q(took__in=("", *TOOK)), name="machine_work_took"),
        ]

    def __str__(self):
        return self.what
