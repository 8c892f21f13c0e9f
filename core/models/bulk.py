"""Many rows of one table at once, by plain column values.

`bulk_create` makes a model instance and compiles an expression for each value, and is known to miss the goal for an
import of 10,000 rows (tests/benchmarks/bench_import.py). Ids are taken beforehand, so that rows may name each other.
"""

from collections.abc import Iterable, Mapping
from functools import cache

from django.db import connection, models

PREPARED = (models.JSONField, models.DateField)  # a DateTimeField is a DateField too


def take_ids(model, count: int) -> list[int]:
    """So many ids that no other row has or will have. On SQLite the transaction holds the write lock already."""
    table = model._meta.db_table
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute(
                "SELECT nextval(pg_get_serial_sequence(%s, 'id')) FROM generate_series(1, %s)", [table, count]
            )
            return sorted(row[0] for row in cursor.fetchall())
        cursor.execute("SELECT seq FROM sqlite_sequence WHERE name = %s", [table])
        last = (cursor.fetchone() or (0,))[0]
    return list(range(last + 1, last + 1 + count))


def insert(model, rows: Iterable[Mapping], *, numbered: bool = False) -> None:
    """Write rows given by attribute names, ids included unless the database numbers them; what a row leaves out has the
    model's default."""
    fields = [
        field for field in model._meta.concrete_fields if not (field.generated or (numbered and field.primary_key))
    ]
    readers = [_reader(field) for field in fields]
    values = [[read(row) for read in readers] for row in rows]
    if not values:
        return
    quote = connection.ops.quote_name
    columns = ", ".join(quote(field.column) for field in fields)
    marks = ", ".join(["%s"] * len(fields))
    with connection.cursor() as cursor:
        cursor.executemany(f"INSERT INTO {quote(model._meta.db_table)} ({columns}) VALUES ({marks})", values)


def _reader(field):
    """What takes this field's value out of a row, in the form in which the database wants it."""
    name, default = field.attname, field.get_default()
    if not isinstance(field, PREPARED):
        return lambda row: row.get(name, default)
    if isinstance(field, models.JSONField):
        usual = field.get_db_prep_save(default, connection)
        return lambda row: field.get_db_prep_save(row[name], connection) if name in row else usual
    prepare = cache(lambda value: field.get_db_prep_save(value, connection))
    return lambda row: prepare(row[name]) if name in row else prepare(default)
