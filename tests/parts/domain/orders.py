"""The order of assembly by its definition, with plain sets of arrows and no graph library: slow, easy to believe."""

from hypothesis import strategies as st

from parts.domain.sequence import OrderedPlace, Sub


@st.composite
def structures(draw):
    """Small structures, loops among them. Parts are numbered after their parents."""
    many = draw(st.integers(1, 6))
    ids = st.integers(1, many)
    subs = tuple(
        Sub(
            id=id,
            code=f"s{id}",
            name=f"S{id}",
            parent=draw(st.sampled_from([None, *range(1, id)])),
            after=tuple(sorted(draw(st.sets(st.integers(1, max(1, id - 1)) | ids, max_size=2)) - {id})),
        )
        for id in range(1, many + 1)
    )
    ordered_places = tuple(
        OrderedPlace(
            100 + n, draw(ids), tuple(sorted(draw(st.sets(ids, min_size=1, max_size=2)))), f"p{n}", draw(st.booleans())
        )
        for n in range(draw(st.integers(0, 3)))
    )
    return subs, ordered_places


def arrows(subs, ordered_places):
    """Every arrow of the design, those of ordered places last, since they rest on what the others say."""
    found = set()
    for sub in subs:
        found |= {(("start", sub.id), ("on", sub.id)), (("on", sub.id), ("whole", sub.id))}
        found |= {(("on", before), ("start", sub.id)) for before in sub.after}
        if sub.parent:
            found |= {(("start", sub.parent), ("start", sub.id)), (("whole", sub.id), ("whole", sub.parent))}
            found.add((("on", sub.id), ("on", sub.parent)))
    for ordered in ordered_places:
        found |= {(("on", before), ("place", ordered.id)) for before in ordered.after}
        found |= {
            (("start", ordered.subassembly), ("place", ordered.id)),
            (("place", ordered.id), ("whole", ordered.subassembly)),
        }
    earlier = frozenset(found)
    for sub in subs:
        for ordered in ordered_needed(sub, subs, ordered_places, earlier):
            found.add((("place", ordered.id), ("start", sub.id)))
    return found


def ordered_needed(sub, subs, ordered_places, earlier):
    behind = reached({("start", sub.id)}, earlier)
    inside = {id for before in sub.after for id in branch(before, subs)}
    return [
        ordered
        for ordered in ordered_places
        if ordered.needed_first and ordered.subassembly in inside and ("place", ordered.id) not in behind
    ]


def reached(nodes, found):
    """All that lies behind these nodes, themselves left out unless a loop leads back."""
    seen = set()
    edge = set(nodes)
    while edge:
        edge = {b for a, b in found if a in edge} - seen
        seen |= edge
    return seen


def branch(id, subs):
    return {id}.union(*(branch(sub.id, subs) for sub in subs if sub.parent == id))


def is_looped(found):
    return any(node in reached({node}, found) for node, _ in found)
