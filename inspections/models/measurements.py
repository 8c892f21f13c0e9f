"""What was measured: a dimension of one piece in one signed record, its readings, and what was allowed beyond them."""

from django.conf import settings
from django.db import models
from django.db.models import Exists, F, OuterRef, Q, Subquery

from core.models import Event
from core.models.checks import known
from parts.models import Component, Tag

from ..domain.classes import SizeClass
from .dimensions import Dimension, Limits
from .exact_field import MillimetresField
from .examinations import Examination
from .instruments import Calibration, Instrument


class MeasurementQuerySet(models.QuerySet):
    def that_count(self):
        """Signed, not superseded. Oldest first, so that a dict of them keeps the latest."""
        found = self.filter(examination__signed_at__isnull=False, examination__superseded_by__isnull=True)
        return found.order_by("examination__event_id", "id")

    def taken_with(self, instrument):
        """The latest first, each with the piece, its tag and the size."""
        found = self.that_count().filter(instrument=instrument).with_what_followed()
        return found.select_related("examination__component__place", "dimension").order_by(
            "-examination__event_id", "-id"
        )

    def for_sides(self, numbers) -> dict:
        """By number, each with its record and the piece with its tag."""
        found = self.filter(pk__in=numbers).select_related("examination__component")
        tag = Tag.objects.filter(component=OuterRef("examination__component"), current=True)
        return found.annotate(code=Subquery(tag.values("code")[:1])).in_bulk()

    def measured_since(self, taken) -> set[int]:
        """Of these, the numbers of those whose size was measured again on the same piece in a later record."""
        pieces = {one.examination.component_id for one in taken}
        newest: dict = {}
        for piece, size, event in (
            self.that_count().filter(examination__component__in=pieces)
            .values_list("examination__component", "dimension", "examination__event")
        ):  # fmt: skip
            newest[piece, size] = event
        return {
            one.pk
            for one in taken
            if newest[one.examination.component_id, one.dimension_id] != one.examination.event_id
        }

    def of_dimension(self, dimension):
        return self.filter(dimension=dimension)

    def signed(self):
        return self.filter(examination__signed_at__isnull=False)

    def with_page(self):
        """With all that a page about one of them names."""
        return self.select_related("dimension", "limits__dimension", "examination__signed_by", "instrument")

    def to_decide(self):
        """Outside their limits, and under no concession."""
        return self.filter(outside=True, concessions__isnull=True).order_by("id")

    def over_the_years(self, most: int = 200):
        """The latest that count, each with its record, the piece and who signed; the oldest first."""
        found = self.that_count().select_related("examination__component", "examination__signed_by", "limits")
        tag = Tag.objects.filter(component=OuterRef("examination__component"), current=True)
        return found.annotate(code=Subquery(tag.values("code")[:1])).order_by("-examination__on", "-id")[:most][::-1]

    def of_piece(self, component):
        return self.that_count().filter(examination__component=component)

    def with_what_followed(self):
        """Each with what came after it: a concession, its look-again date, the instrument's next findings."""
        conceded = Concession.objects.filter(measurement=OuterRef("pk")).order_by("-id")
        later = Calibration.objects.filter(instrument=OuterRef("instrument"), id__gt=OuterRef("calibration")).order_by(
            "id"
        )
        return self.select_related("dimension", "instrument").annotate(
            event_number=F("examination__event"),
            conceded=Exists(conceded),
            conceded_until=Subquery(conceded.values("look_again")[:1]),
            found_out_later=Subquery(later.values("found_out")[:1]),
        )


class Measurement(models.Model):
    """One dimension as measured in one record, with its verdict and the edition of the limits it was judged by."""

    examination = models.ForeignKey(Examination, on_delete=models.PROTECT, related_name="measurements")
    dimension = models.ForeignKey(Dimension, on_delete=models.PROTECT, related_name="measurements")
    limits = models.ForeignKey(Limits, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    dimension_words = models.CharField(
        max_length=140, blank=True, default="", help_text="as it was called on the day; blank before form 2"
    )
    instrument = models.ForeignKey(Instrument, on_delete=models.PROTECT, related_name="measurements")
    instrument_words = models.CharField(max_length=120, help_text="as it was called on the day")
    calibration = models.ForeignKey(Calibration, on_delete=models.PROTECT, related_name="+")
    uncertainty = MillimetresField("expanded uncertainty")
    rule = models.CharField(max_length=8)
    value = MillimetresField("the worst reading")
    least = MillimetresField()
    most = MillimetresField()
    ovality = MillimetresField(null=True, blank=True)
    taper = MillimetresField(null=True, blank=True)
    size_class = models.CharField("verdict", max_length=24, blank=True, default="")
    outside = models.BooleanField(default=False)
    beyond_scrapping = models.BooleanField(default=False)
    sentence = models.CharField(max_length=400)
    questions = models.JSONField(default=list, blank=True, help_text="what was questioned, and the reason it was kept")

    objects = MeasurementQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        constraints = [
            known("size_class", SizeClass, "measurement_size_class_known", blank=True),
            models.UniqueConstraint(fields=["examination", "dimension"], name="measured_once_in_a_record"),
            models.CheckConstraint(
                condition=Q(size_class="", limits__isnull=True) | (~Q(size_class="") & Q(limits__isnull=False)),
                name="a_verdict_keeps_its_limits",
            ),
        ]

    def __str__(self):
        return self.sentence


class Reading(models.Model):
    """One reading, as typed and in exact millimetres. Without a unit there is none."""

    measurement = models.ForeignKey(Measurement, on_delete=models.PROTECT, related_name="readings")
    station = models.CharField(max_length=60, blank=True, default="")
    direction = models.CharField(max_length=60, blank=True, default="")
    typed = models.CharField(max_length=60)
    unit = models.CharField(max_length=2)
    value = MillimetresField()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(condition=Q(unit__in=["mm", "in"]), name="reading_has_a_unit"),
            models.CheckConstraint(condition=~Q(typed=""), name="reading_keeps_what_was_typed"),
            models.UniqueConstraint(fields=["measurement", "station", "direction"], name="read_once_at_a_spot"),
        ]


class Concession(models.Model):
    """Acceptance outside a shop limit, of one size as measured in one record or of one fit. Never edited."""

    measurement = models.ForeignKey(
        Measurement, on_delete=models.PROTECT, null=True, blank=True, related_name="concessions"
    )
    fit = models.ForeignKey(
        "inspections.Fit", on_delete=models.PROTECT, null=True, blank=True, related_name="concessions"
    )
    hole = models.ForeignKey(Measurement, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    shaft = models.ForeignKey(Measurement, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    reason = models.TextField()
    look_again = models.DateField("look again on", null=True, blank=True)
    paper = models.CharField("the inspecting body's paper", max_length=200, blank=True, default="")
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="concession")
    granted_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    granted_at = models.DateTimeField()

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(condition=~Q(reason=""), name="concession_has_a_reason"),
            models.CheckConstraint(
                condition=Q(measurement__isnull=False, fit__isnull=True, hole__isnull=True, shaft__isnull=True)
                | Q(measurement__isnull=True, fit__isnull=False, hole__isnull=False, shaft__isnull=False),
                name="concession_of_a_size_or_of_a_fit",
            ),
        ]


class Draft(models.Model):
    """What somebody has typed at the bench and not signed yet, kept as typed: even what cannot be read."""

    component = models.ForeignKey(Component, on_delete=models.CASCADE, related_name="+")
    author = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    kind = models.CharField(max_length=20)
    entered = models.JSONField(default=dict)
    at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["component", "author", "kind"], name="draft_once")]
