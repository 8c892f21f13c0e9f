"""What the database itself refuses, whatever a program asks of it: tried with plain SQL, past every form and action."""

from functools import cache

import pytest
from django.db import DatabaseError, connection, models, transaction
from django.db.migrations.executor import MigrationExecutor

from core.models import Event
from core.web.rooms import protected_tables
from inspections.findings.writers import decide
from inspections.models import Examination
from inspections.records.writers.signing import sign
from parts.domain.words import Kind, Method, State
from parts.holds import writers as holds
from parts.models import Component, GoesOnAfter, Location, Movement, Overhaul, Position, Tag, triggers
from parts.stores import writers as moving
from tests.factories import a_works, days, events_of, fresh, how_checked
from tests.inspections.what_lasts import (
    a_boxing_up_that_lasts,
    a_size_that_lasts,
    boilers_that_last,
    sizes_that_last,
)
from tests.parts.jobs import a_count_that_lasts, drawings_that_last, releases_that_last, ways_that_last
from tests.tables import for_each

pytestmark = [pytest.mark.django_db, pytest.mark.engine]


def refuses(sql: str, *values) -> str:
    """The database refuses; what it says."""
    with pytest.raises(DatabaseError) as refused, transaction.atomic():
        changes(sql, *values)
    return str(refused.value)


def changes(sql: str, *values) -> None:
    with connection.cursor() as cursor:
        cursor.execute(sql, values)
        assert cursor.rowcount, "it touched no row, so nothing was tried"


@pytest.fixture(scope="module")
def works(module_db):
    return a_works()


@pytest.fixture(scope="module")
def decided(works):
    """A piece with everything that must last: events, a movement, signed records, decisions, sizes, limits."""
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))
    record = sign(
        piece,
        works.people.examiner,
        kind=Kind.CRACK_CHECK,
        method=Method.PENETRANT,
        check=how_checked(Method.PENETRANT),
        result="indication",
        found="2 mm",
    )
    decide(record, works.people.engineer, decision="repair", reason="dress it out")
    ways_that_last(works, piece, record)
    sizes_that_last(works)
    a_size_that_lasts(works)
    boilers_that_last(works)
    a_boxing_up_that_lasts(works)
    releases_that_last(works)
    drawings_that_last(works, piece)
    a_count_that_lasts(works)
    moving.move(piece, works.firm(), works.people.storekeeper)
    return piece


# --- records that must last


@for_each("protected", protected_tables())
def test_a_record_that_must_last_is_neither_changed_nor_removed(decided, protected):
    key = "number" if protected.table == "core_link" else "id"
    assert protected.sentence in refuses(f"UPDATE {protected.table} SET {key} = {key}")
    assert protected.sentence in refuses(f"DELETE FROM {protected.table}")


@for_each(
    ("table", "column"),
    [
        ("parts_event", "remark"),
        ("parts_event", "action"),
        ("parts_movement", "went_to_id"),
        ("inspections_examination", "result"),
        ("inspections_examination", "signed_at"),
        ("inspections_findingdecision", "decision"),
        ("inspections_examination", "digest"),
        ("inspections_measurement", "size_class"),
        ("inspections_reading", "value"),
        ("inspections_crackcheck", "surface_c"),
        ("inspections_indication", "length"),
        ("inspections_concession", "look_again"),
        ("inspections_calibration", "found_out"),
        ("inspections_limits", "shop_lower"),
        ("inspections_fitlimits", "most"),
        ("inspections_limitsheet", "edition"),
        ("inspections_sheetrow", "shop_lower"),
    ],
)
def test_not_in_any_column(decided, table, column):
    assert "changed" in refuses(f"UPDATE {table} SET {column} = NULL")


@for_each("rows", [Event, Movement, Examination])
def test_the_programs_own_way_is_refused_too(decided, rows):
    for deed in (lambda: rows.objects.update(id=models.F("id")), lambda: rows.objects.all()._raw_delete("default")):
        with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
            deed()


