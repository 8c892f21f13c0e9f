"""Who is in on which day, and what they can do besides signing."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from .planning import DAYS


class Attendance(models.Model):
    """The weekdays on which somebody usually comes; whoever has no row has not said. A learner works beside somebody
    who answers for them."""

    person = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="attendance")
    monday = models.BooleanField(default=False)
    tuesday = models.BooleanField(default=False)
    wednesday = models.BooleanField(default=False)
    thursday = models.BooleanField(default=False)
    friday = models.BooleanField(default=False)
    saturday = models.BooleanField(default=False)
    sunday = models.BooleanField(default=False)
    learner = models.BooleanField(default=False)

    @property
    def week(self) -> tuple[bool, ...]:
        return tuple(getattr(self, day) for day in DAYS)


class DayIn(models.Model):
    """A day on which somebody comes, or stays away, whatever their week says."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="days_in")
    date = models.DateField()
    coming = models.BooleanField()

    class Meta:
        ordering = ["date"]
        constraints = [models.UniqueConstraint(fields=["person", "date"], name="day_said_once")]


class SkillQuerySet(models.QuerySet):
    def good_on(self, day):
        return self.filter(Q(until__isnull=True) | Q(until__gte=day))


class Skill(models.Model):
    """Something that a person can do and may do here until a date: braze, turn, drive the crane, ring firms."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="skills")
    name = models.CharField(max_length=40)
    until = models.DateField(null=True, blank=True)

    objects = SkillQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["person", "name"], name="skill_once")]


class CalendarAddress(models.Model):
    """The secret address under which somebody's calendar fetches their days: only its digest is kept, so that nobody
    reads it here. Made again, the one before ends."""

    person = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="calendar_address")
    digest = models.CharField(max_length=64, unique=True)
    made_on = models.DateField()
