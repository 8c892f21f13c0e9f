"""Laying out structures to look at, and the graph of what goes on after what in one of them."""

from functools import cache

import networkx as nx

from parts.domain.choices import CHOICES
from parts.domain.structure import LocomotiveSpec, plan


def answered_together():
    """Every answer to every further choice, in as few locomotives as there are answers to the longest."""
    for number in range(max(len(choice.words) for choice in CHOICES.values())):
        yield {field: list(choice.words)[number % len(choice.words)] for field, choice in CHOICES.items()}


@cache
def laid_out(wheels="0-6-0T", **entered):
    return plan(LocomotiveSpec(wheels, **entered))


def named(found, name, **where):
    return [p for p in found.positions if p.name == name and all(getattr(p, k) == v for k, v in where.items())]


def paths(found):
    """The names that lead to each subassembly, outermost first."""
    leading = {None: ()}
    for sub in found.subassemblies:  # each after the one around it
        leading[sub.code] = (*leading[sub.parent], sub.name.casefold())
    return leading


def order_graph(found):
    """What goes on after what: a start, an on and a whole of each subassembly, and a node for each ordered place."""
    graph = nx.DiGraph()
    for sub in found.subassemblies:
        nx.add_path(graph, [("start", sub.code), ("on", sub.code), ("whole", sub.code)])
        if sub.parent:
            graph.add_edge(("start", sub.parent), ("start", sub.code))
            graph.add_edge(("on", sub.code), ("on", sub.parent))
            graph.add_edge(("whole", sub.code), ("whole", sub.parent))
        graph.add_edges_from((("on", before), ("start", sub.code)) for before in sub.goes_on_after)
    ordered = [place for place in found.positions if place.goes_on_after]
    for place in ordered:
        graph.add_edges_from((("on", before), place.key) for before in place.goes_on_after)
        graph.add_edges_from([(("start", place.subassembly), place.key), (place.key, ("whole", place.subassembly))])
    parents = {sub.code: sub.parent for sub in found.subassemblies}
    behind, added = {}, []  # places of one order in one subassembly have the same behind them
    for place in (place for place in ordered if place.needed_first):
        alike = (place.subassembly, place.goes_on_after)
        behind[alike] = behind.get(alike) or nx.ancestors(graph, place.key)
        around = {place.subassembly, parents[place.subassembly]} - {None}
        for sub in found.subassemblies:
            if around & set(sub.goes_on_after) and ("start", sub.code) not in behind[alike]:
                added.append((place.key, ("start", sub.code)))
    graph.add_edges_from(added)
    return graph