def test_an_examination_that_nobody_signed_yet_may_be_changed_until_it_is(decided):
    draft = Examination.objects.create(component=decided, kind=Kind.VISUAL, result="sound", on=days(0))
    changes("UPDATE inspections_examination SET remarks = 'by daylight' WHERE id = %s", draft.pk)
    changes("DELETE FROM inspections_examination WHERE id = %s", draft.pk)


def test_every_trigger_is_there():
    assert triggers.missing() == []


def test_a_trigger_that_was_dropped_is_missed_and_the_next_migration_brings_it_back(decided):
    table = " ON parts_event" if connection.vendor == "postgresql" else ""
    with connection.cursor() as cursor:
        cursor.execute(f"DROP TRIGGER cotter_parts_event_update{table}")
    assert triggers.missing() == ["cotter_parts_event_update"]
    triggers.create_after_migration("default")
    assert triggers.missing() == []
    refuses("UPDATE parts_event SET remark = 'never'")


ALLOWS = {
    "sqlite": (
        "DROP TRIGGER cotter_parts_event_update",
        "CREATE TRIGGER cotter_parts_event_update BEFORE UPDATE ON parts_event BEGIN SELECT 1; END",
    ),
    "postgresql": (
        "CREATE OR REPLACE FUNCTION cotter_keep_parts_event() RETURNS trigger LANGUAGE plpgsql AS $$ "
        "BEGIN RETURN NEW; END $$",
    ),
}


def test_a_trigger_that_another_version_wrote_otherwise_is_made_anew_without_a_migration(decided):
    with connection.cursor() as cursor:
        for sql in ALLOWS[connection.vendor]:
            cursor.execute(sql)
    changes("UPDATE parts_event SET remark = 'now' WHERE id = %s", decided.last_event)
    triggers.create_after_migration("default")
    refuses("UPDATE parts_event SET remark = 'never'")


def test_a_table_that_is_rebuilt_loses_its_triggers_which_is_why_they_are_made_anew(decided):
    """As migrations do on SQLite, silently: a new table, the rows copied, the old one dropped."""
    connection.check_constraints()  # PostgreSQL drops no table with checks still to come
    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE new__movement AS SELECT * FROM parts_movement")
        cursor.execute("DROP TABLE parts_movement")
        cursor.execute("ALTER TABLE new__movement RENAME TO parts_movement")
    assert triggers.missing() == ["cotter_parts_movement_delete", "cotter_parts_movement_update"]
    triggers.create_after_migration("default")
    assert triggers.missing() == []
    refuses("DELETE FROM parts_movement")


def test_migrations_have_been_made_for_everything():
    assert MigrationExecutor(connection).migration_plan(MigrationExecutor(connection).loader.graph.leaf_nodes()) == []


# --- places and pieces


def test_the_live_pieces_in_a_place_never_exceed_its_quantity(works):
    place = works.plain_place(name="rivet", quantity=3)
    lot, out = works.piece(State.STRIPPED, place=place), works.piece(State.WITHDRAWN)
    other = works.piece(State.STRIPPED)
    for sql, pk in (
        ("UPDATE parts_component SET quantity = 4 WHERE id = %s", lot.pk),
        (f"UPDATE parts_component SET place_id = {place.pk} WHERE id = %s", other.pk),
        ("UPDATE parts_position SET quantity = 2 WHERE id = %s", place.pk),
    ):
        assert triggers.FULL in refuses(sql, pk)
    changes(f"UPDATE parts_component SET place_id = {place.pk} WHERE id = %s", out.pk)
    changes("UPDATE parts_position SET quantity = 4 WHERE id = %s", place.pk)


def test_nor_by_a_new_row(works):
    piece = works.piece(State.STRIPPED)
    with pytest.raises(DatabaseError, match="may not exceed its quantity"), transaction.atomic():
        works.enter_many([{"name": "one too many", "place_id": piece.place_id}])


def by_update(piece):
    Component.objects.filter(pk=piece.pk).update(state=State.CLEANED)


