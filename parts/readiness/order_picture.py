"""The order of assembly as a picture: where each box stands and how its lines run. Units are SVG user units (px)."""

from collections import defaultdict
from dataclasses import dataclass

import networkx as nx

from ..domain.readiness import Readiness
from .readiness_sheet import word_of

BOX_W, BOX_H = 232, 76
GAP_X, GAP_Y = 64, 18
MARGIN = 12
NAME_LETTERS = 23
"""How many letters of the bold 15 px name fit into a box, at about 0.6 em a letter."""


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
class Arrow:
    path: str
    tip: str  # the arrow head's points


@dataclass(frozen=True, kw_only=True)
class Picture:
    width: int
    height: int
    boxes: list[Box]
    lines: list[Arrow]


def draw(found: Readiness) -> Picture:
    """Columns by what goes on after what; within a column, each box near what it goes on after.

    Parts are drawn with what they are part of, as one box, unless the wholes then go on after each other in a ring.
    """
    subs = {sub.sub.id: sub for sub in found.subassemblies}
    wholes = {id: found.order.lineage[id][-1] for id in subs}
    graph = _lifted(found, wholes)
    if not nx.is_directed_acyclic_graph(graph):
        graph = _lifted(found, {id: id for id in subs})
    befores = {id: sorted(nx.transitive_reduction(graph).pred[id]) for id in graph}
    columns = _columns([list(ids) for ids in nx.topological_generations(graph)], befores)
    spots = {id: (column, row) for column, ids in enumerate(columns) for row, id in enumerate(ids)}
    tallest = max((len(ids) for ids in columns), default=0)

    def corner(id):
        column, row = spots[id]
        return MARGIN + column * (BOX_W + GAP_X), MARGIN + row * (BOX_H + GAP_Y)

    boxes = [_box(subs[id], *corner(id)) for id in subs if id in spots]
    lines = [_line(corner(before), corner(id)) for id, before_it in befores.items() for before in before_it]
    return Picture(
        width=2 * MARGIN + len(columns) * (BOX_W + GAP_X) - GAP_X if columns else 0,
        height=2 * MARGIN + tallest * (BOX_H + GAP_Y) - GAP_Y if columns else 0,
        boxes=boxes,
        lines=lines,
    )


def _lifted(found, wholes) -> nx.DiGraph:
    """An arrow between two boxes wherever something in the one goes on after something in the other."""
    graph = nx.DiGraph()
    graph.add_nodes_from(dict.fromkeys(wholes.values()))
    for id, whole in wholes.items():
        for before in found.order.by_id[id].after:
            if before in wholes and wholes[before] != whole:
                graph.add_edge(wholes[before], whole)
    return graph


def _columns(columns, befores):
    """Four sweeps of ordering each column by the middle of its neighbours untangle most lines."""
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
    return Arrow(
        path=f"M{x1} {y1}C{x1 + bend} {y1} {x2 - bend} {y2} {x2} {y2}",
        tip=f"{x2},{y2 - 5} {x2 + 8},{y2} {x2},{y2 + 5}",
    )
