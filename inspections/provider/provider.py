"""What the register is told of examinations and sizes. Its seam is `parts.queries.measured`."""

from parts.queries.measured import measured

from ..boilers.boiler_context import boilers_of, examinations_due, supports_of
from .built import built
from .conceded import conceded_on
from .lines import sizes as size_lines
from .lines import to_match
from .loading import cracks_since, flawed, load_examinations, load_fits, load_sizes, mates_of, name_dimensions


def answer() -> None:
    measured.examinations = load_examinations
    measured.sizes = load_sizes
    measured.fits = load_fits
    measured.mates = mates_of
    measured.conceded = conceded_on
    measured.lines = size_lines
    measured.cracks = cracks_since
    measured.built = built
    measured.name_dimensions = name_dimensions
    measured.to_match = to_match
    measured.boilers = boilers_of
    measured.supports = supports_of
    measured.examinations_due = examinations_due
    measured.flawed = flawed
