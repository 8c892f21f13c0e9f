"""What can be found by words: one row for each thing, its words folded.

Kept by `parts/finding/find_index.py`, not by hand.
"""

from django.db import models
from django.db.models import Case, Count, F, Value, When, Window
from django.db.models.functions import Length, RowNumber

from ..domain.folding import GAP, looked_up, spellings


class Bears(models.Lookup):
    """The text bears all these words: by the trigram index of each engine."""

    lookup_name = "bears"
    prepare_rhs = False

    def as_sqlite(self, compiler, connection):
        """FTS5's index of trigrams stands beside the table under the same row numbers."""
        row = connection.ops.quote_name(self.lhs.alias)
        each = [" OR ".join(f'"{part}"' for part in parts) for parts in self.parts()]
        sql = f'{row}."id" IN (SELECT rowid FROM parts_findable_words WHERE parts_findable_words MATCH %s)'
        return sql, [" AND ".join(f"({one})" for one in each)]

    def as_sql(self, compiler, connection):
        """PostgreSQL looks a LIKE up in an index of trigrams, where the extension pg_trgm may be made."""
        sql, values = self.process_lhs(compiler, connection)
        each = [" OR ".join([f"{sql} LIKE %s"] * len(parts)) for parts in self.parts()]
        asked = [value for parts in self.parts() for part in parts for value in (*values, f"%{part}%")]
        return " AND ".join(f"({one})" for one in each), asked

    def parts(self) -> list[list[str]]:
        return [[looked_up(way) for way in spellings(word)] for word in self.rhs]


class FoldedText(models.TextField):
    """Words as `domain/folding.py` folds them: small letters, figures and spaces only."""


FoldedText.register_lookup(Bears)


class FindableQuerySet(models.QuerySet):
    def bearing(self, words: list[str]):
        """Those about which every word says something."""
        return self.filter(text__bears=words) if words else self.none()

    def of_kind(self, kind: str):
        return self.filter(kind=kind)

    def pieces(self):
        return self.of_kind("piece")

    def best_first(self, words: list[str]):
        """What is called or numbered just so, then what begins so, then the shorter name; what is past comes last."""
        whole = "".join(words)
        return self.annotate(
            rank=Case(
                When(own__contains=f"{GAP}{whole}{GAP}", then=Value(0)),
                When(name__startswith=" ".join(words), then=Value(1)),
                When(name__startswith=words[0], then=Value(2)),
                When(own__contains=looked_up(words[0]), then=Value(3)),
                default=Value(4),
            ),
            length=Length("name"),
        ).order_by(*BEST)

    def best_of_each_kind(self, words: list[str], most: int):
        """The best few of each kind as `kind`, `thing` and `many`, how many of its kind there are."""
        found = self.best_first(words).annotate(
            place_in_kind=Window(RowNumber(), partition_by=F("kind"), order_by=BEST),
            many=Window(Count("*"), partition_by=F("kind")),
        )
        found = found.filter(place_in_kind__lte=most).order_by("past", "rank", "kind", *BEST[2:])
        return found.values_list("kind", "thing", "many", named=True)

    def names(self):
        """Every different name, for its words."""
        return self.order_by().values_list("name", flat=True).distinct()


BEST = ("past", "rank", "length", "name", "thing")
"""Within one kind; between kinds of like rank, in the order of the alphabet, which serves well."""


class Findable(models.Model):
    kind = models.CharField(max_length=12)
    thing = models.BigIntegerField(help_text="its number among its kind")
    name = models.CharField(max_length=200, help_text="folded")
    own = models.TextField(help_text="its own words, folded: name, tags, marks, numbers")
    text = FoldedText(help_text="all words about it, folded: also of its place, and of where it lies")
    past = models.BooleanField(default=False, help_text="withdrawn")

    objects = FindableQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["kind", "thing"], name="findable_once"),
        ]
        indexes = [models.Index(fields=["name"], name="findable_name")]

    def __str__(self):
        return f"{self.kind} {self.thing}"
