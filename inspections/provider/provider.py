"""What the register is told of examinations and sizes. Its seam is `parts.queries.measured`."""

from ..boilers.boiler_context import boilers_of, examinations_due, supports_of
from .built import built
from .conceded import conceded_on
from .lines import sizes as size_lines
from .lines import to_match
from .loading import cracks_since, flawed, load_examinations, load_fits, load_sizes, mates_of, name_dimensions


class Provider:
    examinations = staticmethod(load_examinations)
    sizes = staticmethod(load_sizes)
    fits = staticmethod(load_fits)
    mates = staticmethod(mates_of)
    conceded = staticmethod(conceded_on)
    lines = staticmethod(size_lines)
    cracks = staticmethod(cracks_since)
    built = staticmethod(built)
    name_dimensions = staticmethod(name_dimensions)
    to_match = staticmethod(to_match)
    boilers = staticmethod(boilers_of)
    supports = staticmethod(supports_of)
    examinations_due = staticmethod(examinations_due)
    flawed = staticmethod(flawed)
