"""Rows that were entered by mistake: out of every count and list, and still there for the history."""

from functools import cache

from django.db import models
from django.db.models.sql import Query


class StandingManager(models.Manager):
    """Without what was struck. A reference still leads to a struck row, and so does `_base_manager`."""

    def get_queryset(self):
        found = super().get_queryset()
        found.query = _standing(self.model).clone()  # quicker than to filter anew each time
        return found


@cache
def _standing(model: type[models.Model]) -> Query:
    return models.QuerySet(model).filter(struck=False).query


class Strikable(models.Model):
    """What `parts.mistakes` may strike. What the table holds once, a struck row frees."""

    struck = models.BooleanField("entered by mistake", default=False, editable=False)

    class Meta:
        abstract = True
