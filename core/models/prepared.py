"""Queries that every action and every page asks: what Django makes of one is kept, and asked again with other numbers,
words or days.

Making the SQL of a piece's row costs four times what fetching it does: loading a place takes 2 ms of the processor so,
and 13 without.
"""

import re
from collections import defaultdict
from collections.abc import Callable, Collection, Sequence
from datetime import date, timedelta
from functools import wraps
from operator import itemgetter
from typing import Any, TypeVar

from django.db import DEFAULT_DB_ALIAS, connections
from django.db.models import Model, QuerySet, prefetch_related_objects
from django.db.models.query import (
    FlatValuesListIterable,
    ModelIterable,
    ValuesIterable,
    ValuesListIterable,
    get_related_populators,
)

MARK = 4_000_000_000_000_000
"""From here on up no row has a number, and nothing is called by one, so these find the places in the SQL where numbers
and words go; the days of the year 4000 find those of days."""
MOST = 20
"""Lists as long as this are kept by their length; longer ones are rare, and not worth it."""


Row = TypeVar("Row", bound=Model)
Scope = dict[str, Any]
Value = int | str | date


def prepared(make: Callable[[Scope], QuerySet[Row]]) -> Callable[[Scope], list[Row]]:
    """`make` takes lookups of rows by number, word or day; it rests on them alone: on no clock and on no other row."""
    kept: dict[tuple, _Kept] = {}

    @wraps(make)
    def ask(scope: Scope) -> list[Row]:
        given = [_values(value) for value in scope.values()]
        if not all(0 < len(each) <= MOST for each in given):
            return list(make(scope))
        shape = tuple((lookup, len(each), type(each[0])) for lookup, each in zip(scope, given, strict=True))
        if shape not in kept:
            marked = _marked(scope, given)
            kept[shape] = _Kept(make(marked), [mark for value in marked.values() for mark in _values(value)])
        return kept[shape].ask([value for each in given for value in each])

    return ask


def prefetch(rows: Sequence[Model], name: str, ask: Callable[[Scope], Sequence[Row]]) -> Sequence[Row]:
    """As Django's `prefetch_related`, by a prepared query: what belongs to each of the rows under this related name.
    All of it, one after the other."""
    waiting = {row.pk: row for row in rows if name not in getattr(row, "_prefetched_objects_cache", ())}
    if not waiting:
        return []
    field = type(rows[0])._meta.get_field(name).field  # type: ignore[union-attr]  # a related name
    found, belonging = ask({f"{field.name}__in": [*waiting]}), defaultdict(list)
    for one in found:
        row = waiting[getattr(one, field.attname)]
        field.set_cached_value(one, row)
        belonging[row.pk].append(one)
    for number, row in waiting.items():
        given = getattr(row, name).get_queryset()
        given._result_cache, given._prefetch_done = belonging[number], True
        vars(row).setdefault("_prefetched_objects_cache", {})[name] = given
    return found


def _values(value: Any) -> list[Value]:
    """Numbers of the row or rows that are looked for, a word or a day; none for what is known by none of them."""
    if isinstance(value, list | tuple):
        return list(value) if all(isinstance(each, int) for each in value) else []
    known = value.pk if isinstance(value, Model) else value
    return [known] if isinstance(known, int | str | date) else []


def _marked(scope: Scope, given: list[list[Value]]) -> Scope:
    marks = iter(range(MARK, MARK + sum(map(len, given))))
    return {
        lookup: [next(marks) for _ in value] if isinstance(value, list | tuple) else _mark(values[0], next(marks))
        for (lookup, value), values in zip(scope.items(), given, strict=True)
    }


def _mark(value: Value, number: int) -> Value:
    return date(4000, 1, 1) + timedelta(number - MARK) if isinstance(value, date) else type(value)(number)


class _Kept:
    """A query with marks in place of what is asked for, as Django compiled it, and what it makes of the rows."""

    def __init__(self, query: Any, marks: list[Value]):
        compiler = query.query.get_compiler(DEFAULT_DB_ALIAS)
        order = {str(mark): at for at, mark in enumerate(marks)}  # SQLite is given a day as words
        sql, params = compiler.as_sql()
        self.sql, self.params = _written_out(sql, params, order.keys())
        self.places = [(place, order[str(one)]) for place, one in enumerate(self.params) if str(one) in order]
        if {at for _, at in self.places} != set(order.values()):
            raise ValueError(f"What is asked for does not stand in the query as it is given: {self.sql}")
        selected = [one for one, *_ in compiler.select]
        self.converters = list(compiler.get_converters(selected).items())
        self.made, self.more = _made(query, compiler), query._prefetch_related_lookups

    def ask(self, values: list[Value]) -> list:
        params = list(self.params)
        for place, at in self.places:
            params[place] = values[at]
        connection = connections[DEFAULT_DB_ALIAS]
        with connection.cursor() as cursor:
            cursor.execute(self.sql, params)
            rows = cursor.fetchall()
        if self.converters:
            rows = [list(row) for row in rows]
            for at, (converters, expression) in self.converters:
                for row in rows:
                    for convert in converters:
                        row[at] = convert(row[at], expression, connection)
        found = [self.made(row) for row in rows]
        if found and self.more:
            prefetch_related_objects(found, *self.more)
        return found


def _made(query: Any, compiler: Any) -> Callable[[Sequence], Any]:
    """What Django makes of a row, without beginning anew with each query."""
    kind, columns, asked = query._iterable_class, compiler.col_count, compiler.query
    if kind is ModelIterable and not query._known_related_objects:
        return _model(compiler)
    if kind is FlatValuesListIterable:
        return itemgetter(0)
    if kind is ValuesListIterable:
        return lambda row: tuple(row[:columns])  # it may end in others, by which it is put in order
    if kind is ValuesIterable:
        names = asked.selected or [*asked.values_select, *asked.annotation_select]
        return lambda row: dict(zip(names, row, strict=False))
    raise ValueError(f"It is not known here what becomes of the rows of this query: {asked}")


def _model(compiler: Any) -> Callable[[Sequence], Model]:
    """As Django's `ModelIterable`."""
    known, select = compiler.klass_info, compiler.select
    model, first, last = known["model"], known["select_fields"][0], known["select_fields"][-1] + 1
    names = [column.target.attname for column, *_ in select[first:last]]
    related = get_related_populators(known, select, DEFAULT_DB_ALIAS)  # type: ignore[call-arg]  # new in Django 6.1
    annotated = [*(compiler.annotation_col_map or {}).items()]

    def made(row: Sequence) -> Model:
        one = model.from_db(DEFAULT_DB_ALIAS, names, row[first:last])
        for other in related:
            other.populate(row, one)
        for name, at in annotated:
            setattr(one, name, row[at])
        return one

    return made


def _written_out(sql: str, params: tuple, marks: Collection[str]) -> tuple[str, list[Any]]:
    """The SQL with the words and numbers in it that are always the same. SQLite chooses a partial index by them, and
    would plan a query anew each time it is asked with such a word beside it."""
    given, rest = iter(params), []

    def written(found: re.Match[str]) -> str:
        if found[0] == "%%":
            return found[0]
        one = next(given)
        if isinstance(one, int | str) and not isinstance(one, bool) and str(one) not in marks:
            return str(int(one)) if isinstance(one, int) else "'{}'".format(one.replace("'", "''").replace("%", "%%"))
        rest.append(one)
        return found[0]

    return re.sub("%[%s]", written, sql), rest
