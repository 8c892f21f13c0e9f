"""A picture of what comes after what, in rows from top to bottom: which box stands in which row and where, and the
points that each line passes. A line that is longer than one row keeps a lane of its own through the rows between, so
that none runs behind a box; all lines from one box share that lane.

The method is that of K. Sugiyama, S. Tagawa and M. Toda, "Methods for visual understanding of hierarchical system
structures", IEEE Transactions on Systems, Man and Cybernetics 11 (1981) 109-125: rows, then the order in each row with
few crossings (barycentres, and neighbours exchanged), then places across. Rows hold a bounded number of boxes, filled
as E. G. Coffman and R. L. Graham fill them (Acta Informatica 1 (1972) 200-213), from a plainer list: what has the
longest way behind it comes first.
"""

from bisect import bisect_right, insort
from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import networkx as nx

Item = tuple[Any, int]
"""A box, or its lane where it passes a row further down: the name of the box and the row."""
SWEEPS = 16


@dataclass(frozen=True, kw_only=True)
class Layered:
    rows: list[list[Item]]
    across: Mapping[Item, float]  # the middle of each, in the units of the widths
    links: list[tuple[Item, Item]]  # each from one row to the next
    row_of: Mapping[Any, int]

    @property
    def crossings(self) -> int:
        return crossings(self.rows, self.links)

    def is_box(self, item: Item) -> bool:
        return self.row_of[item[0]] == item[1]


def layered(graph: nx.DiGraph, *, width: float, box: float, lane: float, gap: float, most: int) -> Layered:
    """At most so many boxes to a row, and fewer where their lanes would not fit beside them."""
    plain = nx.transitive_reduction(graph)
    plain.add_nodes_from(graph)
    for number in range(most, 0, -1):
        row_of = _rows(plain, number)
        rows, links = _with_lanes(plain, row_of)
        needs = max((_least_width(row, row_of, box, lane, gap) for row in rows), default=0)
        if needs <= width or number == 1:
            break
    rows = _untangled(rows, links)
    made = Layered(rows=rows, across={}, links=links, row_of=row_of)
    across = _across(made, width=max(width, needs), box=box, lane=lane, gap=gap)
    return Layered(rows=rows, across=across, links=links, row_of=row_of)


def crossings(rows: Iterable[list[Item]], links: Iterable[tuple[Item, Item]]) -> int:
    """How many pairs of lines cross: those that begin in one order and end in the other."""
    at = {item: place for row in rows for place, item in enumerate(row)}
    by_row = defaultdict(list)
    for begin, end in links:
        by_row[begin[1]].append((at[begin], at[end]))
    return sum(map(_inversions, by_row.values()))


def _inversions(pairs: list[tuple[int, int]]) -> int:
    seen: list[int] = []
    count = 0
    for _, end in sorted(pairs):
        count += len(seen) - bisect_right(seen, end)
        insort(seen, end)
    return count


def _rows(graph: nx.DiGraph, most: int) -> dict[Hashable, int]:
    """The first row below all that it comes after, and in which there is room."""
    behind: dict[Hashable, int] = {}
    for node in reversed(list(nx.topological_sort(graph))):
        behind[node] = max((behind[after] + 1 for after in graph.succ[node]), default=0)
    given = {node: index for index, node in enumerate(graph)}
    row_of: dict[Hashable, int] = {}
    full: defaultdict[int, int] = defaultdict(int)
    for node in nx.lexicographical_topological_sort(graph, lambda node: (-behind[node], given[node])):
        row = max((row_of[before] + 1 for before in graph.pred[node]), default=0)
        while full[row] >= most:
            row += 1
        row_of[node], full[row] = row, full[row] + 1
    return row_of


def _with_lanes(graph: nx.DiGraph, row_of: Mapping[Hashable, int]) -> tuple[list[list[Item]], list[tuple[Item, Item]]]:
    rows: list[list[Item]] = [[] for _ in range(max(row_of.values(), default=-1) + 1)]
    links = []
    for node, row in row_of.items():
        rows[row].append((node, row))
    for node, row in row_of.items():
        ends = [row_of[after] for after in graph.succ[node]]
        for passed in range(row + 1, max(ends, default=0)):
            rows[passed].append((node, passed))
            links.append(((node, passed - 1), (node, passed)))
        links += [((node, row_of[after] - 1), (after, row_of[after])) for after in graph.succ[node]]
    return rows, links


def _least_width(row: list[Item], row_of: Mapping[Hashable, int], box: float, lane: float, gap: float) -> float:
    return sum(box if row_of[item[0]] == item[1] else lane for item in row) + gap * (len(row) - 1)


