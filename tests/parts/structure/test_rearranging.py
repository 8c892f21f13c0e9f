"""The structure put right: a place in another subassembly, two places or subassemblies that are one, another parent,
another name, another order."""

import pytest

from core.domain.refusals import Refused
from inspections.models import Examination
from parts.actions.refresh import out_of_date
from parts.domain.words import State
from parts.models import GoesOnAfter, Position, Subassembly
from parts.structure.writers import merging
from parts.structure.writers.rearranging import edit_subassembly
from parts.structure.writers.structure import add_position, add_subassembly, edit_position, set_order
from tests.factories import events_of, fresh
from tests.parts.a_list import one_row
from tests.parts.taking_over.test_importing import bring_in

pytestmark = [pytest.mark.django_db]


@pytest.fixture
def boss(works):
    return works.people.manager


@pytest.fixture
def motion(works, boss):
    return add_subassembly(works.locomotive, "Motion", boss)


def in_order(works) -> list[str]:
    return [sub.name for sub in works.locomotive.subassemblies.as_tree()]


def test_a_place_moves_with_what_is_inside_it_and_history_says_from_where(works, boss, motion, client):
    outer = add_position(works.frames, boss, name="expansion link")
    inner = add_position(works.frames, boss, name="die block", part_of=outer)
    client.force_login(boss)
    form = client.get(f"/p/{outer.pk}/edit").context["form"]
    entered = {name: "" if value is None else value for name, value in form.initial.items() if value is not False}
    entered |= {"subassembly": motion.pk, "surfaces": "", "calls_for": []}
    assert client.post(f"/p/{outer.pk}/edit", entered).status_code == 302
    assert {fresh(outer).subassembly, fresh(inner).subassembly} == {motion}
    page = client.get(outer.get_absolute_url()).content.decode()
    assert f"subassembly from {works.frames} to Motion" in page
    edit_position(inner, boss, subassembly=works.frames)
    assert (fresh(inner).part_of, fresh(inner).subassembly) == (None, works.frames)


def test_two_places_that_are_one_keep_pieces_and_history_and_signed_records_where_they_are(works, boss, client):
    old, new = (add_position(works.frames, boss, name=name) for name in ("horn guide", "hornguide"))
    piece = works.piece(State.CLEANED, place=old)
    works.look_at(piece)
    add_position(works.frames, boss, name="horn stay", part_of=old)
    set_order(old, [add_subassembly(works.locomotive, "Wheels", boss)], boss)
    record = Examination.objects.get(component=piece)
    merging.merge_places(old, new, boss)
    assert (fresh(piece).place, piece.came_off) == (new, new)
    assert list(new.inner.values_list("name", flat=True)) == ["horn stay"]
    assert GoesOnAfter.objects.get(position__isnull=False).position == new
    assert Examination.objects.get(pk=record.pk).position_id == record.position_id == old.pk
    assert out_of_date({"locomotive": works.locomotive}) == []
    client.force_login(boss)
    page = client.get(f"/p/{old.pk}/").content.decode()
    assert "hornguide" in page
    assert "merged into it" in page
    assert "Place added" in page
    works.accept(piece)  # what was signed on it counts on
    made = bring_in(works, one_row(subassembly="Frames", position="horn guide", state="cleaned"))
    assert made.steps == []  # a list that still says the old name finds the new place


def test_what_does_not_fit_is_refused_and_nothing_is_changed(works, boss):
    old, new = (works.plain_place() for _ in range(2))
    pieces = [works.piece(place=place) for place in (old, new)]
    with pytest.raises(Refused, match="Not all of it fits"):
        merging.merge_places(old, new, boss)
    assert [fresh(piece).place for piece in pieces] == [old, new]
    works.dimension(old)
    with pytest.raises(Refused, match="1 dimension"):
        merging.merge_places(old, works.plain_place(), boss)
    assert not fresh(old).retired


