"""Queries that every action and every page asks: what Django makes of one is kept, and asked again with other numbers.

Making the SQL of a piece's row costs four times what fetching it does: loading a place takes 2 ms of the processor so,
and 13 without.
"""

from collections.abc import Callable
from copy import copy
from functools import wraps
from typing import Any, TypeVar

from django.db import DEFAULT_DB_ALIAS, connections
from django.db.models import Model, QuerySet

MARK = 4_000_000_000_000_000
"""From here on up no row has a number, so these find the places in the SQL where numbers go."""
MOST = 20
"""Lists as long as this are kept by their length; longer ones are rare, and not worth it."""


Row = TypeVar("Row", bound=Model)
Scope = dict[str, Any]


def prepared(make: Callable[[Scope], QuerySet[Row]]) -> Callable[[Scope], list[Row]]:
    """`make` takes lookups of rows by their numbers, and what it gives rests on them alone: no clock, no other row."""
    kept: dict[tuple, _Kept] = {}

    @wraps(make)
    def ask(scope: Scope) -> list[Row]:
        numbers = [_numbers(value) for value in scope.values()]
        if not all(0 < len(each) <= MOST for each in numbers):
            return list(make(scope))
        shape = tuple((lookup, len(each)) for lookup, each in zip(scope, numbers, strict=True))
        if shape not in kept:
            kept[shape] = _Kept(make(_marked(scope, numbers)))
        return kept[shape].ask([number for each in numbers for number in each])

    return ask


def _numbers(value: Any) -> list[int]:
    """Of the row or rows that are looked for; none for what is not known by a number."""
    if isinstance(value, list | tuple):
        return list(value) if all(isinstance(each, int) for each in value) else []
    number = value.pk if isinstance(value, Model) else value
    return [number] if isinstance(number, int) else []


def _marked(scope: Scope, numbers: list[list[int]]) -> Scope:
    marks = iter(range(MARK, MARK + sum(map(len, numbers))))
    return {
        lookup: [next(marks) for _ in value] if isinstance(value, list | tuple) else next(marks)
        for lookup, value in scope.items()
    }


class _Kept:
    """A query with marks in place of numbers, as Django compiled it."""

    def __init__(self, query: QuerySet):
        self.query, self.compiler = query, query.query.get_compiler(DEFAULT_DB_ALIAS)
        self.sql, self.params = self.compiler.as_sql()
        self.converters = self.compiler.get_converters([one for one, *_ in self.compiler.select])

    def ask(self, numbers: list[int]) -> list:
        params = tuple(numbers[one - MARK] if isinstance(one, int) and one >= MARK else one for one in self.params)
        compiler: Any = copy(self.compiler)
        compiler.connection = connections[DEFAULT_DB_ALIAS]  # another thread has another
        compiler.as_sql = lambda *args, **kwargs: (self.sql, params)
        compiler.get_converters = lambda expressions: self.converters
        again: Any = self.query.all()
        again.query.get_compiler = lambda *args, **kwargs: compiler
        return list(again)
