"""The ledger adds up to the register, whatever is in it."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from parts.domain.costs import differences, moved
from parts.domain.ledger import BY_ORIGIN, THERE, Mended, Piece, Share, Sub, ledger, share_of
from parts.domain.words import LIVE, Destination, Origin, State

SUBS = [Sub(id=1, name="Frames"), Sub(id=2, name="Horns", depth=1), Sub(id=3, name="Boiler")]


def a_piece(**entered) -> Piece:
    return Piece(
        **{"id": 1, "name": "brass", "state": State.STRIPPED, "origin": Origin.ORIGINAL, "subassembly": 1} | entered
    )


mends = st.builds(
    Mended,
    let_in=st.sampled_from(["", "plate"]),
    kg=st.none() | st.decimals(min_value=0, max_value=999, places=3),
)


@st.composite
def registers(draw):
    found = []
    for number in range(1, draw(st.integers(0, 8)) + 1):
        state = draw(st.sampled_from(State))
        piece = a_piece(
            id=number,
            quantity=draw(st.integers(1, 40)),
            each_kg=draw(st.none() | st.decimals(min_value="0.001", max_value=9999, places=9)),
            state=state,
            origin=draw(st.sampled_from(Origin)),
            subassembly=draw(st.sampled_from([None, 1, 2, 3, 99])),
            mended=tuple(draw(st.lists(mends, max_size=2))),
            destination=draw(st.sampled_from(Destination)) if state is State.WITHDRAWN else "",
            replaces=draw(st.none() | st.integers(1, number - 1)) if number > 1 else None,
        )
        found.append(piece)
    return found


@given(registers())
def test_the_ledger_adds_up_to_the_register(pieces):
    found = ledger(SUBS, pieces)
    live = [piece for piece in pieces if piece.state in LIVE]

    assert sum(found.total.pieces.values()) == sum(piece.quantity for piece in pieces)
    assert found.total.there == sum(piece.quantity for piece in live)
    for share in Share:
        assert sum(line.pieces[share] for line in found.lines) == found.total.pieces[share]
    for origin, share in BY_ORIGIN.items():
        counted = found.total.pieces[share] + (found.total.pieces[Share.REPAIRED] if origin is Origin.ORIGINAL else 0)
        assert counted == sum(piece.quantity for piece in live if piece.origin is origin)
    weighed = [done.kg for piece in live for done in piece.mended if done.kg is not None]
    assert (
        found.total.let_in_kg == sum(weighed, Decimal(0)) == sum((line.let_in_kg for line in found.lines), Decimal(0))
    )
    gone = [p.id for p in pieces if p.state is State.WITHDRAWN and p.destination != Destination.BUILT_IN]
    assert sorted(row.piece.id for row in found.gone) == gone


@given(registers())
def test_by_mass_it_adds_up_too(pieces):
    found = ledger(SUBS, pieces)

    weighed = sum((piece.quantity * piece.each_kg for piece in pieces if piece.each_kg is not None), Decimal(0))
    assert sum(found.total.kg.values(), Decimal(0)) == weighed
    assert sum(found.total.no_mass.values()) == sum(piece.quantity for piece in pieces if piece.each_kg is None)
    for share in Share:
        assert sum((line.kg[share] for line in found.lines), Decimal(0)) == found.total.kg[share]
        assert sum(line.no_mass[share] for line in found.lines) == found.total.no_mass[share]
        assert found.total.no_mass[share] <= found.total.pieces[share]


def test_each_origin_has_a_column_of_its_own():
    columns = [share_of(a_piece(origin=origin)) for origin in Origin]

    assert len(set(columns)) == len(columns)
    assert set(columns) | {Share.REPAIRED} == set(THERE)


def test_only_an_original_becomes_an_original_repaired():
    mended = (Mended(let_in="plate", kg=Decimal("12.250")),)

    assert share_of(a_piece(mended=mended)) is Share.REPAIRED
    assert share_of(a_piece(mended=mended, origin=Origin.UNKNOWN)) is Share.UNKNOWN


def test_what_was_let_in_is_summed_exactly_and_what_was_not_weighed_is_told_apart():
    weighed = (Mended(let_in="plate", kg=Decimal("0.1")), Mended(let_in="patch", kg=Decimal("0.2")))
    total = ledger(SUBS, [a_piece(mended=(*weighed, Mended(let_in="a liner"), Mended()))]).total

    assert total.let_in_kg == Decimal("0.3")
    assert total.not_weighed == 1


def test_a_given_up_piece_names_what_took_its_place_and_no_spoilt_blank():
    old = a_piece(id=1, state=State.WITHDRAWN, destination="pattern", reason="cracked through")
    spoilt = a_piece(id=2, state=State.WITHDRAWN, destination="scrapped", origin=Origin.NEW, replaces=1)
    new = a_piece(id=3, state=State.IN_THE_MAKING, origin=Origin.NEW, replaces=1)

    gone = ledger(SUBS, [spoilt, new, old]).gone

    assert [row.piece.id for row in gone] == [1, 2]
    assert [piece.id for piece in gone[0].successors] == [3]


def test_what_was_welded_into_another_piece_was_not_given_up():
    found = ledger(SUBS, [a_piece(state=State.WITHDRAWN, destination=Destination.BUILT_IN)])

    assert found.gone == []
    assert found.total.pieces[Share.BUILT_IN] == 1


def test_a_changed_currency_takes_the_sum_out_of_the_one_and_into_the_other():
    changes = moved({"actual": ["80.10", "99.30"], "currency": ["GBP", "EUR"]}, "EUR")

    assert differences(changes)["GBP"]["actual"] == Decimal("-80.10")
    assert differences(changes)["EUR"]["actual"] == Decimal("99.30")
