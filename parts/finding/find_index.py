"""The index behind finding: one row of normalised words for each thing, written in the transaction that changes them.

The log of events is the feed: whatever is written logs what it is about, and at the end of its transaction the words
of those things are normalised anew. Where they changed, so are the words of what says them too: a piece says its crate.
So searching only reads, and waits for nobody. An import brings its things into the index after its own transaction.

On SQLite an FTS5 table of trigrams stands beside the rows; on PostgreSQL an index by pg_trgm where that extension may
be made. Both answer the same question, `Findable.objects.bearing(words)`.
"""

import logging
from collections import defaultdict
from collections.abc import Iterable, Iterator

from django.db import DEFAULT_DB_ALIAS, DatabaseError, connections, transaction
from django.db.models import QuerySet

from core.log.writing import Logged
from core.models import Event
from core.models.prepared import prepared
from core.web.rooms import found_kinds

from ..domain.folding import folded, plain
from ..models import Findable
from ..models.find_triggers import REBUILD, TABLE

log = logging.getLogger(__name__)

AT_ONCE = 2000
NAME = 200
Subject = tuple[str, int]
"""A kind of thing that can be found, and its number."""


# --- kept in step


def follow(renaming: Logged) -> None:
    """Told at the end of every transaction of the events that may have changed by which words a thing is found."""
    reindex(subject for event, about in renaming for subject in subjects_of(event, dict(about)))


def catch_up() -> None:
    """Whatever is not in the index yet, for a writer of many things at once."""
    reindex((kind, pk) for kind in found_kinds() for pk in _missed(kind, DEFAULT_DB_ALIAS))


def subjects_of(event: Event, about: dict[str, int]) -> Iterator[Subject]:
    """Whose words may have changed: not those of what only says where it happened, as the locomotive of a piece."""
    kinds = found_kinds()
    if named := [kind for kind in about if kind in kinds and kinds[kind].rank]:
        first = min(named, key=lambda kind: kinds[kind].rank)
        yield first, about[first]
    yield from ((kind, pk) for kind in kinds if isinstance(pk := event.data.get(kind), int))


def reindex(subjects: Iterable[Subject]) -> None:
    """Normalise the words of these anew, and of all that says the words of those that changed."""
    todo = _by_kind(subjects)
    while todo:
        changed = {kind: _store_all(kind, sorted(ids)) for kind, ids in todo.items()}
        todo = _by_kind(
            (further.kind, pk)
            for kind, ids in changed.items()
            if ids
            for further in found_kinds().values()
            for pk in further.saying(kind, ids)
        )


def _by_kind(subjects: Iterable[Subject]) -> dict[str, set[int]]:
    found = defaultdict(set)
    for kind, pk in subjects:
        found[kind].add(pk)
    return found


def _store_all(kind: str, ids: list[int]) -> list[int]:
    """The numbers of those whose words changed."""
    changed = []
    for start in range(0, len(ids), AT_ONCE):
        with transaction.atomic(savepoint=False):
            changed += _store(kind, ids[start : start + AT_ONCE])
    return changed


def _store(kind: str, ids: list[int]) -> list[int]:
    """The stored rows are locked first, so that of two at once the later one does not write older words."""
    stored = {row.thing: row for row in _locked({"kind": kind, "thing__in": ids})}
    now = dict(_folded(kind, ids))
    gone = [thing for thing in stored if thing not in now]
    changed = [row for thing, row in now.items() if thing not in stored or _values(stored[thing]) != _values(row)]
    if gone:
        Findable.objects.filter(kind=kind, thing__in=gone).delete()
    Findable.objects.bulk_create(
        changed, update_conflicts=True, unique_fields=["kind", "thing"], update_fields=["name", "own", "text", "past"],
        batch_size=400,
    )  # fmt: skip
    return gone + [row.thing for row in changed]


@prepared
def _locked(scope: dict) -> QuerySet[Findable]:
    return Findable.objects.select_for_update().filter(**scope).order_by("pk")


def _values(row: Findable) -> tuple:
    return row.name, row.own, row.text, row.past


