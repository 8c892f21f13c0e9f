"""The order of assembly by its definition, with plain sets of arrows and no graph library: slow, easy to believe."""

from hypothesis import strategies as st

from parts.domain.sequence import Late, Sub


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
    lates = tuple(
        Late(
            100 + n, draw(ids), tuple(sorted(draw(st.sets(ids, min_size=1, max_size=2)))), f"p{n}", draw(st.booleans())
        )
        for n in range(draw(st.integers(0, 3)))
    )
    return subs, lates


def arrows(subs, lates):
    """Every arrow of the design, those of late places last, since they rest on what the others say."""
    found = set()
    for sub in subs:
        found |= {(("start", sub.id), ("on", sub.id)), (("on", sub.id), ("whole", sub.id))}
        found |= {(("on", before), ("start", sub.id)) for before in sub.after}
        if sub.parent:
            found |= {(("start", sub.parent), ("start", sub.id)), (("whole", sub.id), ("whole", sub.parent))}
            found.add((("on", sub.id), ("on", sub.parent)))
    for late in lates:
        found |= {(("on", before), ("place", late.id)) for before in late.after}
        found |= {(("start", late.subassembly), ("place", late.id)), (("place", late.id), ("whole", late.subassembly))}
    earlier = frozenset(found)
    for sub in subs:
        for late in needed_late(sub, subs, lates, earlier):
            found.add((("place", late.id), ("start", sub.id)))
    return found


def needed_late(sub, subs, lates, earlier):
    behind = reached({("start", sub.id)}, earlier)
    inside = {id for before in sub.after for id in branch(before, subs)}
    return [
        late for late in lates if late.needed_first and late.subassembly in inside and ("place", late.id) not in behind
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
