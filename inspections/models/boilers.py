"""A boiler with its file: what it is made of, its written scheme, what is written into the file, and signed records."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from core.models import Event
from core.models.checks import known, together
from parts.models import HoldPoint, Locomotive, Position

from ..domain.boiler_words import PRESSURE_KINDS, EntryKind, PartKind, PlateShape, RecordKind, Regime
from .exact_field import MillimetresField
from .instruments import Instrument


class BoilerQuerySet(models.QuerySet):
    def in_order(self):
        return self.select_related("locomotive").order_by("number")


class Boiler(models.Model):
    """One vessel. It stands on a locomotive, or is a spare; its file goes with it."""

    number = models.CharField("number of the boiler", max_length=40, unique=True)
    maker = models.CharField(max_length=120, blank=True, default="")
    built = models.CharField(max_length=20, blank=True, default="")
    regime = models.CharField(max_length=20)
    body = models.CharField("inspecting body", max_length=120)
    person = models.CharField("competent person", max_length=120, blank=True, default="")
    wanted = models.CharField("working pressure wanted, as written", max_length=40)
    locomotive = models.ForeignKey(
        Locomotive, on_delete=models.PROTECT, null=True, blank=True, related_name="boilers", help_text="none: a spare"
    )
    note = models.TextField(blank=True, default="")

    objects = BoilerQuerySet.as_manager()

    class Meta:
        ordering = ["number"]
        constraints = [
            known("regime", Regime, "boiler_regime_known"),
            models.CheckConstraint(condition=~Q(number="") & ~Q(body="") & ~Q(wanted=""), name="boiler_says_what"),
        ]

    def __str__(self):
        return f"boiler {self.number}"

    def get_absolute_url(self):
        return reverse("boiler", args=[self.pk])


class BoilerPart(models.Model):
    """A plate, a seam, a field of stays, tubes or a mounting. A plate has the sizes of its developed sheet."""

    boiler = models.ForeignKey(Boiler, on_delete=models.PROTECT, related_name="parts")
    kind = models.CharField(max_length=12)
    name = models.CharField(max_length=120)
    position = models.ForeignKey(Position, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    metal = models.CharField(max_length=40, default="steel")
    shape = models.CharField(max_length=16, default=PlateShape.SHEET.value)
    width = MillimetresField("width of the sheet", null=True, blank=True)
    height = MillimetresField("height of the sheet", null=True, blank=True)
    nominal = MillimetresField("thickness as new", null=True, blank=True)
    needed = MillimetresField("thickness needed", null=True, blank=True)
    needed_from = models.CharField("where the thickness needed comes from", max_length=160, blank=True, default="")
    features = models.TextField("seams, flanges, stay holes and plugs of it, one a line", blank=True, default="")

    class Meta:
        ordering = ["id"]
        constraints = [
            known("kind", PartKind, "boiler_part_kind_known"),
            known("shape", PlateShape, "boiler_part_shape_known"),
            models.UniqueConstraint(fields=["boiler", "name"], name="boiler_part_named_once"),
            models.CheckConstraint(
                condition=Q(needed__isnull=True) | ~Q(needed_from=""), name="thickness_needed_has_a_source"
            ),
            together("width", "height", "boiler_part_width_and_height"),
        ]

    def __str__(self):
        return self.name


class SchemeRow(models.Model):
    """A row of the written scheme of examination, as the competent person certified it."""

    boiler = models.ForeignKey(Boiler, on_delete=models.PROTECT, related_name="scheme")
    item = models.CharField(max_length=120)
    nature = models.CharField("nature of the examination", max_length=160)
    months = models.PositiveSmallIntegerField("interval in months")
    preparation = models.CharField(max_length=200, blank=True, default="")
    limits = models.CharField("safe limits", max_length=200, blank=True, default="")
    by = models.CharField("by whom", max_length=120)
    last = models.DateField("last done", null=True, blank=True)
    retired = models.BooleanField(default=False)

    class Meta:
        ordering = ["id"]
        constraints = [models.CheckConstraint(condition=Q(months__gt=0), name="scheme_interval_above_zero")]

    def __str__(self):
        return f"{self.item}: {self.nature}"


class BoilerEntry(models.Model):
    """Written into the file and never changed."""

    boiler = models.ForeignKey(Boiler, on_delete=models.PROTECT, related_name="entries")
    kind = models.CharField(max_length=32)
    on = models.DateField()
    part = models.ForeignKey(BoilerPart, on_delete=models.PROTECT, null=True, blank=True, related_name="entries")
    points = models.CharField("rows and columns of its grid; blank: all of it", max_length=120, blank=True, default="")
    row = models.ForeignKey(SchemeRow, on_delete=models.PROTECT, null=True, blank=True, related_name="entries")
    locomotive = models.ForeignKey(Locomotive, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    hold = models.ForeignKey(HoldPoint, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    words = models.TextField()
    pressure = models.CharField("working pressure from then on, as written", max_length=40, blank=True, default="")
    reference = models.CharField("paper", max_length=160, blank=True, default="")
    by = models.CharField("by whom", max_length=120, blank=True, default="")
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="boiler_entry")

    class Meta:
        ordering = ["event"]
        constraints = [
            known("kind", EntryKind, "boiler_entry_kind_known"),
            models.CheckConstraint(condition=~Q(words=""), name="boiler_entry_says_what"),
            models.CheckConstraint(
                condition=Q(kind__in=PRESSURE_KINDS) & ~Q(pressure="") & ~Q(reference="")
                | ~Q(kind__in=PRESSURE_KINDS) & Q(pressure=""),
                name="boiler_entry_pressure_and_its_paper",
            ),
        ]


class BoilerRecordQuerySet(models.QuerySet):
    def signed(self):
        return self.filter(signed_at__isnull=False)

    def in_force(self):
        """Signed, and no later one has taken their place."""
        return self.signed().filter(Q(superseded_by=None) | Q(superseded_by__signed_at=None))

    def for_page(self):
        return self.select_related(
            "boiler", "part", "instrument", "hold", "signed_by", "begun_by", "supersedes", "superseded_by"
        )


class BoilerRecord(models.Model):
    """A survey, a stay map, a calculation or a test. `entered` is what was typed; once signed it is never changed."""

    boiler = models.ForeignKey(Boiler, on_delete=models.PROTECT, related_name="records")
    part = models.ForeignKey(BoilerPart, on_delete=models.PROTECT, null=True, blank=True, related_name="records")
    kind = models.CharField(max_length=20)
    title = models.CharField(max_length=160)
    on = models.DateField()
    entered = models.JSONField(default=dict)
    instrument = models.ForeignKey(Instrument, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    hold = models.ForeignKey(HoldPoint, on_delete=models.PROTECT, null=True, blank=True, related_name="boiler_tests")
    begun_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    event = models.OneToOneField(Event, on_delete=models.PROTECT, null=True, blank=True, related_name="boiler_record")
    signed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    signed_at = models.DateTimeField(null=True, blank=True)
    supersedes = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="superseded_by"
    )
    subject = models.JSONField(default=dict, help_text="boiler, part and signer as they were named on the day")
    sentence = models.TextField("what it came to", blank=True, default="")
    passed = models.BooleanField(default=True)
    counts = models.BooleanField(default=True)
    form = models.PositiveSmallIntegerField(default=1)
    digest = models.CharField(max_length=64, blank=True, default="", help_text="SHA-256 over all that the record says")

    objects = BoilerRecordQuerySet.as_manager()

    class Meta:
        ordering = ["-on", "-id"]
        constraints = [
            known("kind", RecordKind, "boiler_record_kind_known"),
            together("signed_by", "signed_at", "boiler_record_signed_by_and_at"),
            models.CheckConstraint(
                condition=Q(signed_at__isnull=True) | (Q(event__isnull=False) & ~Q(digest="")),
                name="signed_boiler_record_is_logged",
            ),
            models.CheckConstraint(condition=~Q(supersedes=models.F("id")), name="boiler_record_supersedes_another"),
        ]

    def __str__(self):
        return f"{self.kind}: {self.title}"

    def get_absolute_url(self):
        return reverse("boiler_record", args=[self.pk])

    @property
    def taken_over_by(self):
        """The signed record that has taken its place."""
        later = getattr(self, "superseded_by", None)
        return later if later is not None and later.signed_at else None


class BoilerRecordNote(models.Model):
    """A second person's check of a record, or the paper on which the competent person accepted it. Never changed."""

    CHECKED, ACCEPTED = "checked", "accepted on paper"

    record = models.ForeignKey(BoilerRecord, on_delete=models.PROTECT, related_name="notes")
    kind = models.CharField(max_length=20)
    who = models.CharField(max_length=120, help_text="by name: who checked, or the competent person who accepted")
    words = models.TextField(blank=True, default="")
    reference = models.CharField("paper", max_length=160, blank=True, default="")
    digest = models.CharField("digest of the record that it is about", max_length=64)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="boiler_record_note")

    class Meta:
        ordering = ["event"]
        constraints = [
            models.CheckConstraint(
                condition=Q(kind="checked") | (Q(kind="accepted on paper") & ~Q(reference="")),
                name="acceptance_names_its_paper",
            ),
        ]
