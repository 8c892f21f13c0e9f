"""Queries that every action and every page asks: what Django makes of one is kept, and asked again with other numbers,
words or days.

Making the SQL of a piece's row costs four times what fetching it does: loading a place takes 2 ms of the processor so,
and 13 without.
"""

import re
from collections.abc import Callable, Collection
from datetime import date, timedelta
from functools import wraps
from typing import Any, TypeVar

from django.db import DEFAULT_DB_ALIAS, connections
from django.db.models import Model, QuerySet

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
    """A query with marks in place of what is asked for, as Django compiled it."""

    def __init__(self, query: QuerySet, marks: list[Value]):
        self.query, self.compiler = query, query.query.get_compiler(DEFAULT_DB_ALIAS)
        order = {str(mark): at for at, mark in enumerate(marks)}  # SQLite is given a day as words
        sql, params = self.compiler.as_sql()
        self.sql, self.params = _written_out(sql, params, order.keys())
        selected = [one for one, *_ in self.compiler.select]
        self.converters = self.compiler.get_converters(selected)
        self.composite = self.compiler.has_composite_fields(selected)
        self.places = [(place, order[str(one)]) for place, one in enumerate(self.params) if str(one) in order]
        if {at for _, at in self.places} != set(order.values()):
            raise ValueError(f"What is asked for does not stand in the query as it is given: {self.sql}")

    def ask(self, values: list[Value]) -> list:
        params = list(self.params)
        for place, at in self.places:
            params[place] = values[at]
        compiler = _again(self.compiler)
        compiler.connection = connections[DEFAULT_DB_ALIAS]  # another thread has another
        compiler.as_sql = lambda *args, **kwargs: (self.sql, tuple(params))
        compiler.get_converters = lambda expressions: self.converters
        compiler.has_composite_fields = lambda expressions: self.composite
        rows = _again(self.query)
        rows._query = _again(self.query.query)  # as it is: setting `query` begins anew how values are given
        rows._query.get_compiler = lambda *args, **kwargs: compiler
        return list(rows)


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


def _again(thing: Any) -> Any:
    """Another with the same in it, which asking does not change: Django's own copies copy all conditions too."""
    another = object.__new__(type(thing))
    vars(another).update(vars(thing))
    return another
