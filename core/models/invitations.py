"""Invitations: a card with a code that lets one new person in, once, with roles that were settled beforehand."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone


class InvitationQuerySet(models.QuerySet):
    def listed(self):
        """Those that wait first, then what became of the others."""
        return self.select_related("made_by", "used_by").order_by(
            models.F("used_at").asc(nulls_first=True), models.F("withdrawn_at").asc(nulls_first=True), "-made_at", "-id"
        )

    def by_number(self, number: int):
        return self.filter(pk=number).first()

    def of_code(self, code_hash: str):
        return self.filter(code_hash=code_hash).select_related("made_by", "used_by").first()


class Invitation(models.Model):
    """Only the hash of its code is kept. `form_key` makes one invitation of a form that was sent twice."""

    code_hash = models.CharField(max_length=64, unique=True)
    form_key = models.CharField(max_length=40, unique=True)
    name = models.CharField(max_length=200, blank=True)
    roles = models.JSONField(default=list)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField(default=timezone.now)
    expires = models.DateTimeField()
    used_by = models.OneToOneField(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="invitation"
    )
    used_at = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = InvitationQuerySet.as_manager()

    class Meta:
        db_table = "workshop_invitation"
        constraints = [
            models.CheckConstraint(
                condition=Q(used_by__isnull=True, used_at__isnull=True)
                | Q(used_by__isnull=False, used_at__isnull=False),
                name="invitation_used_by_and_when",
            ),
            models.CheckConstraint(
                condition=Q(used_at__isnull=True) | Q(withdrawn_at__isnull=True), name="invitation_used_or_withdrawn"
            ),
        ]

    def __str__(self):
        return f"{self.name or 'somebody'} as {', '.join(self.roles)}"

    @property
    def state(self) -> str:
        if self.used_at:
            return "used"
        if self.withdrawn_at:
            return "withdrawn"
        return "expired" if self.expires <= timezone.now() else "waiting"
