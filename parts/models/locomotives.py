"""The locomotive and its times in the works."""

from django.db import models
from django.db.models import F, FilteredRelation, Q
from django.urls import reverse

from .struck import StandingManager, Strikable


class LocomotiveQuerySet(models.QuerySet):
    def with_open_overhaul(self):
        """Each with `overhaul`, the number of its open one, and `since`, the day it was opened."""
        opened = FilteredRelation("overhauls", condition=Q(overhauls__closed__isnull=True))
        return self.annotate(opened=opened).annotate(overhaul=F("opened__number"), since=F("opened__opened"))

    def with_slug(self, slug: str):
        """The locomotive of this address; None where there is none."""
        return self.filter(slug=slug).first() if slug else None

    def last_seen(self, slug: str | None) -> str:
        """The slug of the locomotive looked at last, or else of the first there is; empty if there is none."""
        slugs = list(self.order_by("name").values_list("slug", flat=True))
        return slug if slug and slug in slugs else slugs[0] if slugs else ""


class Locomotive(Strikable):
    """The thing being overhauled."""

    name = models.CharField(max_length=120)
    slug = models.SlugField(max_length=60)
    wheels = models.CharField(
        "wheel arrangement", max_length=20, blank=True, help_text="Whyte notation, such as 0-6-0T"
    )
    gauge = models.CharField(max_length=40, blank=True)
    builder = models.CharField(max_length=120, blank=True)
    works_number = models.CharField(max_length=40, blank=True)
    built = models.CharField(max_length=20, blank=True)
    american = models.BooleanField(
        "American words", default=False, help_text="magnetic particle, hydrostatic, No. 1 and main axle"
    )

    objects = StandingManager.from_queryset(LocomotiveQuerySet)()

    class Meta:
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["slug"], condition=Q(struck=False), name="locomotive_slug_once")]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("locomotive", args=[self.slug])

    def open_overhaul(self):
        return self.overhauls.filter(closed__isnull=True).first()


class Overhaul(models.Model):
    """One time in the works, from strip to return to service."""

    locomotive = models.ForeignKey(Locomotive, on_delete=models.PROTECT, related_name="overhauls")
    number = models.PositiveSmallIntegerField()
    opened = models.DateField()
    closed = models.DateField(null=True, blank=True)
    reason = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["locomotive", "number"]
        constraints = [
            models.UniqueConstraint(fields=["locomotive", "number"], name="overhaul_number_once"),
            models.UniqueConstraint(fields=["locomotive"], condition=Q(closed__isnull=True), name="one_open_overhaul"),
            models.CheckConstraint(
                condition=Q(closed__isnull=True) | Q(closed__gte=models.F("opened")),
                name="overhaul_closes_after_opening",
            ),
        ]

    def __str__(self):
        return f"{self.locomotive}, overhaul {self.number}"