# --- the order in each row


def _untangled(rows: list[list[Item]], links: list[tuple[Item, Item]]) -> list[list[Item]]:
    """The best that the sweeps came by."""
    before, after = _neighbours(links)
    best, fewest = [list(row) for row in rows], crossings(rows, links)
    rows = [list(row) for row in rows]
    for sweep in range(SWEEPS):
        down = sweep % 2 == 0
        near = before if down else after
        for row in rows if down else reversed(rows):
            _by_barycentre(row, near, rows)
        _exchange(rows, before, after)
        number = crossings(rows, links)
        if number < fewest:
            best, fewest = [list(row) for row in rows], number
    return best


def _neighbours(links: Iterable[tuple[Item, Item]]) -> tuple[dict[Item, list[Item]], dict[Item, list[Item]]]:
    before: dict[Item, list[Item]] = defaultdict(list)
    after: dict[Item, list[Item]] = defaultdict(list)
    for begin, end in links:
        before[end].append(begin)
        after[begin].append(end)
    return before, after


def _by_barycentre(row: list[Item], near: Mapping[Item, list[Item]], rows: list[list[Item]]) -> None:
    at = {item: (place + 0.5) / len(each) for each in rows for place, item in enumerate(each)}
    middle = {item: sum(at[o] for o in near[item]) / len(near[item]) if near[item] else at[item] for item in row}
    row.sort(key=middle.__getitem__)


def _exchange(rows: list[list[Item]], before: Mapping[Item, list[Item]], after: Mapping[Item, list[Item]]) -> None:
    """Neighbours change places as long as that takes a crossing away."""
    at = {item: place for row in rows for place, item in enumerate(row)}
    for row in rows:
        better = True
        while better:
            better = False
            for place in range(len(row) - 1):
                left, right = row[place], row[place + 1]
                won = _crossed(left, right, before, at) + _crossed(left, right, after, at)
                if won > _crossed(right, left, before, at) + _crossed(right, left, after, at):
                    row[place], row[place + 1] = right, left
                    at[left], at[right] = place + 1, place
                    better = True


def _crossed(left: Item, right: Item, near: Mapping[Item, list[Item]], at: Mapping[Item, int]) -> int:
    return sum(at[a] > at[b] for a in near[left] for b in near[right])


# --- places across


def _across(made: Layered, *, width: float, box: float, lane: float, gap: float) -> dict[Item, float]:
    before, after = _neighbours(made.links)
    sizes = {item: box if made.is_box(item) else lane for row in made.rows for item in row}
    across: dict[Item, float] = {}
    for row in made.rows:
        spread = (width - sum(sizes[item] for item in row)) / (len(row) + 1)
        x = 0.0
        for item in row:
            across[item] = x + spread + sizes[item] / 2
            x += spread + sizes[item]
    for sweep in range(SWEEPS):
        near = (before, after)[sweep % 2]
        for row in made.rows if sweep % 2 == 0 else reversed(made.rows):
            wanted = [_mean(across, near[item]) if near[item] else across[item] for item in row]
            weights = [1.0 if made.is_box(item) else 4.0 for item in row]
            across.update(zip(row, apart(wanted, [sizes[item] for item in row], weights, width, gap), strict=True))
    return across


def _mean(across: Mapping[Item, float], items: list[Item]) -> float:
    return sum(across[item] for item in items) / len(items)


def apart(wanted: list[float], sizes: list[float], weights: list[float], width: float, gap: float) -> list[float]:
    """The places nearest to those that are wanted (least squares) at which none overlaps and all stand within the
    width: an isotonic regression, by pooling neighbours that would pass each other.

    >>> apart([50, 50], [20, 20], [1, 1], 100, 10)
    [35.0, 65.0]
    """
    offsets, x = [], 0.0
    for size in sizes:
        offsets.append(x + size / 2)
        x += size + gap
    room = max(width - (x - gap), 0.0)
    blocks: list[tuple[float, float, int]] = []  # mean, weight, how many
    for want, offset, weight in zip(wanted, offsets, weights, strict=True):
        mean, number = want - offset, 1
        while blocks and blocks[-1][0] > mean:
            other, heavy, many = blocks.pop()
            mean = (other * heavy + mean * weight) / (heavy + weight)
            weight, number = heavy + weight, number + many
        blocks.append((mean, weight, number))
    shifts = [min(max(mean, 0.0), room) for mean, _, number in blocks for _ in range(number)]
    return [float(shift + offset) for shift, offset in zip(shifts, offsets, strict=True)]
