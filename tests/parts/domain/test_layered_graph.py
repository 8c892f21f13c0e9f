"""The picture of the order: crossings counted, no line behind a box, whole names."""

from itertools import combinations
from math import comb

import networkx as nx
import pytest

from parts.domain.layered_graph import Layered, apart, crossings, layered

SIZES = {"width": 1200, "box": 196, "lane": 8, "gap": 14, "most": 5}


def laid_out(edges, nodes=()) -> Layered:
    graph = nx.DiGraph(edges)
    graph.add_nodes_from(nodes)
    return layered(graph, **SIZES)


def an_order_of_sixty() -> nx.DiGraph:
    """Each goes on after up to three of the twelve before it, by a rule that spreads them."""
    graph = nx.DiGraph()
    graph.add_nodes_from(range(60))
    chosen = ((n - 1 - (n * k) % 12, n) for n in range(4, 60) for k in (2, 5, 7))
    graph.add_edges_from((before, after) for before, after in chosen if before >= 0)
    return graph


ORDERS = {
    "a chain": nx.DiGraph((n, n + 1) for n in range(12)),
    "a tree": nx.DiGraph((n // 3, n) for n in range(1, 40)),
    "sixty": an_order_of_sixty(),
    "a long line beside a chain": nx.DiGraph([*((n, n + 1) for n in range(6)), ("x", 6), (0, "x")]),
    "no order at all": nx.empty_graph(23, create_using=nx.DiGraph),
    "nothing": nx.DiGraph(),
}


@pytest.mark.parametrize(("m", "n"), [(2, 2), (3, 3), (3, 5)])
def test_crossings_of_a_complete_bipartite_graph(m, n):
    """Any two of m above and any two of n below cross once, whatever the order: C(m, 2) C(n, 2) crossings in two rows
    (Garey and Johnson, "Crossing number is NP-complete", SIAM J. Alg. Disc. Meth. 4 (1983), bipartite crossings)."""
    above, below = [(f"a{i}", 0) for i in range(m)], [(f"b{i}", 1) for i in range(n)]
    assert crossings([above, below], [(a, b) for a in above for b in below]) == comb(m, 2) * comb(n, 2)


@pytest.mark.parametrize("order", ORDERS.values(), ids=ORDERS)
def test_crossings_are_those_of_straight_lines_between_the_rows(order):
    """Counted again as geometry: two segments between the same rows cross where their ends change sides."""
    made = layered(order, **SIZES)
    x = made.across
    counted = sum((x[a] - x[c]) * (x[b] - x[d]) < 0 for (a, b), (c, d) in combinations(made.links, 2) if a[1] == c[1])
    assert made.crossings == counted


def test_what_can_be_drawn_without_a_crossing_is():
    for name in ("a chain", "a tree", "a long line beside a chain"):
        assert layered(ORDERS[name], **SIZES).crossings == 0, name


def test_the_sweeps_untangle():
    """Drawn as they come, four pairs that stand the other way round below cross six times."""
    assert laid_out([(n, 9 - n) for n in range(4)], nodes=range(10)).crossings == 0


@pytest.mark.parametrize("order", ORDERS.values(), ids=ORDERS)
def test_each_stands_below_what_it_goes_on_after(order):
    row_of = layered(order, **SIZES).row_of
    assert set(row_of) == set(order)
    assert all(row_of[before] < row_of[after] for before, after in order.edges)


@pytest.mark.parametrize("order", ORDERS.values(), ids=ORDERS)
def test_no_box_or_line_overlaps_a_box_and_all_fit_the_width(order):
    """A line leaves its row only between rows; in a row it keeps its lane, which is apart from every box."""
    made = layered(order, **SIZES)
    for row in made.rows:
        edges = []
        for item in row:
            half = (SIZES["box"] if made.is_box(item) else SIZES["lane"]) / 2
            edges += [made.across[item] - half, made.across[item] + half]
        assert edges == sorted(edges)
        assert edges[0] >= -0.01
        assert edges[-1] <= SIZES["width"] + 0.01
        assert all(right - left >= SIZES["gap"] - 0.01 for left, right in zip(edges[1::2], edges[2::2], strict=False))
        assert sum(map(made.is_box, row)) <= SIZES["most"]


def test_sixty_are_readable():
    made = layered(ORDERS["sixty"], **SIZES)
    assert len(made.rows) <= 18
    assert made.crossings <= 40


def test_places_nearest_to_those_wanted():
    """By hand: 10 and 30 already stand apart; of three that want one place, the middle one gets it."""
    assert apart([10, 30], [10, 10], [1, 1], 100, 5) == [10, 30]
    assert apart([50, 50, 50], [20, 20, 20], [1, 1, 1], 200, 10) == [20, 50, 80]
    assert apart([0, 200], [20, 20], [1, 1], 100, 10) == [10, 90]
