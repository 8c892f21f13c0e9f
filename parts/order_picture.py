"""The order of assembly as a picture: where each box stands and how its lines run. Units are SVG user units (px)."""

from collections import defaultdict
from dataclasses import dataclass

from .domain.readiness import Readiness
from .domain.sequence import levels
from .readiness_sheet import word_of

BOX_W, BOX_H = 232, 76
GAP_X, GAP_Y = 64, 18
MARGIN = 12
NAME_LETTERS = 27
"""How many letters of the bold 15 px name fit into a box, at about 0.55 em a letter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    id: int
    x: int
    y: int
    name: str
    full_name: str
    note: str
    code: str
    kind: str  # "", "clear" or "complete"
    refitted: str  # widths of the bar
    ready: str
    blocked: str
    ready_x: str
    blocked_x: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    path: str
    tip: str  # the arrow head's points


@dataclass(frozen=True, kw_only=True)
class Picture:
    width: int
    height: int
    boxes: list[Box]
    lines: list[Line]


def draw(found: Readiness) -> Picture:
    """Columns by what goes on after what; within a column, each box near what it goes on after."""
    subs = {sub.sub.id: sub for sub in found.subassemblies if sub.branch.required or sub.sub.after}
    befores = {id: _before(found, id, subs) for id in subs}
    columns = _columns(levels(found.order), subs, befores)
    spots = {id: (column, row) for column, ids in enumerate(columns) for row, id in enumerate(ids)}
    tallest = max((len(ids) for ids in columns), default=0)

    def corner(id):
        column, row = spots[id]
        lift = (tallest - len(columns[column])) * (BOX_H + GAP_Y) // 2
        return MARGIN + column * (BOX_W + GAP_X), MARGIN + lift + row * (BOX_H + GAP_Y)

    boxes = [_box(subs[id], *corner(id)) for id in subs]
    lines = [_line(corner(before), corner(id)) for id in subs for before in befores[id]]
    return Picture(
        width=2 * MARGIN + len(columns) * (BOX_W + GAP_X) - GAP_X if columns else 0,
        height=2 * MARGIN + tallest * (BOX_H + GAP_Y) - GAP_Y if columns else 0,
        boxes=boxes,
        lines=lines,
    )


def _before(found, id, subs):
    """What an arrow is drawn from: what it goes on after, less what one of those goes on after already."""
    own = [before for before in found.order.by_id[id].after if before in subs]
    reached = set()
    for before in own:
        reached |= _all_before(found, before)
    return [before for before in own if before not in reached]


def _all_before(found, id):
    seen, todo = set(), list(found.order.by_id[id].after)
    while todo:
        other = todo.pop()
        if other not in seen and other in found.order.by_id:
            seen.add(other)
            todo += found.order.by_id[other].after
    return seen


def _columns(level, subs, befores):
    """Empty columns are closed up; four sweeps of ordering by the middle of the neighbours untangle most lines."""
    used = sorted({level[id] for id in subs})
    columns = [[id for id in subs if level[id] == at] for at in used]
    afters = defaultdict(list)
    for id, before in befores.items():
        for other in before:
            afters[other].append(id)
    for sweep in range(4):
        near = befores if sweep % 2 == 0 else afters
        for ids in columns if sweep % 2 == 0 else reversed(columns):
            row = {id: (i + 0.5) / len(column) for column in columns for i, id in enumerate(column)}
            ids.sort(key=lambda id: sum(row[o] for o in near[id]) / len(near[id]) if near[id] else row[id])
    return columns


def _box(sub, x, y):
    four, word = sub.branch, word_of(sub)
    share = (BOX_W - 24) / (four.required or 1)
    refitted, ready, blocked = four.refitted * share, four.ready * share, four.blocked * share
    name = sub.sub.name
    return Box(
        id=sub.sub.id,
        x=x,
        y=y,
        name=name if len(name) <= NAME_LETTERS else name[: NAME_LETTERS - 1].rstrip() + "…",
        full_name=name,
        note=f"{word} · {four.refitted} of {four.required}",
        code=sub.sub.code,
        kind={"complete": "complete", "clear to assemble": "clear"}.get(word, ""),
        refitted=f"{refitted:.1f}",
        ready=f"{ready:.1f}",
        blocked=f"{blocked:.1f}",
        ready_x=f"{x + 12 + refitted:.1f}",
        blocked_x=f"{x + 12 + refitted + ready:.1f}",
    )


def _line(start, end):
    """From the right edge of one box to the left edge of another, level at both ends."""
    x1, y1 = start[0] + BOX_W, start[1] + BOX_H // 2
    x2, y2 = end[0] - 8, end[1] + BOX_H // 2
    bend = max((x2 - x1) // 2, 24)
    return Line(
        path=f"M{x1} {y1}C{x1 + bend} {y1} {x2 - bend} {y2} {x2} {y2}",
        tip=f"{x2},{y2 - 5} {x2 + 8},{y2} {x2},{y2 + 5}",
    )
