"""What proves who somebody is beside the password, and how often that was tried in vain."""

from django.conf import settings
from django.db import models
from django.utils import timezone


class CardQuerySet(models.QuerySet):
    def of_code(self, code_hash: str):
        """The card with this secret, of somebody who still signs in."""
        return self.filter(code_hash=code_hash, person__is_active=True).select_related("person").first()

    def of_person(self, person):
        return self.filter(person=person).select_related("issued_by").first()


class Card(models.Model):
    """A person's printed sign-in card. Its code stands on the card only; a new card ends the one before."""

    person = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="card")
    code_hash = models.CharField(max_length=64, unique=True)
    issued_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    issued_at = models.DateTimeField(default=timezone.now)

    objects = CardQuerySet.as_manager()

    class Meta:
        db_table = "workshop_card"


class Attempts(models.Model):
    """Tries to sign in that have not succeeded, by what was tried: a name at an address, a PIN at a tablet."""

    key = models.CharField(max_length=250, unique=True)
    failures = models.PositiveIntegerField(default=0)
    last_at = models.DateTimeField(db_index=True)

    class Meta:
        db_table = "workshop_attempts"
