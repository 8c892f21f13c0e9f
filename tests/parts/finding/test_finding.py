"""Finding by words: on SQLite by its own index of trigrams, on PostgreSQL by another, with the same answers."""

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from core.log import writing
from core.web.rooms import found_kinds
from parts.actions import tags
from parts.consumables import writers as consumables
from parts.domain.words import State
from parts.entering.writers import pieces
from parts.finding import find_index
from parts.finding.finding import find
from parts.models import Drawing, Findable, GoodFor, Pattern
from parts.stores import writers as moving
from parts.structure.writers import locomotives, structure
from parts.structure.writers.rearranging import edit_subassembly
from parts.tags import writers as tagging
from parts.work.writers import firms
from tests.factories import days, fresh
from tests.tables import for_each

pytestmark = [pytest.mark.django_db, pytest.mark.engine]


def answer(text):
    return find(text, days(0), most=10)


def found(text, kind="piece") -> list[int]:
    return [row.thing for group in answer(text).groups if group.kind == kind for row in group.rows]


@pytest.fixture(autouse=True)
def indexed(works):
    """The crate and the locomotive of the scenery were written past the log."""
    find_index.rebuild()


@pytest.fixture
def axlebox(works):
    """A piece about which many words say something."""
    place = works.plain_place(name="axlebox", side="LH", axle="leading", drawing="GW-114/b")
    return works.piece(place=place, marks="Café 7", works_number="B 77", cast_number="0-44")


@pytest.fixture
def another(works):
    return works.piece(place=works.plain_place(name="brake block"), location=None)


@for_each(
    "text",
    ["AXLEBOX", "axle box", "ax box", "axle-box", "left axlebox", "lh axle", "l axleb", "leading box"]  # its name
    + ["gw114", "GW 114", "114b", "cafe7", "CAFÉ", "b77", "77 axle", "044", "crate of"],  # what stands on it, and where
)
def test_case_accents_hyphens_and_spaces_are_forgiven(axlebox, another, text):
    assert found(text) == [axlebox.pk]
    assert not answer(text).near


@for_each("text", ["axelbox", "axleboxes", "axlebax", "zebra axlebox", "leading axlebbox"])
def test_what_nothing_bears_is_answered_by_the_nearest_and_says_so(axlebox, another, text):
    assert found(text) == [axlebox.pk]
    assert "axlebox" in answer(text).near


@for_each("text", ["zebra", "%", "_", "*", '"', "NOT", "🚂", "\0", "xq"])
def test_what_is_near_to_nothing_finds_nothing(axlebox, text):
    assert not answer(text)


def test_all_the_words_stand_about_one_thing(axlebox, works):
    works.piece(place=works.plain_place(name="slide bar", side="RH"))
    assert not answer("rh axlebox")


def test_every_kind_of_thing_is_found(works, axlebox):
    empty = works.plain_place(name="sand valve")
    firm = firms.add_firm(works.people.manager, name="Larkmere Foundry", does="castings")
    assert found("sand valve", "place") == [empty.pk]
    assert found("axlebox", "place") == []  # its piece is found
    assert found(works.crate.name, "location") == [works.crate.pk]
    assert (found("castings", "firm"), found("larkmere", "firm")) == ([firm.pk], [firm.pk])
    worsted = consumables.add(works.people.manager, name="oil worsted", size="4 ply")
    assert (found("worsted", "consumable"), found("4 ply", "consumable")) == ([worsted.pk], [worsted.pk])
    assert found("frames", "subassembly") == [works.frames.pk]
    assert found(works.locomotive.name, "locomotive") == [works.locomotive.pk]


def test_drawings_and_patterns_are_found_by_number_title_and_tag(works):
    sheet = Drawing.objects.create(
        number="GW-114/b", key="gw114b", sheet="2", title="Axlebox, leading", by=works.people.manager, entered=days(0)
    )
    GoodFor.objects.create(
        drawing=sheet, locomotive=works.locomotive, how="on the drawing", by=works.people.manager, at=timezone.now()
    )
    pattern = Pattern.objects.create(name="blast pipe", drawing="GW 9", since=days(0), location=works.crate)
    tags.issue(pattern, works.people.storekeeper)
    code = pattern.tags.get().code
    find_index.reindex([("drawing", sheet.pk), ("pattern", pattern.pk)])
    for text, kind, thing in (
        ("gw 114 b", "drawing", sheet),
        ("114b2", "drawing", sheet),
        ("leading axlebox", "drawing", sheet),
        (f"axlebox {works.locomotive.name}", "drawing", sheet),
        ("blastpipe", "pattern", pattern),
        ("gw9", "pattern", pattern),
        (code[2:6], "pattern", pattern),
        (f"blast {works.crate.name}", "pattern", pattern),
    ):
        assert found(text, kind) == [thing.pk], text


def test_a_torn_tag_is_found_by_what_is_left_of_it_and_by_letters_it_never_bears(works):
    piece = works.piece()
    old = piece.tags.get()
    old.code = "70K1M3QZ"
    old.save()
    (new,) = tags.unused(1)
    tagging.tie(new.code, piece, works.people.volunteer)
    for left in ("70k1", "m3qz", "7OKl", "70K1 M3"):
        assert found(left) == [piece.pk], left


