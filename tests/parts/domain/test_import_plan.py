"""What an import would do, row by row: over plain rows, without a database."""

from parts.domain.import_plan import plan
from parts.domain.import_rows import KnownLocation, KnownPiece, KnownPlace, Register
from parts.domain.import_words import named
from parts.domain.importing import place_key, read
from parts.domain.spreadsheets import Sheet
from parts.domain.tagcodes import with_check
from parts.domain.words import State

HEADS = "subassembly position side axle end part_of state tag location".split()
OURS = with_check("ABCDEFG")


def planned(*rows, register=None, heads=HEADS):
    cells = [tuple(cell.strip() for cell in row.split("|")) for row in rows]
    return plan(read(Sheet(tuple(heads), tuple(enumerate(cells, 2)))), register or Register())


def problems(made) -> list[tuple[int, str]]:
    return [(bad.row, bad.column) for bad in made.bad]


def a_place(name="buffer", *, side="", axle="", end="", **more) -> KnownPlace:
    return KnownPlace(id=1, key=place_key(("frames",), name, side, axle, end), words=name, **more)


def a_register(place: KnownPlace, *pieces: KnownPiece, **more) -> Register:
    return Register(subassemblies={("frames",): 1}, places={place.key: place}, pieces={1: list(pieces)}, **more)


def outer_of(made, row: int) -> str:
    return next(" ".join(filter(None, step.outer[1:])) for step in made.steps if step.row.number == row)


# --- places ---


def test_groups_and_locations_that_are_missing_are_made_larger_ones_first():
    made = planned("Motion / Left | rod | | | | | cleaned | | Stores / Rack / Crate 4", "motion/left|pin|")
    assert list(made.subassemblies) == [("motion",), ("motion", "left")]
    assert list(made.locations) == [("stores",), ("stores", "rack"), ("stores", "rack", "crate 4")]


def test_a_place_is_known_whatever_the_case_and_spacing():
    made = planned("FRAMES |  Buffer", register=a_register(a_place()))
    assert (made.steps, made.unchanged, made.subassemblies) == ([], 1, {})


def test_one_place_twice_is_a_bad_row():
    made = planned("F | buffer | LH", "f | Buffer  | left")
    assert problems(made) == [(3, "position")]
    assert "row 2" in made.bad[0].sentence


def test_a_place_taken_away_stays_away_and_is_named():
    made = planned("Frames | buffer | | | | | cleaned", register=a_register(a_place(retired=True)))
    assert (made.steps, [d.column for d in made.differences]) == ([], ["position"])


def test_what_differs_about_a_place_is_named_and_not_changed():
    register = a_register(a_place(quantity=2, drawing="D 1", safety_critical=True, crack_check="any"))
    heads = ["subassembly", "position", "quantity", "drawing", "safety_critical", "crack_check"]
    made = planned("Frames | buffer | 3 | D 2 | no | UT", register=register, heads=heads)
    assert [d.column for d in made.differences] == ["quantity", "safety_critical", "crack_check", "drawing"]
    assert made.steps == []


def test_a_column_that_the_list_does_not_have_claims_nothing():
    register = a_register(a_place(quantity=24, safety_critical=True, crack_check="any", drawing="D 1"))
    assert planned("Frames | buffer", register=register, heads=["subassembly", "position"]).differences == []


# --- pieces ---


def test_a_piece_is_added_to_a_place_that_was_not_looked_at():
    made = planned("Frames | buffer | | | | | cleaned", register=a_register(a_place()))
    assert [(step.adds_place, step.adds_piece) for step in made.steps] == [(False, True)]


def test_a_piece_that_is_there_is_not_added_again_however_far_it_has_come():
    register = a_register(a_place(), KnownPiece(id=9, state=State.REFITTED, name="buffer"))
    made = planned("Frames | buffer | | | | | stripped", register=register)
    assert made.steps == []
    assert [str(d) for d in made.differences] == [
        "row 2, buffer, state: the file says stripped, the register refitted."
    ]


def test_a_piece_does_not_go_into_a_place_that_is_known_to_be_empty():
    made = planned("Frames | buffer | | | | | cleaned", register=a_register(a_place(known_empty=True)))
    assert (made.steps, len(made.differences)) == ([], 1)


def test_a_new_one_in_the_making_goes_beside_the_emptiness():
    made = planned("Frames | buffer | | | | | in the making", register=a_register(a_place(known_empty=True)))
    assert [step.adds_piece for step in made.steps] == [True]


def test_more_pieces_than_the_place_takes_are_a_bad_row():
    heads = ["subassembly", "position", "state", "quantity"]
    made = planned("Frames | buffer | cleaned | 3", register=a_register(a_place(quantity=2)), heads=heads)
    assert problems(made) == [(2, "quantity")]


def test_a_list_without_quantities_speaks_of_the_whole_lot():
    heads = ["subassembly", "position", "state"]
    made = planned("Frames | buffer | cleaned", register=a_register(a_place(quantity=24)), heads=heads)
    assert made.steps[0].quantity == 24


def test_how_many_were_read_is_told_before_they_are_taken_over():
    heads = ["subassembly", "position", "state", "quantity"]
    made = planned("Frames | buffer | cleaned | two", "Frames | stay | cleaned | 1", heads=heads)
    told = dict(named(made))
    assert told["New places"] == ["Frames: buffer × 2", "Frames: stay"]
    assert told["Pieces"] == ["buffer × 2: cleaned", "stay: cleaned"]


