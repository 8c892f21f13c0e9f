"""The sheet of a working party's day: who is on it, the jobs, and who does which."""

from django.conf import settings
from django.db import models
from django.db.models import Prefetch, Q
from django.urls import reverse

from core.models.checks import together

from ..domain.plain import day
from .locomotives import Locomotive
from .machines import MachineWork
from .planning import TOOK
from .structure import Subassembly


class DaySheet(models.Model):
    """What a working party sets out to do on a day, on one locomotive."""

    told: list[str]  # who cannot come by now, for whoever runs it
    locomotive = models.ForeignKey(Locomotive, on_delete=models.CASCADE, related_name="day_sheets")
    date = models.DateField()
    in_charge = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    last_event = models.BigIntegerField(default=0, editable=False)

    class Meta:
        ordering = ["-date"]
        constraints = [models.UniqueConstraint(fields=["locomotive", "date"], name="one_day_sheet_a_day")]

    def __str__(self):
        return f"Day sheet of {day(self.date)}, {self.locomotive}"

    def get_absolute_url(self):
        return reverse("day_sheet", args=[self.locomotive.slug, self.date])


class DayHand(models.Model):
    """Somebody who is expected on the day, and whether they came."""

    sheet = models.ForeignKey(DaySheet, on_delete=models.CASCADE, related_name="hands")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    arrived = models.BooleanField(default=False)

    class Meta:
        ordering = ["person__first_name", "person__last_name", "pk"]
        constraints = [models.UniqueConstraint(fields=["sheet", "person"], name="hand_once_a_day")]

    def __str__(self):
        return str(self.person)


class DayJobQuerySet(models.QuerySet):
    def with_hands(self):
        hands = DayHand.objects.select_related("person")
        return self.select_related("done_by", "machine_work").prefetch_related(Prefetch("hands", queryset=hands))

    def on_machines(self, day):
        """Those of a day, of every locomotive, that hold a machine: somebody is on them, or was."""
        found = self.filter(sheet__date=day, machine_work__machine__isnull=False)
        found = found.filter(Q(machine_work__done_on=None) | Q(machine_work__done_on__gte=day))
        found = found.filter(Q(hands__isnull=False) | Q(done_at__isnull=False)).distinct()
        return found.select_related("machine_work__machine").order_by("pk")


class DayJob(models.Model):
    """One job of the day; without hands it is kept in reserve. What has to be done stands on the page at `href`."""

    pieces: str  # the names and tags of what it is about, for the page that asks for them
    who: list[str]  # those on it in words, for the same page
    sheet = models.ForeignKey(DaySheet, on_delete=models.CASCADE, related_name="jobs")
    number = models.PositiveSmallIntegerField()
    need = models.CharField(max_length=20)
    words = models.CharField(max_length=200)
    href = models.CharField(max_length=2000)
    where = models.CharField(max_length=300, blank=True, default="")
    look = models.CharField(max_length=60, blank=True, default="")
    danger = models.CharField(max_length=80, blank=True, default="", help_text="why nobody does it alone")
    cautions = models.JSONField(default=list)
    places = models.JSONField(default=list, help_text="numbers of the places that it is about, or of some of them")
    chosen_of = models.ForeignKey(
        Subassembly, on_delete=models.CASCADE, null=True, blank=True, related_name="+",
        help_text="somebody chose this work of a subassembly, so it is dealt first",
    )  # fmt: skip
    machine_work = models.ForeignKey(MachineWork, on_delete=models.CASCADE, null=True, blank=True, related_name="+")
    hands = models.ManyToManyField(DayHand, related_name="jobs")
    done_at = models.DateTimeField(null=True, blank=True)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    took = models.CharField(max_length=12, blank=True, default="")

    objects = DayJobQuerySet.as_manager()

    class Meta:
        ordering = ["number", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["sheet", "need", "href"], name="job_once_a_day"),
            models.CheckConstraint(condition=models.Q(took__in=("", *TOOK)), name="job_took"),
            together("done_at", "done_by", "job_done_by_and_at"),
        ]
