"""The loader behind the drawing of a locomotive: what its structure tells of how it is built, in one query or two."""

from collections.abc import Iterable

from ..domain.diagram.engine import Engine
from ..domain.diagram.known import engine_known
from ..models import Locomotive, Position, Subassembly


def engine_of(locomotive: Locomotive, codes: Iterable[str] | None = None) -> Engine:
    """`codes` of its subassemblies are asked for where they are not at hand."""
    if codes is None:
        codes = Subassembly.objects.in_use().filter(locomotive=locomotive).order_by().values_list("code", flat=True)
    names = Position.objects.telling_build(locomotive)
    return engine_known(locomotive.wheels, locomotive.gauge, codes, names)