def _folded(kind: str, ids: list[int]) -> Iterator[tuple[int, Findable]]:
    for thing, about in found_kinds()[kind].words(ids).items():
        own = [about.name, *about.own]
        row = Findable(
            kind=kind,
            thing=thing,
            name=" ".join(plain(about.name).split())[:NAME],
            own=folded(own, about.codes),
            text=folded([*own, *about.around], about.codes),
            past=about.past,
        )
        yield thing, row


# --- compared, and made anew


def out_of_step() -> list[str]:
    """What the index says otherwise than the register, in words; there ought to be nothing."""
    wrong = []
    for kind, words in found_kinds().items():
        now = {thing: _values(row) for thing, row in _folded(kind, words.all_ids())}
        stored = {row.thing: _values(row) for row in Findable.objects.filter(kind=kind)}
        differ = sum(now.get(thing) != stored.get(thing) for thing in now.keys() | stored.keys())
        if differ:
            wrong.append(f"{kind}: {differ} of {len(now)}")
    return wrong


@transaction.atomic
def rebuild() -> None:
    """Everything anew: all of it, or where it is interrupted nothing."""
    Findable.objects.all().delete()
    for kind, words in found_kinds().items():
        ids = words.all_ids()
        for start in range(0, len(ids), AT_ONCE):
            Findable.objects.bulk_create((row for _, row in _folded(kind, ids[start : start + AT_ONCE])), 400)
    if connections[DEFAULT_DB_ALIAS].vendor == "sqlite":
        with connections[DEFAULT_DB_ALIAS].cursor() as cursor:
            cursor.execute(REBUILD)


def empty_before_migration(using: str, plan=(), **kwargs) -> None:
    """A migration may change words without an event. The index is emptied first, so that the next start makes it anew
    even where this one is interrupted."""
    if plan and using == DEFAULT_DB_ALIAS and _is_there(using):
        Findable.objects.all().delete()


def rebuild_after_migration(using: str, plan=(), **kwargs) -> None:
    """After a migration, and at a start that finds something missing."""
    if using != DEFAULT_DB_ALIAS or not _is_there(using):
        return
    if plan and connections[using].vendor == "postgresql":
        _index_trigrams(connections[using])
    if plan or lacking(using):
        rebuild()


def _is_there(using: str) -> bool:
    tables = set(connections[using].introspection.table_names())
    return {"parts_findable", *(found.table for found in found_kinds().values())} <= tables


def _index_trigrams(connection) -> None:
    """Where the extension may not be made the same question is answered without an index, slower."""
    try:
        with transaction.atomic(using=connection.alias), connection.cursor() as cursor:
            cursor.execute("CREATE EXTENSION IF NOT EXISTS pg_trgm")
            cursor.execute(
                "CREATE INDEX IF NOT EXISTS parts_findable_trigrams ON parts_findable USING gin (text gin_trgm_ops)"
            )
    except DatabaseError as trouble:
        log.warning("PostgreSQL has no pg_trgm here, so finding reads every row: %s", trouble)


MISSED = """SELECT id FROM {table} thing WHERE NOT EXISTS
(SELECT 1 FROM parts_findable found WHERE found.kind = '{kind}' AND found.thing = thing.id) {in_use}"""


def lacking(using: str = DEFAULT_DB_ALIAS) -> list[str]:
    """Kinds of which some cannot be found, and SQLite's own index if it is gone."""
    connection = connections[using]
    kinds = [kind for kind in found_kinds() if _missed(kind, using, most=1)]
    if connection.vendor == "sqlite" and TABLE not in connection.introspection.table_names():
        kinds.append("the index of trigrams")
    return kinds


def _missed(kind: str, using: str, most: int | None = None) -> list[int]:
    """The numbers of the things of a kind that are in use and not in the index."""
    found = found_kinds()[kind]
    in_use = " ".join(f"AND NOT thing.{column}" for column in found.out_of_use)
    with connections[using].cursor() as cursor:
        cursor.execute(MISSED.format(kind=kind, table=found.table, in_use=in_use))
        return [pk for (pk,) in (cursor.fetchmany(most) if most else cursor.fetchall())]
