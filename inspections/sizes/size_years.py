"""A size over the years: every measurement of it that counts, whichever piece was in the place."""

from dataclasses import dataclass

from ..domain.classes import Wears
from ..domain.limits import Limits as PlainLimits
from ..domain.roundness import in_words
from ..domain.size_chart import Chart, ChartPoint, chart
from ..domain.trends import told
from ..models import Dimension, Measurement

WIDTHS = {"narrow": 316, "wide": 760}


@dataclass(frozen=True, kw_only=True)
class MeasuredRow:
    """One measurement in the table."""

    measurement: Measurement
    mine: bool
    shape: str
    verdict: str


@dataclass(frozen=True, kw_only=True)
class Years:
    charts: dict[str, Chart]
    rows: list[MeasuredRow]  # the newest first
    code: str  # the tag of the piece that is marked
    others: bool  # whether other pieces were measured too
    words: str
    trend: str


def years_of(dimension: Dimension, limits, code: str = "") -> Years | None:
    """`code` is the tag of the piece to mark; without it, the piece measured last."""
    found = Measurement.objects.of_dimension(dimension).over_the_years()
    if not found:
        return None
    wanted = code.upper() if any(one.code == code.upper() for one in found) else found[-1].code
    piece = next(one.examination.component_id for one in reversed(found) if one.code == wanted)
    mine = [one.examination.component_id == piece for one in found]
    taken = [
        ChartPoint(on=one.examination.on, value=one.value, guard=one.uncertainty, mine=its)
        for one, its in zip(found, mine, strict=True)
    ]
    plain = limits.plain() if limits else PlainLimits(unit=dimension.unit, wears=Wears(dimension.wears))
    rows = [
        MeasuredRow(
            measurement=one, mine=its,
            shape=in_words(one.ovality, one.taper, dimension.unit), verdict=one.size_class or "not judged",
        )
        for one, its in zip(found, mine, strict=True)
    ]  # fmt: skip
    first, last = found[0].examination.on, found[-1].examination.on
    return Years(
        charts={name: made for name, width in WIDTHS.items() if (made := chart(taken, plain, width=width))},
        rows=rows[::-1],
        code=wanted or "",
        others=not all(mine),
        words=f"{dimension} from {first:%B %Y} to {last:%B %Y}: {len(rows)} measured; the table beneath has every one",
        trend=told([(one.on, one.value) for one in taken if one.mine], plain),
    )
