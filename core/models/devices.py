"""Where people are signed in: their own phones and computers, and the tablets that the works shares."""

from datetime import timedelta

from django.conf import settings
from django.contrib.sessions.models import Session
from django.db import models
from django.utils import timezone

SHOWN_FOR = timedelta(days=90)
MOST_TILES = 24


class TabletQuerySet(models.QuerySet):
    def listed(self):
        return self.select_related("marked_by").order_by("name", "id")

    def by_number(self, number: int):
        return self.filter(pk=number).first()

    def of_token(self, token_hash: str):
        return self.filter(token_hash=token_hash).first()


class Tablet(models.Model):
    """A device that many people use in turn. It carries a secret in a cookie, and only its hash is kept here."""

    token_hash = models.CharField(max_length=64, unique=True)
    name = models.CharField(max_length=60)
    browser = models.CharField(max_length=80)
    marked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    marked_at = models.DateTimeField(default=timezone.now)
    last_seen = models.DateTimeField(default=timezone.now)

    objects = TabletQuerySet.as_manager()

    class Meta:
        db_table = "workshop_tablet"

    def __str__(self):
        return self.name

    @property
    def place(self) -> str:
        """Where a PIN is tried, as it is counted."""
        return f"tablet {self.pk}"

    def people(self):
        """Who has used it of late, whoever did so last first."""
        since = timezone.now() - SHOWN_FOR
        uses = self.uses.filter(person__is_active=True, last_at__gte=since).select_related("person")
        return [use.person for use in uses.order_by("-last_at")[:MOST_TILES]]


class TabletUse(models.Model):
    """Somebody has used this tablet, and so has a tile on it."""

    tablet = models.ForeignKey(Tablet, on_delete=models.CASCADE, related_name="uses")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    last_at = models.DateTimeField(default=timezone.now)

    class Meta:
        db_table = "workshop_tabletuse"
        constraints = [models.UniqueConstraint(fields=["tablet", "person"], name="one_tile_each")]


class SignInQuerySet(models.QuerySet):
    def alive(self):
        """Those whose session still stands; the latest used first."""
        signed_in = Session.objects.filter(expire_date__gt=timezone.now()).values("session_key")
        return self.filter(session_key__in=signed_in).select_related("tablet").order_by("-last_seen", "-id")

    def dead(self):
        return self.exclude(session_key__in=Session.objects.values("session_key"))

    def by_number(self, number: int):
        return self.filter(pk=number).first()

    def with_session(self, key: str | None):
        return self.filter(session_key=key or "")

    def but(self, key: str | None):
        return self.exclude(session_key=key or "")


class SignIn(models.Model):
    """One person signed in on one browser. It ends with its session."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="sign_ins")
    session_key = models.CharField(max_length=40, unique=True)
    tablet = models.ForeignKey(Tablet, on_delete=models.SET_NULL, null=True, blank=True, related_name="sign_ins")
    browser = models.CharField(max_length=80)
    address = models.CharField(max_length=45, blank=True)
    first_seen = models.DateTimeField(default=timezone.now)
    last_seen = models.DateTimeField(default=timezone.now)

    objects = SignInQuerySet.as_manager()

    class Meta:
        db_table = "workshop_signin"
