"""The order of assembly as a picture, from top to bottom. Units are SVG user units, px at a desk of 1280."""

import textwrap
from collections.abc import Callable
from dataclasses import dataclass

import networkx as nx

from ..domain.layered_graph import Item, Layered, layered
from ..domain.readiness import Readiness, SubReadiness
from ..domain.sequence import ON, START, WHOLE, Node, Order
from .readiness_context import word_of

WIDTH, BOX_W, BOX_H = 1200, 196, 78
LANE, GAP, ROW = 8, 14, 132
A_ROW = 5
PAD, LETTERS, NAME_PX = 8, 21, 14
"""So many letters of a bold name of that size go into a box; a longer line is written smaller."""
BEFORE, AFTER, CHOSEN, BESIDE = "before", "after", "chosen", "beside"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderBox:
    x: str
    y: int
    name: list[tuple[str, int]]  # its lines, each with its height
    size: str  # of the name
    full_name: str
    note: str
    code: str
    kind: str  # "", "clear" or "complete"
    stands: str  # to the chosen one: before, after, chosen, beside; "" where none is chosen
    refitted: str  # widths of the bar
    ready: str
    blocked: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Connector:
    path: str
    tip: str  # the arrow head's points; a lane has none
    stands: str


@dataclass(frozen=True, kw_only=True)
class OrderPicture:
    width: int
    height: int
    boxes: list[OrderBox]
    lines: list[Connector]
    chosen: str  # its name
    before: list[str]
    held: list[str]  # what it holds up, as every list counts it


def draw(found: Readiness, chosen: str = "") -> OrderPicture:
    """Rows by what goes on after what. `chosen` is the code of the one whose before and after is shown."""
    subs = {sub.sub.id: sub for sub in found.subassemblies}
    graph = _graph(found, subs)
    made = layered(graph, width=WIDTH, box=BOX_W, lane=LANE, gap=GAP, most=A_ROW)
    one = next((id for id in graph if subs[id].sub.code == chosen), None)
    stands = {} if one is None else _stands(graph, one, found.order)
    return OrderPicture(
        width=WIDTH + 8,
        height=max(len(made.rows) * ROW - (ROW - BOX_H), 0) + 2 * PAD,
        boxes=[_box(subs[id], made, id, stands.get(id, "")) for id in graph],
        lines=[_line(made, link, stands, one) for link in made.links],
        chosen=subs[one].sub.name if one else "",
        before=[subs[id].sub.name for id in subs if stands.get(id) == BEFORE],
        held=found.order.names(subs[one].behind) if one else [],
    )


def _graph(found: Readiness, subs: dict[int, SubReadiness]) -> nx.DiGraph:
    """Parts are drawn with what they are part of, as one box, unless the wholes then go on after each other in a
    ring."""
    graph = _lifted(found, {id: found.order.lineage[id][-1] for id in subs})
    return graph if nx.is_directed_acyclic_graph(graph) else _lifted(found, {id: id for id in subs})


def _lifted(found: Readiness, wholes: dict[int, int]) -> nx.DiGraph:
    """An arrow between two boxes wherever something in the one goes on after something in the other."""
    graph = nx.DiGraph()
    graph.add_nodes_from(dict.fromkeys(wholes.values()))
    for id, whole in wholes.items():
        for before in found.order.by_id[id].after:
            if before in wholes and wholes[before] != whole:
                graph.add_edge(wholes[before], whole)
    return graph


def _stands(graph: nx.DiGraph, one: int, order: Order) -> dict[int, str]:
    """By the order itself: an arrow that only a part of a box has leads nowhere through the rest of it."""
    of_it = {id for id, line in order.lineage.items() if one in line}
    later = {id for kind, id in _reached(nx.descendants, order, ON, of_it) if kind == WHOLE}
    first = {id for kind, id in _reached(nx.ancestors, order, START, of_it) if kind == ON}
    before, after = ({up for id in ids - of_it for up in order.lineage[id]} for ids in (first, later))
    return {id: CHOSEN if id == one else BEFORE if id in before else AFTER if id in after else BESIDE for id in graph}


def _reached(way: Callable, order: Order, kind: str, ids: set[int]) -> set[Node]:
    return set().union(*(way(order.graph, (kind, id)) for id in ids))


def _top(row: int) -> int:
    return PAD + row * ROW


def _box(sub: SubReadiness, made: Layered, id: int, stands: str) -> OrderBox:
    progress, word = sub.branch, word_of(sub)
    share = (BOX_W - 2 * PAD) / (progress.required or 1)
    lines = two_lines(sub.sub.name)
    longest = max(map(len, lines))
    return OrderBox(
        x=f"{made.across[id, made.row_of[id]] - BOX_W / 2:.1f}",
        y=_top(made.row_of[id]),
        name=[(line, 20 + 17 * number) for number, line in enumerate(lines)],
        size=f"{NAME_PX * min(1, LETTERS / longest):.1f}",
        full_name=sub.sub.name,
        note=f"{progress.refitted}/{progress.required} {word}",
        code=sub.sub.code,
        kind={"complete": "complete", "clear to assemble": "clear"}.get(word, ""),
        stands=stands,
        refitted=f"{progress.refitted * share:.1f}",
        ready=f"{(progress.refitted + progress.ready) * share:.1f}",
        blocked=f"{(progress.refitted + progress.ready + progress.blocked) * share:.1f}",
    )


def two_lines(name: str) -> list[str]:
    """The whole name on two lines at most.

    >>> two_lines("Boiler supports on the frames"), two_lines("Cab")
    (['Boiler supports on', 'the frames'], ['Cab'])
    """
    for letters in range(LETTERS, len(name) + 1):
        lines = textwrap.wrap(name, letters, break_long_words=False)
        if len(lines) <= 2:
            return lines
    return [name]


def _line(made: Layered, link: tuple[Item, Item], stands: dict[int, str], one: int | None) -> Connector:
    """Through the space between two rows, upright at both ends; a lane then runs straight through its row."""
    begin, end = link
    x1, x2, top = made.across[begin], made.across[end], _top(end[1])
    y1, enters = _top(begin[1]) + BOX_H, made.is_box(end)
    y2 = top - 8 if enters else top
    middle = (y1 + y2) / 2
    path = f"M{x1:.1f} {y1}C{x1:.1f} {middle} {x2:.1f} {middle} {x2:.1f} {y2}"
    return Connector(
        path=path if enters else f"{path}V{top + BOX_H}",
        tip=f"{x2 - 5:.1f},{top - 8} {x2:.1f},{top} {x2 + 5:.1f},{top - 8}" if enters else "",
        stands=_line_stands(stands, begin[0], end[0], one),
    )


def _line_stands(stands: dict[int, str], begin: int, end: int, one: int | None) -> str:
    """A lane is told by the box that it comes from."""
    if one is None:
        return ""
    if begin == one or stands[begin] == stands[end] == AFTER:
        return AFTER
    return BEFORE if stands[begin] == BEFORE and stands[end] in (BEFORE, CHOSEN) else BESIDE
