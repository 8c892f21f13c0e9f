"""Examinations: dated, signed records that somebody looked."""

from django.conf import settings
from django.db import models
from django.db.models import Exists, OuterRef, Q

from core.models import Event
from core.models.checks import known, together
from parts.domain.words import Kind, Method, Result
from parts.models import Component, Position


class ExaminationQuerySet(models.QuerySet):
    def not_superseded(self):
        """Signed records that no later one has taken the place of."""
        return self.filter(signed_at__isnull=False, superseded_by__isnull=True)

    def last_word(self):
        """What was found last on each piece by a look of its kind."""
        later = Examination.objects.not_superseded().filter(
            component=OuterRef("component"), kind=OuterRef("kind"), event__gt=OuterRef("event")
        )
        return self.not_superseded().filter(~Exists(later))

    def signed_once(self):
        """Signed; or once signed, which its digest betrays."""
        return self.exclude(signed_at=None, digest="")

    def of_pieces(self, pieces):
        """Signed records of these pieces, as they were signed, with all that a report of them names."""
        return self.filter(component__in=pieces, signed_at__isnull=False).order_by("event_id").for_page()

    def of_kinds(self, kinds):
        return self.filter(kind__in=[str(kind) for kind in kinds])

    def of_same_kind(self, kind):
        return self.filter(kind=str(kind))

    def for_page(self):
        """With all that the page of a record names, in the one query."""
        return self.select_related(
            "component__locomotive", "component__place", "position__subassembly", "position__locomotive", "signed_by",
            "supersedes", "superseded_by", "crack_check__level_by",
        )  # fmt: skip


class Examination(models.Model):
    """One look at one piece. Once signed it is never changed; a later one may supersede it."""

    component = models.ForeignKey(Component, on_delete=models.PROTECT, related_name="examinations")
    position = models.ForeignKey(
        Position, on_delete=models.PROTECT, null=True, blank=True, related_name="+", help_text="the place it was for"
    )
    kind = models.CharField(max_length=20)
    method = models.CharField(max_length=20, blank=True, default="")
    result = models.CharField(max_length=12)
    found = models.TextField("what was found", blank=True, default="")
    remarks = models.TextField(blank=True, default="")
    reached = models.JSONField("surfaces reached", default=list, blank=True)
    not_reached = models.JSONField("surfaces not reached", default=list, blank=True)
    figures = models.JSONField(
        default=dict, blank=True, help_text="of a test of a piece, as typed, by field (domain/piece_tests.py)"
    )
    on = models.DateField("examined on")
    event = models.OneToOneField(Event, on_delete=models.PROTECT, null=True, blank=True, related_name="examination")
    signed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    signed_at = models.DateTimeField(null=True, blank=True)
    supersedes = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="superseded_by"
    )
    subject = models.JSONField(
        default=dict, blank=True, help_text="the piece and the signer as they were named on the day"
    )
    form = models.PositiveSmallIntegerField(
        default=1, help_text="the form that its digest is over (records/digests.py)"
    )
    digest = models.CharField(max_length=64, blank=True, default="", help_text="SHA-256 over all that the record says")

    objects = ExaminationQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            known("kind", Kind, "examination_kind_known"),
            known("method", Method, "examination_method_known", blank=True),
            known("result", Result, "examination_result_known"),
            together("signed_by", "signed_at", "examination_signed_by_and_at"),
            models.CheckConstraint(
                condition=Q(signed_at__isnull=True) | Q(event__isnull=False), name="signed_examination_is_logged"
            ),
            models.CheckConstraint(
                condition=(Q(kind="crack check") & ~Q(method__in=("", "any"))) | ~Q(kind="crack check"),
                name="crack_check_says_its_method",
            ),
            models.CheckConstraint(condition=Q(result="sound") | ~Q(found=""), name="a_finding_is_described"),
            models.CheckConstraint(condition=~Q(supersedes=models.F("id")), name="supersedes_another"),
        ]

    def __str__(self):
        return f"{self.method} {self.kind}".strip()


class FindingDecision(models.Model):
    """What the responsible engineer decided of what an examination showed. A row of its own, never edited."""

    examination = models.ForeignKey(Examination, on_delete=models.PROTECT, related_name="decisions")
    indication = models.ForeignKey(
        "inspections.Indication", on_delete=models.PROTECT, null=True, blank=True, related_name="decisions",
        help_text="the one thing that it decides; none: all that the record found",
    )  # fmt: skip
    decision = models.CharField(max_length=20)
    reason = models.TextField()
    event = models.OneToOneField(Event, on_delete=models.PROTECT, related_name="finding_decision")
    decided_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    decided_at = models.DateTimeField()

    class Decision(models.TextChoices):
        ACCEPT = "accept as it is", "Accept as it is"
        EXAMINE_AGAIN = "re-examine", "Dress out and examine again"
        REPAIR = "repair", "Repair"
        RENEW = "renew", "Reject: renew"

    class Meta:
        ordering = ["event"]
        constraints = [
            models.CheckConstraint(
                condition=Q(decision__in=["accept as it is", "re-examine", "repair", "renew"]),
                name="finding_decision_known",
            ),
            models.CheckConstraint(condition=~Q(reason=""), name="finding_decision_has_a_reason"),
        ]
