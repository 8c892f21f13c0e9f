"""Rows that were entered by mistake: out of every count and list, and still there for the history."""

from django.db import models


class StandingManager(models.Manager):
    """Without what was struck. A reference still leads to a struck row, and so does `_base_manager`."""

    def get_queryset(self):
        return super().get_queryset().filter(struck=False)


class Strikable(models.Model):
    """What `parts.mistakes` may strike. What the table holds once, a struck row frees."""

    struck = models.BooleanField("entered by mistake", default=False, editable=False)

    class Meta:
        abstract = True
