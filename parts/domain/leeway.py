"""How long the work on each subassembly may wait before the whole is later. Pure.

The slack of the critical path through expected times, as if nothing queued for hands: what it has in truth may be less,
never more.
"""

from .forecast import what_is_missing
from .forecast_rows import Workshop
from .forecast_runs import expected_rows, order_of
from .network import critical_path
from .opening import OpeningTime


def leeway(workshop: Workshop) -> dict[str, int]:
    """Open days by the code of a subassembly that has work left; nothing where there can be no date."""
    if next(iter(what_is_missing(workshop)), ""):
        return {}
    days = workshop.open_days()
    opening = OpeningTime(days)
    rows = expected_rows(workshop, opening, *order_of(workshop))
    path = critical_path((name, minutes, minutes, minutes, after) for name, minutes, after, _ in rows)
    least: dict[str, int] = {}
    for work in workshop.all_work():
        slack = path.activities[work.name].slack
        code = work.subassembly
        least[code] = int(min(slack, least.get(code, slack)))
    a_day = opening.length // len(days)
    return {code: minutes // a_day for code, minutes in least.items() if code}
