"""Taking a works' list over: what is written, that it is all or nothing, and that nothing there already is changed."""

from contextlib import contextmanager

import pytest
from django.db import IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.domain.refusals import Refused
from core.models import Event
from parts.actions.refresh import out_of_date
from parts.actions.tags import unused
from parts.domain.importing import read_sheet
from parts.domain.words import Destination, Need, State
from parts.models import Component, Location, Position, Subassembly, Tag
from parts.structure.writers.structure import add_position
from parts.taking_over.writers.importing import import_register, look_over, take_over
from tests.factories import events_of
from tests.parts.a_list import HEADS, ROWS, as_csv, one_row

pytestmark = pytest.mark.django_db
TABLES = (Subassembly, Position, Component, Event, Location, Tag)


def counts() -> list[int]:
    return [model.objects.count() for model in TABLES]


def bring_in(works, *rows, actor=None, heads=HEADS):
    sheet = read_sheet(as_csv(rows, heads=heads))
    return import_register(works.locomotive, sheet, actor or works.people.manager, source="list.csv")


def one(works, **entered) -> Position:
    """The place of one row, after its import."""
    bring_in(works, one_row(**{"subassembly": "Motion", "position": "link"} | entered))
    return Position.objects.get(name=entered.get("position", "link"))


@pytest.mark.engine
def test_the_whole_list_is_written(works):
    made = bring_in(works, *ROWS)
    assert made.bad == []
    assert Position.objects.count() == len(ROWS)
    assert set(works.locomotive.subassemblies.values_list("name", flat=True)) == {
        "Frames",
        "Running gear",
        "Wheels",
        "Boiler",
    }
    assert out_of_date({"locomotive": works.locomotive}) == []


@pytest.mark.engine
def test_the_same_list_twice_changes_nothing_and_says_so(works):
    bring_in(works, *ROWS)
    before = counts()
    again = bring_in(works, *ROWS)
    assert (again.steps, again.differences, again.unchanged) == ([], [], len(ROWS))
    assert counts() == before


@pytest.mark.engine
def test_rows_that_came_since_are_added_and_no_others(works):
    bring_in(works, *ROWS[:-2])
    made = bring_in(works, *ROWS)
    assert [step.row.position for step in made.steps] == [row[1] for row in ROWS[-2:]]


@pytest.mark.engine
def test_a_list_read_again_after_work_has_gone_on_adds_nothing(works):
    place = one(works, state="stripped", location="Crate 9")
    piece = place.pieces.get()
    works.clean(piece)
    works.withdraw(piece)
    made = bring_in(works, one_row(subassembly="Motion", position="link", state="stripped"))
    assert (made.steps, [d.column for d in made.differences]) == ([], ["state"])


@pytest.mark.engine
def test_one_bad_row_keeps_all_of_it_out(works):
    before = counts()
    made = bring_in(works, *ROWS, one_row(subassembly="Motion", position="link", state="broken"))
    assert [bad.row for bad in made.bad] == [len(ROWS) + 2]
    assert counts() == before


@pytest.mark.engine
def test_trouble_half_way_leaves_nothing_behind(works, monkeypatch):
    def trouble(*args):
        raise IntegrityError

    before = counts()
    monkeypatch.setattr("parts.actions.tags.tie_or_issue", trouble)
    with pytest.raises(Refused, match="Somebody changed the same places"):
        bring_in(works, *ROWS)
    assert counts() == before


def test_looking_over_writes_nothing(works):
    before = counts()
    assert look_over(works.locomotive, read_sheet(as_csv())).steps
    assert counts() == before


def test_only_the_works_manager_may(works):
    for person in works.people:
        if person != works.people.manager:
            with pytest.raises(Refused, match="Your roles do not allow “import”"):
                bring_in(works, *ROWS, actor=person)
    assert Position.objects.count() == 0


def test_what_the_works_vouches_for_is_an_event_saying_so(works):
    piece = one(works, state="accepted", location="Crate 9").pieces.get()
    event = Event.objects.get(pk=piece.last_event)
    assert (event.action, event.actor, event.to_state) == ("take over", works.people.manager, "accepted")
    assert event.data == {"row": 2, "source": "list.csv"}
    assert (piece.vouched_state, piece.vouched_event, piece.confirmed) == ("accepted", event.pk, False)
    assert piece.movements.get().went_to == Location.objects.get(path="Crate 9")


def test_what_can_hurt_someone_waits_for_the_responsible_engineer(works):
    place = one(works, state="accepted", safety_critical="yes", location="Crate 9")
    assert (place.standing, place.need) == ("blocked", Need.SIGN)
    works.do("confirm", place.pieces.get(), works.people.engineer, reason="seen at the bench")
    place.refresh_from_db()
    assert place.standing == "ready"


@pytest.mark.parametrize("state", ["in place", "refitted"])
def test_a_fitted_piece_lies_on_the_locomotive(works, state):
    piece = one(works, state=state).pieces.get()
    assert (piece.fitted, piece.location) == (piece.place, works.locomotive.location)


def test_a_refitted_piece_can_be_taken_off_again(works):
    piece = one(works, state="refitted").pieces.get()
    works.do("take off", piece, works.people.fitter, reason="in the way")
    assert piece.state == "accepted"


@pytest.mark.engine
def test_a_withdrawn_piece_is_found_and_its_place_known_empty(works):
    place = one(works, state="withdrawn", tag="77", location="Scrap bay")
    piece = Component.objects.get(works_number="77")
    assert (piece.place, piece.destination, piece.location.path) == (place, Destination.NOT_SAID, "Scrap bay")
    assert (place.known_empty_by, place.evidence) == (works.people.manager, "the works' register: withdrawn")
    assert place.need == Need.SOURCE


