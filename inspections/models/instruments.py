"""Instruments, and each time one was calibrated."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from core.models.checks import together

from ..domain.instruments import Instrument as PlainInstrument
from .exact_field import MillimetresField


class InstrumentQuerySet(models.QuerySet):
    def in_use(self):
        return self.filter(retired=False).order_by("code")

    def out_of_use(self):
        return self.filter(retired=True).order_by("code")

    def by_date(self):
        """In use, those that need seeing to first: found out of true, never calibrated, then by the day they lapse."""
        return self.filter(retired=False).order_by(
            "-found_out", models.F("calibrated_until").asc(nulls_first=True), "code"
        )

    def good_on(self, day):
        """Those that may stand behind a signature on that day."""
        return self.in_use().filter(calibrated_until__gte=day, found_out=False)


class Instrument(models.Model):
    """One instrument. Its uncertainty and date are those of its last calibration, written together with it."""

    code = models.CharField("number on the instrument", max_length=30, unique=True)
    kind = models.CharField(max_length=80, help_text="outside micrometer, vernier caliper, bore gauge …")
    low = MillimetresField("measures from", null=True, blank=True)
    high = MillimetresField("measures to", null=True, blank=True)
    resolution = MillimetresField(null=True, blank=True)
    unit = models.CharField(max_length=2, default="mm")
    uncertainty = MillimetresField("expanded uncertainty", help_text="coverage factor 2")
    calibrated_until = models.DateField(null=True, blank=True)
    found_out = models.BooleanField("found out of true at its last calibration", default=False)
    note = models.CharField(max_length=300, blank=True, default="")
    retired = models.BooleanField(default=False)

    objects = InstrumentQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(condition=Q(unit__in=["mm", "in"]), name="instrument_unit_known"),
            models.CheckConstraint(condition=~Q(code=""), name="instrument_has_a_number"),
        ]

    def __str__(self):
        return f"{self.kind} {self.code}"

    def plain(self) -> PlainInstrument:
        return PlainInstrument(
            code=self.code,
            kind=self.kind,
            low_mm=self.low,
            high_mm=self.high,
            resolution_mm=self.resolution,
            uncertainty_mm=self.uncertainty,
            calibrated_until=self.calibrated_until,
        )


class Calibration(models.Model):
    """One calibration. Never edited: the next one follows it."""

    instrument = models.ForeignKey(Instrument, on_delete=models.PROTECT, related_name="calibrations")
    on = models.DateField("calibrated on")
    until = models.DateField("good until", null=True, blank=True)
    uncertainty = MillimetresField("expanded uncertainty", null=True, blank=True)
    found_out = models.BooleanField("found out of true as it came", default=False)
    certificate = models.CharField(max_length=160)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["-id"]
        constraints = [
            together("until", "uncertainty", "calibration_until_and_uncertainty"),
            models.CheckConstraint(condition=~Q(certificate=""), name="calibration_names_its_certificate"),
            models.CheckConstraint(
                condition=Q(found_out=True) | Q(until__isnull=False), name="calibration_is_good_or_found_out"
            ),
        ]
