"""What a works' own list wrote, and what was meant: remembered for the next file."""

from collections import defaultdict

from django.db import models


class ListWordQuerySet(models.QuerySet["ListWord"]):
    def as_words(self) -> dict[str, dict[str, str]]:
        """By column, what was written and what it means."""
        found: dict[str, dict[str, str]] = defaultdict(dict)
        for column, written, meant in self.order_by("id").values_list("column", "written", "meant"):
            found[column][written] = meant
        return dict(found)


class ListWord(models.Model):
    """One word of a list, as it is compared. `meant` blank: it is left alone."""

    column = models.CharField(max_length=20)
    written = models.CharField(max_length=300)
    meant = models.CharField(max_length=300, blank=True, default="")

    objects = ListWordQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["column", "written"], name="list_word_once")]

    def __str__(self):
        return f"{self.column}: {self.written} is {self.meant or 'left alone'}"