def test_every_piece_has_a_code_and_a_works_own_number_is_kept(works):
    piece = one(works, state="cleaned", tag="AX-113").pieces.get()
    assert piece.works_number == "AX-113"
    assert piece.tags.get().current


@pytest.mark.engine
def test_an_unused_tag_of_ours_is_tied_to_its_piece(works):
    (tag,) = unused(1)
    piece = one(works, state="cleaned", tag=tag.code.lower()).pieces.get()
    assert (piece.tags.get(), piece.works_number) == (tag, "")


@pytest.mark.engine
def test_a_place_of_the_register_gets_its_piece_and_keeps_all_else(works):
    place = add_position(works.frames, works.people.manager, name="buffer", safety_critical=True, drawing="D 1")
    made = bring_in(works, one_row(subassembly="Frames", position="Buffer", safety_critical="no", state="stripped"))
    place.refresh_from_db()
    assert (place.safety_critical, place.pieces.get().state) == (True, "stripped")
    assert [d.column for d in made.differences] == ["safety_critical"]


def test_a_place_of_the_register_is_known_empty_when_the_list_says_so(works):
    place = add_position(works.frames, works.people.manager, name="buffer")
    bring_in(works, one_row(subassembly="Frames", position="buffer", state="empty"))
    place.refresh_from_db()
    assert (place.known_empty, place.need) == (True, Need.SOURCE)
    assert events_of(place).filter(action="known empty").exists()


@pytest.mark.engine
def test_a_piece_apart_breaks_down_the_one_around_it_in_the_register_too(works):
    place = add_position(works.frames, works.people.manager, name="axlebox")
    outer = works.piece("cleaned", place=place)
    bring_in(works, one_row(subassembly="Frames", position="brass", part_of="axlebox", state="cleaned"))
    outer.refresh_from_db()
    assert (outer.broken_down, outer.place.opened) == (True, True)
    assert Event.objects.get(pk=outer.last_event).action == "break down"


def test_a_piece_in_place_sleeps_in_what_it_is_part_of(works):
    rows = [
        one_row(subassembly="Frames", position="axlebox", state="in place"),
        one_row(subassembly="Frames", position="brass", part_of="axlebox", state="in place"),
    ]
    bring_in(works, *rows)
    brass = Position.objects.get(name="brass")
    assert (brass.standing, brass.pieces.get().location) == ("asleep", None)


def test_a_command_imports_without_a_role(works):
    made = take_over(works.locomotive, read_sheet(as_csv()), works.people.trustee, source="list.csv")
    assert len(made.steps) == len(ROWS)


CELLS = st.fixed_dictionaries(
    {
        "subassembly": st.sampled_from(["Frames", "Motion", "Motion / Left"]),
        "position": st.sampled_from(["link", "box", "brass", "pin"]),
        "side": st.sampled_from(["", "LH", "RH"]),
        "quantity": st.sampled_from(["", "1", "3"]),
        "safety_critical": st.sampled_from(["", "yes"]),
        "crack_check": st.sampled_from(["", "yes", "UT"]),
        "part_of": st.booleans(),
        "state": st.sampled_from(["", "empty", *State]),
        "location": st.sampled_from(["", "Crate 1", "Foundry"]),
    }
)


WITHIN = {"brass": "box", "pin": "brass"}


def as_rows(entered: list[dict]) -> list[tuple]:
    """The cells without what would keep most lists out: a location of nothing, a built-up piece that is not listed."""
    there = {(cells["subassembly"], cells["position"], cells["side"]) for cells in entered}
    rows = []
    for cells in entered:
        outer = WITHIN.get(cells["position"], "")
        listed = (cells["subassembly"], outer, cells["side"]) in there
        mended = {"part_of": outer if cells["part_of"] and listed else ""}
        if cells["state"] in ("", "empty"):
            mended["location"] = ""
        rows.append(one_row(**cells | mended))
    return rows or [one_row(subassembly="Motion", position="rod")]


@settings(
    max_examples=15 if connection.vendor == "sqlite" else 6,  # what a list says is judged before PostgreSQL is asked
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    lists=st.lists(
        st.lists(CELLS, max_size=12, unique_by=lambda c: (c["subassembly"], c["position"], c["side"])),
        min_size=1,
        max_size=2,
    )
)
def test_any_lists_leave_every_standing_true_and_are_idempotent(works, lists):
    """Whatever a list says of whatever is there already: what is stored beside each place is what its rows say."""
    with undone():
        Location.objects.create(name="Foundry", path="Foundry", kind="firm", away=True)
        for entered in lists:
            rows = as_rows(entered)
            made = bring_in(works, *rows)
            assert out_of_date({"locomotive": works.locomotive}) == []
            if not made.bad:
                assert bring_in(works, *rows).steps == []


@contextmanager
def undone():
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


def queries(works, rows) -> int:
    sheet = read_sheet(as_csv(rows))
    with CaptureQueriesContext(connection) as captured:
        take_over(works.locomotive, sheet, works.people.manager, source="list.csv")
    return len(captured)


def test_ten_times_the_rows_ask_no_more_queries(works):
    def rows(name, count):
        return [
            one_row(subassembly=name, position="bolt", end=f"hole {n}", state="cleaned", location="Crate 1")
            for n in range(count)
        ]

    queries(works, rows("Warm", 2))  # makes the crate
    few, many = queries(works, rows("A", 20)), queries(works, rows("B", 200))
    assert many - few <= 4  # the index of Find takes a hundred rows and more in one statement