def test_empty_is_noted_where_nobody_had_looked_and_contradicts_a_piece():
    assert planned("Frames | buffer | | | | | empty", register=a_register(a_place())).steps[0].adds_empty
    filled = a_register(a_place(), KnownPiece(id=9, state=State.CLEANED))
    made = planned("Frames | buffer | | | | | empty", register=filled)
    assert (made.steps, [d.column for d in made.differences]) == ([], ["state"])


# --- tags and locations ---


def test_an_unused_tag_of_ours_is_tied_and_another_number_is_kept():
    made = planned(
        f"F | a | | | | | cleaned | {OURS.lower()}",
        "F | b | | | | | cleaned | 113",
        register=Register(codes={OURS: ""}),
    )
    assert [step.code for step in made.steps] == [OURS, ""]


def test_a_tag_of_ours_that_is_tied_is_a_bad_row():
    made = planned(f"F | a | | | | | cleaned | {OURS}", register=Register(codes={OURS: "axlebox"}))
    assert problems(made) == [(2, "tag")]


def test_a_code_that_was_never_printed_here_is_kept_as_a_number_and_noted():
    made = planned(f"F | a | | | | | cleaned | {OURS}")
    assert (made.bad, made.steps[0].code, len(made.notes)) == ([], "", 1)


def test_two_pieces_with_one_tag_are_a_bad_row_even_when_the_first_is_bad_too():
    made = planned("F | a | | | | | cleand | T 7", "F | b | | | | | cleaned | t  7")
    assert problems(made) == [(2, "state"), (3, "tag")]


def test_a_number_that_another_piece_of_the_register_bears_is_a_bad_row():
    made = planned("F | a | | | | | cleaned | T 7", register=Register(works_numbers={"t 7": "axlebox"}))
    assert problems(made) == [(2, "tag")]


def test_a_place_no_longer_used_is_a_bad_row():
    register = Register(locations={("crate 1",): KnownLocation(id=1, retired=True)})
    assert problems(planned("F | a | | | | | cleaned | | Crate 1", register=register)) == [(2, "location")]


def test_a_fitted_piece_lies_on_the_locomotive_whatever_the_list_says():
    made = planned("F | a | | | | | refitted | | Crate 1")
    assert (made.bad, made.locations, len(made.notes)) == ([], {}, 1)


def test_an_accepted_piece_does_not_lie_on_the_locomotive():
    register = Register(locations={("on fern",): KnownLocation(id=1, on_locomotive=True)})
    assert problems(planned("F | a | | | | | accepted | | On Fern", register=register)) == [(2, "location")]
    assert problems(planned("F | a | | | | | stripped | | On Fern", register=register)) == []


# --- built-up pieces ---

BOXES = ("F | box | LH | leading", "F | box | RH | leading", "F | box | LH | driving")


def test_part_of_means_the_piece_at_the_same_side_and_axle():
    assert outer_of(planned(*BOXES, "F | brass | LH | driving | | Box"), 5) == "box LH driving"


def test_part_of_may_name_a_row_further_down():
    assert outer_of(planned("F | brass | LH | | | box", "F | box | LH"), 2) == "box LH"


def test_part_of_may_name_a_place_of_the_register():
    made = planned("Frames | keep | | | | buffer", register=a_register(a_place()))
    assert outer_of(made, 2) == "buffer"


def test_part_of_that_may_be_several_is_a_bad_row_and_the_mend_works():
    made = planned(*BOXES, "F | brass | | | | box")
    assert problems(made) == [(5, "part_of")]
    assert "“box, LH, leading”" in made.bad[0].cure
    assert outer_of(planned(*BOXES, "F | brass | | | | box, RH, leading"), 5) == "box RH leading"


def test_part_of_that_is_nowhere_or_in_another_group_or_itself_is_a_bad_row():
    assert problems(planned("F | brass | | | | box", "G | box", "F | pin | | | | pin")) == [
        (2, "part_of"),
        (4, "part_of"),
    ]


def test_a_piece_part_of_itself_by_way_of_another_is_a_bad_row():
    made = planned("F | a | | | | b", "F | b | | | | a")
    assert problems(made) == [(2, "part_of"), (3, "part_of")]


def opened(*rows, register=None) -> set[str]:
    return {key[1] for key in planned(*rows, register=register).opened}


def test_a_piece_apart_means_that_what_it_belongs_in_is_broken_down():
    for state in (
        "stripped",
        "cleaned",
        "crack-checked",
        "accepted",
        "refitted",
        "renewed",
        "in the making",
        "withdrawn",
    ):
        assert opened("F | box | | | | | stripped", f"F | brass | | | | box | {state}") == {"box"}


def test_a_piece_in_place_or_not_looked_at_means_nothing_of_the_kind():
    for state in ("in place", ""):
        assert opened("F | box | | | | | stripped", f"F | brass | | | | box | {state}") == set()


def test_an_empty_place_in_a_piece_that_is_gone_says_nothing_more():
    assert opened("F | box | | | | | withdrawn", "F | brass | | | | box | empty") == set()
    assert opened("F | box | | | | | stripped", "F | brass | | | | box | empty") == {"box"}


def test_everything_around_a_piece_apart_is_broken_down():
    rows = ("F | wheelset", "F | box | | | | wheelset", "F | brass | | | | box | cleaned")
    assert opened(*rows) == {"wheelset", "box"}