def by_bulk_update(piece):
    piece.state = State.CLEANED
    Component.objects.bulk_update([piece], ["state"])


def by_tuple_assignment(piece):
    piece.notes, piece.state = "polished", State.CLEANED
    piece.save()


def by_setattr(piece):
    setattr(piece, "state", State.CLEANED)  # noqa: B010
    piece.save()


def by_an_older_event(piece):
    """The event that once said so says nothing of today."""
    earlier = events_of(piece).filter(to_state=piece.state).order_by("pk").first()
    Component.objects.filter(pk=piece.pk).update(state=State.CLEANED, last_event=earlier.pk)


def by_sql(piece):
    with connection.cursor() as cursor:
        cursor.execute("UPDATE parts_component SET state = 'cleaned' WHERE id = %s", [piece.pk])


def by_a_new_row(piece):
    Component.objects.create(name="new", state=State.CLEANED, since=days(0), last_event=piece.last_event)


@for_each(
    "change", [by_update, by_bulk_update, by_tuple_assignment, by_setattr, by_an_older_event, by_sql, by_a_new_row]
)
def test_a_state_changes_only_with_the_event_that_says_so(works, change):
    piece = works.piece(State.STRIPPED)
    with pytest.raises(DatabaseError, match="only with the event that says so"), transaction.atomic():
        change(piece)


@pytest.fixture
def piece_at(works):
    return cache(works.piece)


COMPONENT = "UPDATE parts_component SET {} WHERE id = %s"


@for_each(
    ("state", "change"),
    [
        (State.CLEANED, "state = 'polished'"),
        (State.CLEANED, "state = ''"),
        (State.CLEANED, "side = 'XX'"),
        (State.CLEANED, "origin = 'the moon'"),
        (State.CLEANED, "destination = 'scrapped'"),
        (State.CLEANED, "vouched_state = 'polished'"),
        (State.CLEANED, "quantity = 0"),
        (State.CLEANED, "fitted_id = place_id"),
        (State.CLEANED, "state = 'refitted'"),
        (State.CLEANED, "replaces_id = id"),
        (State.STRIPPED, "on_trial = TRUE"),
        (State.REFITTED, "fitted_id = NULL"),
        (State.REFITTED, "place_id = NULL"),
        (State.REFITTED, "place_id = NULL, fitted_id = NULL"),
        (State.REFITTED, "state = 'stripped'"),
        *((state, "place_id = NULL") for state in (State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED)),
        (State.WITHDRAWN, "destination = ''"),
        (State.WITHDRAWN, "destination = 'the river'"),
    ],
)
def test_a_piece_is_never_told_half_or_wrongly(works, piece_at, state, change):
    refuses(COMPONENT.format(change), piece_at(state).pk)


def test_a_fitted_piece_is_fitted_in_its_own_place(works):
    piece, other = works.piece(State.REFITTED), works.plain_place()
    refuses(COMPONENT.format(f"fitted_id = {other.pk}"), piece.pk)


@for_each(
    "change",
    [
        "side = 'left'", "crack_check = 'dowsing'", "need = 'money'", "standing = 'nearly'", "quantity = 0",
        "part_of_id = id", "known_empty_on = '2031-05-10'",
    ],
)  # fmt: skip
def test_a_place_is_never_told_half_or_wrongly(works, change):
    refuses(f"UPDATE parts_position SET {change} WHERE id = %s", works.plain_place().pk)


def test_known_empty_says_by_whom_and_on_what_evidence(works):
    place = works.place()
    works.know_empty(place)
    refuses("UPDATE parts_position SET evidence = '' WHERE id = %s", place.pk)
    refuses("UPDATE parts_position SET known_empty_by_id = NULL WHERE id = %s", place.pk)


def test_a_place_is_known_once_whatever_the_case(works):
    place = works.place(name="Horn guide", side="LH", axle="leading")
    with pytest.raises(DatabaseError), transaction.atomic():
        Position.objects.create(
            locomotive=works.locomotive, subassembly=works.frames, name="horn GUIDE", side="LH", axle="Leading"
        )
    assert place.pk


