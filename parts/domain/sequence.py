"""The order of assembly: what goes on after what, for subassemblies and for single places with an order of their own.

One graph holds it all. Each subassembly has three moments: it may be started, its own work is on, and it is whole, all
its parts included. A place with an order of its own (a horn stay, which goes on after the wheelsets) is a moment too.
An arrow leads from what comes first to what comes after.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:  # to load it takes a sixth of every start, and what asks for no order does without
    import networkx as nx

Node = tuple[str, int]
START, ON, WHOLE, PLACE = "start", "on", "whole", "place"


class Sub(NamedTuple):
    """A subassembly, as the order sees it. `after` names those it goes on after itself, not those its parent does."""

    id: int
    code: str
    name: str
    parent: int | None = None
    after: tuple[int, ...] = ()


class OrderedPlace(NamedTuple):
    """A place that goes on after some subassemblies in its own right."""

    id: int
    subassembly: int
    after: tuple[int, ...]
    words: str = ""
    needed_first: bool = True


class Wait(NamedTuple):
    """A subassembly that another one goes on after. `through` is the one that says so: itself or an ancestor."""

    id: int
    through: int
    places: int  # needed first there and not refitted


class OrderLoop(ValueError):
    """The order contradicts itself; the sentence says where."""

    def __init__(self, names: list[str], sentence: str):
        self.names = names
        super().__init__(sentence)


def loop_sentence(subs: Iterable[Sub], ordered_places: Iterable[OrderedPlace] = ()) -> str:
    """The loop in words: "Frames goes on after Wheels, which goes on after Frames". Empty when there is none."""
    loop = _loop(*_by_id(subs, ordered_places))
    return _told(loop) if loop else ""


@lru_cache(maxsize=64)
def order_of(subs: tuple[Sub, ...], ordered_places: tuple[OrderedPlace, ...] = ()) -> Order:
    """An order is worked out once for as long as the structure stays as it is."""
    return Order(subs, ordered_places)


class Order:
    """The order of one locomotive, worked out once. Raises OrderLoop on one that contradicts itself.

    What lies behind a moment is kept as bits, one for each subassembly that is whole only after it: counting the
    incomplete ones among them is then one AND and a count.
    """

    def __init__(self, subs: Iterable[Sub], ordered_places: Iterable[OrderedPlace] = ()):
        self.by_id, self.ordered_by_id = _by_id(subs, ordered_places)
        loop = _loop(self.by_id, self.ordered_by_id)
        if loop:
            raise OrderLoop(_names(loop), _told(loop))
        self.graph, self.needed_places = _graph(self.by_id, self.ordered_by_id)
        self.lineage = {id: tuple(_upwards(self.by_id, id)) for id in self.by_id}
        self.bit = {id: 1 << index for index, id in enumerate(self.by_id)}
        self.behind = _reach(self.graph, {(WHOLE, id): bit for id, bit in self.bit.items()})

    @cached_property
    def sequence(self) -> tuple[int, ...]:
        """Subassemblies as they are taken in hand: parents before parts, the given sequence among equals."""
        import networkx as nx

        given = {id: index for index, id in enumerate(self.by_id)}

        def rank(node: Node) -> tuple[int, str, int]:
            kind, id = node
            return given[self.ordered_by_id[id].subassembly if kind == PLACE else id], kind, id

        return tuple(id for kind, id in nx.lexicographical_topological_sort(self.graph, rank) if kind == START)

    @cached_property
    def parts_first(self) -> tuple[tuple[int, int], ...]:
        """Each part with what it is part of, the innermost first: so all of it is added up in one pass."""
        parents = ((id, self.by_id[id].parent) for id in reversed(self.sequence))
        return tuple((id, parent) for id, parent in parents if parent in self.by_id)

    @cached_property
    def outline(self) -> tuple[tuple[int, int], ...]:
        """Parts under what they are part of, each with how deep it lies."""
        below: defaultdict[int | None, list[int]] = defaultdict(list)
        for id in self.sequence:
            below[next(iter(self.lineage[id][1:]), None)].append(id)

        def walk(parent: int | None, depth: int) -> Iterator[tuple[int, int]]:
            for id in below[parent]:
                yield id, depth
                yield from walk(id, depth + 1)

        return tuple(walk(None, 0))

    @cached_property
    def waits(self) -> dict[int, list[tuple[int, int]]]:
        """What each goes on after, as pairs of who says so and what. Each thing once, where a part and its parent both
        go on after it: the part comes first, and never waits for less, since what goes on after the part goes on after
        the parent too."""
        return {
            id: [(up, before) for before, up in _first(self.by_id[up] for up in line).items() if before in self.by_id]
            for id, line in self.lineage.items()
        }

    def incomplete(self, ids: Iterable[int]) -> int:
        """A set of subassemblies as `holds_up` takes it."""
        return sum(self.bit[id] for id in set(ids))

    def node(self, place: int, subassembly: int, needed_first: bool) -> Node:
        """The moment that a place of this sort stands before."""
        if self.graph.has_node((PLACE, place)):
            return PLACE, place
        return (ON if needed_first else WHOLE), subassembly

    def names(self, behind: int) -> list[str]:
        """Those subassemblies, in the order in which they are taken in hand."""
        return [self.by_id[id].name for id in self.sequence if behind & self.bit[id]]

    def holds_up(self, node: Node, incomplete: int) -> int:
        """How many incomplete subassemblies cannot be whole before this moment has passed."""
        return (self.behind[node] & incomplete).bit_count()


def holds_up(order: Order, node: Node, incomplete: Iterable[int]) -> int:
    return order.holds_up(node, order.incomplete(incomplete))


def levels(order: Order) -> dict[int, int]:
    """A column for each subassembly in a drawing: one to the right of the furthest thing it goes on after."""
    import networkx as nx

    column: dict[Node, int] = {}
    for node in nx.topological_sort(order.graph):
        before = order.graph.pred[node]
        column[node] = max((column[b] + (node[0] == START and b[0] != START) for b in before), default=0)
    return {id: column[START, id] for id in order.by_id}


def waits_for(order: Order, lacking: dict[int, int], open_ordered: set[int]) -> dict[int, tuple[Wait, ...]]:
    """For each subassembly everything it goes on after, in its own right or through those it is a part of.

    `lacking` counts, for each subassembly, its own ordinary places that are needed first and not refitted;
    `open_ordered` are the places with an order of their own that are not refitted.
    """
    branch = _rolled_up(order, lacking)
    waits = {
        (through, before): Wait(before, through, branch[before] + len(open_ordered.intersection(places)))
        for (through, before), places in order.needed_places.items()
    }
    return {id: tuple([waits[pair] for pair in pairs]) for id, pairs in order.waits.items()}


def _first(line: Iterable[Sub]) -> dict[int, int]:
    """Of everything that these go on after, the first that does."""
    found: dict[int, int] = {}
    for sub in line:
        for before in sub.after:
            found.setdefault(before, sub.id)
    return found


def _rolled_up(order: Order, own: dict[int, int]) -> dict[int, int]:
    branch = dict.fromkeys(order.by_id, 0) | own
    for part, whole in order.parts_first:
        branch[whole] += branch[part]
    return branch


# --- building the graph


def _by_id(
    subs: Iterable[Sub], ordered_places: Iterable[OrderedPlace]
) -> tuple[dict[int, Sub], dict[int, OrderedPlace]]:
    by_id = {sub.id: sub for sub in subs}
    return by_id, {place.id: place for place in ordered_places if place.subassembly in by_id}


PlacesNeeded = dict[tuple[int, int], tuple[int, ...]]
"""For each pair (A, B) where A goes on after B: the ordered places of B and its parts that A waits for."""


def _graph(subs: dict[int, Sub], ordered_places: dict[int, OrderedPlace]) -> tuple[nx.DiGraph, PlacesNeeded]:
    graph = _earlier(subs, ordered_places)
    needed = _places_needed(subs, ordered_places, graph)
    for (later, _), places in needed.items():
        graph.add_edges_from(((PLACE, place), (START, later)) for place in places)
    return graph, needed


def _earlier(subs: dict[int, Sub], ordered_places: dict[int, OrderedPlace]) -> nx.DiGraph:
    """Everything but what ordered places hold up, which can only be told once it is known what they wait for."""
    import networkx as nx

    graph = nx.DiGraph()
    for sub in subs.values():
        graph.add_edge((START, sub.id), (ON, sub.id))
        graph.add_edge((ON, sub.id), (WHOLE, sub.id))
        if sub.parent in subs:
            graph.add_edge((START, sub.parent), (START, sub.id))
            graph.add_edge((ON, sub.id), (ON, sub.parent))
            graph.add_edge((WHOLE, sub.id), (WHOLE, sub.parent))
        graph.add_edges_from(((ON, before), (START, sub.id)) for before in sub.after if before in subs)
    for place in ordered_places.values():
        graph.add_edge((START, place.subassembly), (PLACE, place.id))
        graph.add_edge((PLACE, place.id), (WHOLE, place.subassembly))
        graph.add_edges_from(((ON, before), (PLACE, place.id)) for before in place.after if before in subs)
    return graph


def _places_needed(subs: dict[int, Sub], ordered_places: dict[int, OrderedPlace], graph: nx.DiGraph) -> PlacesNeeded:
    """Such a place is needed first by what goes on after its subassembly, unless it goes on after that itself."""
    inside = defaultdict(list)
    for place in ordered_places.values():
        if place.needed_first:
            for up in _upwards(subs, place.subassembly):
                inside[up].append(place.id)
    bits = {(PLACE, id): 1 << index for index, id in enumerate(ordered_places)}
    after = _reach(graph, bits)
    return {
        (sub.id, before): tuple(id for id in inside[before] if not after[START, sub.id] & bits[PLACE, id])
        for sub in subs.values()
        for before in sub.after
        if before in subs
    }


def _reach(graph: nx.DiGraph, bits: dict[Node, int]) -> dict[Node, int]:
    """For each node the bits of all nodes that can be reached from it, its own included."""
    import networkx as nx

    reach: dict[Node, int] = {}
    for node in reversed(list(nx.topological_sort(graph))):
        found = bits.get(node, 0)
        for following in graph.succ[node]:
            found |= reach[following]
        reach[node] = found
    return reach


def _upwards(subs: dict[int, Sub], id: int | None) -> Iterator[int]:
    seen: set[int] = set()
    while id in subs and id not in seen:
        seen.add(id)
        yield id
        id = subs[id].parent


# --- naming a loop

IN_WORDS = {
    (START, START): "is part of",
    (ON, ON): "takes in",
    (WHOLE, WHOLE): "takes in",
    (START, PLACE): "belongs to",
}


def _loop(subs: dict[int, Sub], ordered_places: dict[int, OrderedPlace]) -> list[tuple[str, str]] | None:
    """One loop, told backwards: each name with how it hangs on the next, beginning where something goes on after."""
    import networkx as nx

    graph = _earlier(subs, ordered_places)
    if nx.is_directed_acyclic_graph(graph):
        graph, _ = _graph(subs, ordered_places)
        if nx.is_directed_acyclic_graph(graph):
            return None
    links = [
        (_name(later, subs, ordered_places), IN_WORDS.get((earlier[0], later[0]), "goes on after"))
        for earlier, later in reversed(nx.find_cycle(graph))
        if (earlier[0], later[0]) != (START, ON)
    ]
    first = next((i for i, (_, how) in enumerate(links) if how == "goes on after"), 0)
    return links[first:] + links[:first]


def _name(node: Node, subs: dict[int, Sub], ordered_places: dict[int, OrderedPlace]) -> str:
    kind, id = node
    if kind == PLACE:
        return ordered_places[id].words or f"a place of {subs[ordered_places[id].subassembly].name}"
    return subs[id].name


def _names(loop: list[tuple[str, str]]) -> list[str]:
    return list(dict.fromkeys(name for name, _ in loop))


def _told(loop: list[tuple[str, str]]) -> str:
    names = [name for name, _ in loop]
    links = [f"{how} {name}" for (_, how), name in zip(loop, names[1:] + names[:1], strict=True)]
    return f"{names[0]} {', which '.join(links)}"
