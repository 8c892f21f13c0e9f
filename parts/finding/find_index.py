"""The index behind finding: one row of folded words for each thing, kept in step with the register.

Triggers of the database note the number of every thing whose words changed, whoever changed them (`parts_tofold`);
whoever looks for something next folds those first. So no writer has to think of it, an import is not slowed down, and
a migration that rebuilds a table harms nothing: afterwards everything is folded anew.

On SQLite an FTS5 table of trigrams stands beside the rows; on PostgreSQL an index by pg_trgm where that extension may
be made. Both answer the same question, `Findable.objects.bearing(words)`.
"""

import logging
from collections import defaultdict

from django.db import DEFAULT_DB_ALIAS, DatabaseError, connections, transaction

from ..domain.folding import folded, plain
from ..models import Findable, ToFold
from .find_words import WORDS

log = logging.getLogger(__name__)

AT_ONCE = 2000
NAME = 200


def in_step() -> bool:
    """Fold what has changed since somebody last looked. False where it cannot be written down just now, on a full disk
    say: then what is there is looked through."""
    try:
        while noted := _fold_some():
            if noted < AT_ONCE:
                break
        return True
    except DatabaseError:
        log.exception("The index for finding could not be brought up to date.")
        return False


def _fold_some() -> int:
    """Fold up to so many noted things; how many notes that answered. Most often there are none: one tiny query."""
    if not ToFold.objects.exists():
        return 0
    with transaction.atomic():
        # Held until the end, so that of two who look at once the later one does not write older words over newer ones.
        noted = list(ToFold.objects.select_for_update().order_by("id")[:AT_ONCE])
        things = defaultdict(set)
        for note in noted:
            things[note.kind].add(note.thing)
        for kind, ids in things.items():
            _store(kind, sorted(ids))
        if noted:
            ToFold.objects.filter(id__lte=noted[-1].pk, id__in=[note.pk for note in noted]).delete()
    return len(noted)


def _store(kind: str, ids: list[int]) -> None:
    now = dict(_folded(kind, ids))
    stored = {row.thing: row for row in Findable.objects.filter(kind=kind, thing__in=ids)}
    Findable.objects.filter(pk__in=[row.pk for thing, row in stored.items() if thing not in now]).delete()
    fresh = [row for thing, row in now.items() if thing not in stored]
    changed = []
    for thing, row in now.items():
        if (was := stored.get(thing)) and _said(was) != _said(row):
            row.pk = was.pk
            changed.append(row)
    Findable.objects.bulk_create(fresh, batch_size=400)
    Findable.objects.bulk_update(changed, ["name", "own", "text", "past"], batch_size=200)


def _said(row: Findable) -> tuple:
    return row.name, row.own, row.text, row.past


def _folded(kind: str, ids: list[int]):
    for thing, said in WORDS[kind](ids).items():
        own = [said.name, *said.own]
        yield (
            thing,
            Findable(
                kind=kind,
                thing=thing,
                name=" ".join(plain(said.name).split())[:NAME],
                own=folded(own, said.codes),
                text=folded([*own, *said.around], said.codes),
                past=said.past,
            ),
        )


def out_of_step() -> list[str]:
    """What the index says otherwise than the register, in words; there ought to be nothing."""
    in_step()
    wrong = []
    for kind, words in WORDS.items():
        now = {thing: _said(row) for thing, row in _folded(kind, words.all_ids())}
        stored = {row.thing: _said(row) for row in Findable.objects.filter(kind=kind)}
        differ = sum(now.get(thing) != stored.get(thing) for thing in now.keys() | stored.keys())
        if differ:
            wrong.append(f"{kind}: {differ} of {len(now)}")
    return wrong


def note_everything(using: str = "default") -> None:
    """Have everything folded anew by whoever looks next, and SQLite's own index made anew from the rows."""
    connection = connections[using]
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM parts_tofold")
        if connection.vendor == "sqlite":
            cursor.execute("INSERT INTO parts_findable_words (parts_findable_words) VALUES ('rebuild')")
        things = [f"SELECT '{kind}' AS kind, id AS thing FROM {words.table}" for kind, words in WORDS.items()]
        every = " UNION ".join(["SELECT kind, thing FROM parts_findable", *things])  # each once
        cursor.execute(f"INSERT INTO parts_tofold (kind, thing) SELECT kind, thing FROM ({every}) AS things")


def fold_anew_after_migration(using: str, plan=(), **kwargs) -> None:
    """A migration may have changed words while no trigger was there to note it."""
    tables = set(connections[using].introspection.table_names())
    if not plan or not {"parts_findable", *(words.table for words in WORDS.values())} <= tables:
        return
    if connections[using].vendor == "postgresql":
        _index_trigrams(connections[using])
    note_everything(using)
    if using == DEFAULT_DB_ALIAS:
        in_step()  # now rather than while the first person looks for something


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


MISSED = """SELECT 1 FROM {table} thing WHERE NOT EXISTS
(SELECT 1 FROM parts_findable found WHERE found.kind = '{kind}' AND found.thing = thing.id) {in_use} LIMIT 1"""
RETIRE = ("parts_position", "parts_location", "parts_firm", "parts_subassembly")


def lacking(using: str = "default") -> list[str]:
    """Kinds of which some cannot be found though nothing is noted for folding, and SQLite's own index if it is gone."""
    connection, kinds = connections[using], []
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1 FROM parts_tofold LIMIT 1")
        for kind, words in WORDS.items() if not cursor.fetchone() else ():
            in_use = "AND NOT thing.retired" if words.table in RETIRE else ""
            cursor.execute(MISSED.format(kind=kind, table=words.table, in_use=in_use))
            kinds += [kind] if cursor.fetchone() else []
    if connection.vendor == "sqlite" and "parts_findable_words" not in connection.introspection.table_names():
        kinds.append("the index of trigrams")
    return kinds
