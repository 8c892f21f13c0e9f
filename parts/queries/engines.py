"""The loader behind the drawing of a locomotive: what its structure tells of how it is built, in one query or two."""

from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from django.db.models import QuerySet

from core.models.prepared import Scope, prepared

from ..domain.diagram.engine import Engine
from ..domain.diagram.known import engine_known
from ..models import Locomotive, Position, Subassembly

_known = lru_cache(maxsize=64)(engine_known)  # a structure seldom changes


def engine_of(locomotive: Locomotive, codes: Iterable[str] | None = None) -> Engine:
    """`codes` of its subassemblies are asked for where they are not at hand."""
    if codes is None:
        codes = Subassembly.objects.in_use().filter(locomotive=locomotive).order_by().values_list("code", flat=True)
    names = _telling({"locomotive": locomotive.pk})
    return _known(locomotive.wheels, locomotive.gauge, tuple(codes), tuple(names))


@prepared
def _telling(scope: Scope) -> QuerySet[Any]:
    """The names of places that say how a locomotive is built."""
    return Position.objects.filter(tells_build=True, retired=False, **scope).values_list("name", flat=True)