def test_a_mistyped_tag_is_answered_by_those_it_may_have_been(works):
    piece = works.piece()
    code = piece.tags.get().code
    slip = code[:3] + ("X" if code[3] != "X" else "K") + code[4:]
    assert piece.pk in found(slip)
    assert code in answer(slip).near


def test_the_best_comes_first_and_what_is_withdrawn_last(works):
    gone = works.piece(State.WITHDRAWN, place=works.plain_place(name="rod"))
    around = works.piece(place=works.plain_place(name="bush", drawing="rod"))
    begins = works.piece(place=works.plain_place(name="rod end strap"))
    exact = works.piece(place=works.plain_place(name="rod"))
    assert found("rod") == [exact.pk, begins.pk, around.pk, gone.pk]


# --- in step with the register


def test_whatever_changes_the_words_of_a_thing_changes_what_is_found(works, axlebox, people):
    assert found("axlebox")
    edit_subassembly(works.frames, people.manager, name="Underframe")
    structure.edit_position(axlebox.place, people.manager, drawing="ZQ 9")
    pieces.describe(fresh(axlebox), people.volunteer, marks="elsewise")
    rack = moving.add_location(people.storekeeper, "Tall rack", "rack")
    moving.move(fresh(axlebox), works.crate, people.volunteer)
    moving.move_location(works.crate, rack, people.storekeeper)
    for text in ("underframe", "zq9", "elsewise", "tall rack"):
        assert axlebox.pk in found(text), text
    for text in ("cafe7", "gw114"):
        assert not found(text), text
    assert find_index.out_of_step() == []


def test_what_is_removed_is_found_no_longer(works):
    place = works.plain_place(name="sand valve")
    assert found("sand", "place")
    structure.remove_position(place, works.people.manager)
    assert not found("sand", "place")
    assert find_index.out_of_step() == []


def test_what_was_refused_is_not_found(works, axlebox):
    def undone():
        with writing.one_transaction():
            pieces.describe(fresh(axlebox), works.people.volunteer, marks="elsewise")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        undone()
    assert not found("elsewise")
    assert found("cafe7") == [axlebox.pk]


def test_searching_only_reads(works, axlebox):
    with CaptureQueriesContext(connection) as asked:
        answer("axlebox")
        answer("axelbox")
    assert asked.captured_queries
    assert all(query["sql"].startswith("SELECT") for query in asked.captured_queries)


def test_what_hangs_on_a_thing_says_its_new_words(works):
    """A locomotive with its places and pieces."""
    piece = works.piece()
    type(works.locomotive).objects.update(name="Heron")
    find_index.reindex([("locomotive", works.locomotive.pk)])
    assert found("heron") == [piece.pk]
    assert find_index.out_of_step() == []
    made = locomotives.new_locomotive(works.people.manager, name="Bittern", slug="bittern")
    assert made.pk in found("bittern", "locomotive")


def test_an_event_costs_the_index_no_more_than_the_words_of_its_things(works, axlebox, django_assert_num_queries):
    with django_assert_num_queries(3):  # its words, its tags, what is stored
        find_index.reindex([("piece", axlebox.pk)])


def test_a_start_finds_what_an_interrupted_one_left_out(works, axlebox):
    """A start with a migration to do empties the index before it; one that has nothing to do makes it anew."""
    find_index.empty_before_migration("default", plan=["a migration"])
    assert not Findable.objects.exists()
    call_command("migrate", verbosity=0)
    assert found("axlebox") == [axlebox.pk]
    assert find_index.out_of_step() == []
    find_index.empty_before_migration("default")
    assert Findable.objects.exists()


def test_the_command_makes_it_anew_and_finds_what_is_out_of_step(works, axlebox, capsys):
    assert found("axlebox")
    Findable.objects.filter(kind="piece").update(text="  nonsense  ")
    assert not found("axlebox")
    assert find_index.lacking() == []
    Findable.objects.filter(kind="location").delete()
    assert find_index.lacking() == ["location"]
    with pytest.raises(CommandError, match="piece: 1 of 1"):
        call_command("find_index")
    call_command("find_index", "--rebuild")
    assert found("axlebox") == [axlebox.pk]
    call_command("find_index")
    assert "in step" in capsys.readouterr().out


def test_each_kind_is_looked_up_in_an_index_of_trigrams(works, axlebox):
    """By the plan of the database itself, not by the clock."""
    sql, values = Findable.objects.bearing(["axlebox"]).values("id").query.sql_with_params()
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute("SET LOCAL enable_seqscan = off")
            cursor.execute(f"EXPLAIN {sql}", values)
            assert "parts_findable_trigrams" in str(cursor.fetchall())
        else:
            cursor.execute(f"EXPLAIN QUERY PLAN {sql}", values)
            assert "VIRTUAL TABLE INDEX" in str(cursor.fetchall())


def test_every_kind_can_be_read_whole():
    there = {kind for kind, found in found_kinds().items() if found.all_ids()}
    assert there == {"location", "subassembly", "locomotive"}  # the scenery