# --- tags, events, signatures


def test_a_thing_has_one_current_tag_and_a_tag_one_thing(works):
    piece = works.piece()
    old = Tag.objects.create(code="7ZZZZZZZ", component=piece)
    refuses("UPDATE parts_tag SET current = TRUE WHERE id = %s", old.pk)
    refuses(f"UPDATE parts_tag SET location_id = {works.crate.pk} WHERE id = %s", old.pk)
    free = Tag.objects.create(code="6ZZZZZZZ")
    refuses("UPDATE parts_tag SET current = TRUE WHERE id = %s", free.pk)
    refuses("UPDATE parts_tag SET code = '6ZZZZZZZ' WHERE id = %s", old.pk)


def event(works, **facts):
    return Event.objects.create(**{"actor": works.people.fitter, "action": "refit"} | facts)


@for_each("facts", [{"from_state": "polished"}, {"to_state": "polished"}, {"action": ""}])
def test_an_event_knows_its_words(works, facts):
    with pytest.raises(DatabaseError), transaction.atomic():
        event(works, **facts)


def test_two_names_are_two_people(works):
    with pytest.raises(DatabaseError), transaction.atomic():
        event(works, checker=works.people.fitter)
    event(works, checker=works.people.second_fitter)


@for_each(
    "facts",
    [
        {"signed": "by"},
        {"signed": "at"},
        {"signed": "unlogged"},
        {"kind": "smell"},
        {"result": "fine"},
        {"method": "dowsing"},
        {"kind": "crack check"},
        {"kind": "crack check", "method": "any"},
        {"result": "defect"},
    ],
)
def test_a_record_is_signed_by_somebody_at_a_time_or_not_at_all_and_knows_its_words(works, facts):
    piece, at = works.piece(State.CLEANED), event(works).at
    half = {"by": {"signed_by": works.people.examiner}, "at": {"signed_at": at}}
    half["unlogged"] = half["by"] | half["at"]
    facts = {"kind": "visual", "result": "sound"} | half.get(facts.get("signed"), facts)
    with pytest.raises(DatabaseError), transaction.atomic():
        Examination.objects.create(component=piece, on=days(0), **facts)


def test_a_release_says_by_whom_when_and_on_what_paper(works):
    hold = holds.add_hold(
        works.locomotive.open_overhaul(), works.people.engineer, name="survey", stops=["refit"], body="the owner"
    )
    refuses("UPDATE parts_holdpoint SET released_on = '2031-05-10' WHERE id = %s", hold.pk)
    holds.release(hold, works.people.engineer, reference="letter 4", filed="boiler file")
    refuses("UPDATE parts_holdpoint SET reference = '' WHERE id = %s", hold.pk)
    refuses("UPDATE parts_holdpoint SET released_by_id = NULL WHERE id = %s", hold.pk)
    assert fresh(hold).reference == "letter 4"


# --- around them


def test_a_locomotive_has_one_open_overhaul(works):
    with pytest.raises(DatabaseError), transaction.atomic():
        Overhaul.objects.create(locomotive=works.locomotive, number=2, opened=days(0))


def test_an_order_is_of_one_thing_and_never_of_itself(works):
    for facts in (
        {"subassembly": works.frames, "after": works.frames},
        {"after": works.frames},
        {"subassembly": works.frames, "position": works.place(), "after": works.another().frames},
    ):
        with pytest.raises(DatabaseError), transaction.atomic():
            GoesOnAfter.objects.create(**facts)


def test_locations_of_one_place_have_different_names(works):
    for name in (works.crate.name, works.crate.name.upper()):
        with pytest.raises(DatabaseError), transaction.atomic():
            Location.objects.create(name=name, path=name)


def test_what_stands_behind_records_is_not_removed(decided, works):
    for row in (decided, decided.place, works.people.examiner, works.locomotive):
        with pytest.raises(models.ProtectedError), transaction.atomic():
            row.delete()
