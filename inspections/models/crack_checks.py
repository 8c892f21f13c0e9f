"""How a crack check was done, and each thing that it showed."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from core.models.checks import together
from parts.models import Photo

from .exact_field import MillimetresField
from .examinations import Examination

VIEWINGS = (("", "Not said"), ("fluorescent", "Fluorescent, under UV-A"), ("colour contrast", "Colour contrast"))
STAGES = (
    ("", "Not a weld repair"),
    ("excavation", "The excavation, before welding"),
    ("finished weld", "The finished weld, after the wait its procedure gives"),
    ("finished weld, nothing follows", "The finished weld; neither stress relief nor machining follows"),
    ("after stress relief", "After stress relief"),
    ("after final machining", "After final machining"),
)


class CrackCheck(models.Model):
    """The conditions of one crack check. Values out of the usual range are kept with the reason given."""

    examination = models.OneToOneField(Examination, on_delete=models.PROTECT, related_name="crack_check")
    procedure = models.CharField(max_length=160, blank=True, default="")
    technique = models.CharField(max_length=160, blank=True, default="", help_text="yoke, coil, prods; probe and angle")
    surface = models.CharField("surface and cleaning", max_length=200, blank=True, default="")
    equipment = models.CharField(max_length=200, blank=True, default="")
    consumables = models.CharField("consumables and batch", max_length=200, blank=True, default="")
    viewing = models.CharField(max_length=16, blank=True, default="")
    uv_a_w_m2 = models.DecimalField("UV-A, W/m²", max_digits=8, decimal_places=2, null=True, blank=True)
    light_lux = models.DecimalField("light, lx", max_digits=8, decimal_places=1, null=True, blank=True)
    dwell_min = models.DecimalField("penetrant dwell, minutes", max_digits=6, decimal_places=1, null=True, blank=True)
    surface_c = models.DecimalField("surface, °C", max_digits=5, decimal_places=1, null=True, blank=True)
    directions_deg = models.JSONField("magnetised in directions, degrees", default=list, blank=True)
    demagnetised = models.CharField(max_length=12, blank=True, default="")
    level = models.CharField("acceptance level", max_length=60, blank=True, default="")
    level_reason = models.CharField("why this level holds for the piece", max_length=300, blank=True, default="")
    level_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    stage = models.CharField("stage of a weld repair", max_length=32, blank=True, default="")
    details = models.JSONField("what the report states by method (domain/crack_details.py)", default=dict, blank=True)
    answers = models.JSONField("what was questioned, and the reason it was kept", default=list, blank=True)
    examiner_level = models.CharField("the examiner's qualification and level", max_length=80, blank=True, default="")
    examiner_until = models.DateField("good until", null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(viewing__in=[word for word, _ in VIEWINGS]), name="crack_check_viewing_known"
            ),
            models.CheckConstraint(condition=Q(stage__in=[word for word, _ in STAGES]), name="crack_check_stage_known"),
            models.CheckConstraint(
                condition=Q(demagnetised__in=["", "yes", "no", "not needed"]), name="crack_check_demagnetised_known"
            ),
        ]


class Indication(models.Model):
    """One thing that a crack check showed: where, what shape, how long, and how it stands to the level chosen."""

    examination = models.ForeignKey(Examination, on_delete=models.PROTECT, related_name="indications")
    number = models.PositiveIntegerField()
    where = models.CharField(max_length=200, blank=True, default="")
    photo = models.ForeignKey(Photo, on_delete=models.PROTECT, null=True, blank=True, related_name="indications")
    across = models.DecimalField("across the photo, of 1", max_digits=5, decimal_places=4, null=True, blank=True)
    down = models.DecimalField("down the photo, of 1", max_digits=5, decimal_places=4, null=True, blank=True)
    length = MillimetresField()
    width = MillimetresField(null=True, blank=True)
    typed = models.CharField("sizes as typed", max_length=120)
    linear = models.BooleanField(default=True)
    crack = models.BooleanField("a crack, or may be one", default=True)
    acceptable = models.BooleanField("within the acceptance level", null=True, blank=True)
    sentence = models.CharField(max_length=300)

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["examination", "number"], name="indication_numbered_once"),
            together("across", "down", "indication_marked_across_and_down"),
            models.CheckConstraint(condition=~Q(where="") | Q(across__isnull=False), name="indication_says_where"),
        ]

    def __str__(self):
        return f"Indication {self.number}: {self.sentence}"