@pytest.mark.engine
def test_two_subassemblies_are_one(works, boss, motion, client):
    gear = add_subassembly(works.locomotive, "Valve gear", boss, after=[motion])
    last = add_subassembly(works.locomotive, "Lagging", boss, after=[motion])
    rod = add_position(motion, boss, name="rod")
    twice = [add_position(sub, boss, name="link") for sub in (motion, gear)]
    with pytest.raises(Refused, match="Both have: link"):
        merging.merge_subassemblies(motion, gear, boss)
    merging.merge_places(*twice, boss)
    client.force_login(boss)
    address = f"/l/{works.locomotive.slug}/structure/{motion.code}/"
    assert client.post(f"{address}merge", {"into": gear.pk}).status_code == 302
    assert fresh(rod).subassembly == gear
    assert [edge.after for edge in last.goes_on_after.all()] == [gear]
    assert not gear.goes_on_after.exists()
    assert client.get(address).context["subassembly"] == gear
    bring_in(works, one_row(subassembly="Motion", position="cross head"))
    assert Position.objects.get(name="cross head").subassembly == gear


def test_what_was_merged_twice_is_known_by_each_old_name_in_one_step(works, boss, motion, client):
    first, second, third = (add_position(motion, boss, name=name) for name in ("rod", "long rod", "connecting rod"))
    merging.merge_places(first, second, boss)
    merging.merge_places(second, third, boss)
    assert fresh(first).merged_into == third
    gear, valves = (add_subassembly(works.locomotive, name, boss) for name in ("Gear", "Valves"))
    merging.merge_subassemblies(motion, gear, boss)
    merging.merge_subassemblies(fresh(gear), valves, boss)
    assert fresh(motion).merged_into == valves
    client.force_login(boss)
    assert "long rod" in client.get(f"/history/place/{third.pk}/").content.decode()
    made = bring_in(works, one_row(subassembly="Motion", position="cross head"))
    assert (len(made.steps), Position.objects.get(name="cross head").subassembly) == (1, valves)
    Subassembly.objects.filter(pk=valves.pk).update(retired=True)
    bring_in(works, one_row(subassembly="Motion", position="slide bar"))  # as if it had never been there
    assert Position.objects.get(name="slide bar").subassembly != valves


def test_a_subassembly_is_named_once_put_under_another_and_in_another_order(works, boss, motion, client):
    gear = add_subassembly(works.locomotive, "Gear", boss)
    assert in_order(works) == ["Frames", "Motion", "Gear"]
    with pytest.raises(Refused, match="there is a motion here already"):
        edit_subassembly(gear, boss, name=" motion ")
    edit_subassembly(fresh(gear), boss, name="Gear", follows=None)
    assert in_order(works) == ["Gear", "Frames", "Motion"]
    edit_subassembly(fresh(gear), boss, name="Valve gear", parent=motion)
    assert in_order(works) == ["Frames", "Motion", "Valve gear"]
    with pytest.raises(Refused, match="is part of it"):
        edit_subassembly(fresh(motion), boss, name="Motion", parent=gear)
    set_order(works.frames, [gear], boss)
    with pytest.raises(Refused, match="contradicts itself"):
        edit_subassembly(fresh(gear), boss, name="Valve gear", parent=works.frames)
    assert events_of(gear).latest("pk").data == {"name": ["Gear", "Valve gear"], "part of": ["", "Motion"]}
    client.force_login(works.people.fitter)
    for address in (f"/p/{works.plain_place().pk}/merge", f"/l/{works.locomotive.slug}/structure/frames/merge"):
        assert client.get(address).status_code == 403


def test_every_way_to_name_a_place_or_a_subassembly_is_thought_of_in_merging():
    for model in (Position, Subassembly):
        for relation in model._meta.get_fields(include_hidden=True):
            if relation.auto_created and not relation.concrete:
                name = f"{relation.related_model.__name__}.{relation.field.name}"
                known = {*merging.FROZEN, *merging.WITH_CARE, *merging.GOES[model], *merging.ONCE[model]}
                assert name in known | {"Dimension.position", "BoilerPart.position"}, name
