"""The scenery of the benchmarks: a large invented register that keeps every rule of a small one."""

import pytest

from inspections.models import Examination
from parts.actions.refresh import out_of_date
from parts.domain.sequence import loop_sentence
from parts.domain.words import State
from parts.models import Component, Locomotive, Position, Tag
from parts.queries.assembly_order import ordered_places_of, positions_with_order, subs_of
from tests.benchmarks.generating import generate, generate_several
from tests.factories import events_of

pytestmark = pytest.mark.django_db


MANY = 150


@pytest.fixture(scope="module")
def made(module_db) -> Locomotive:
    return generate(positions=MANY, seed="1", slug="works", name="Works")


def told(locomotive) -> list:
    return list(locomotive.positions.order_by("id").values_list("name", "side", "axle", "end", "standing", "need"))


def test_it_has_as_many_positions_as_asked_and_pieces_in_every_state(made):
    assert made.positions.count() == MANY
    assert set(made.components.values_list("state", flat=True)) == set(State)


def test_its_stored_standings_are_what_the_rows_say(made):
    assert out_of_date({"locomotive": made}) == []


def test_its_order_of_assembly_has_no_loop_and_some_late_places(made):
    ordered = positions_with_order(made.pk)
    assert ordered
    assert loop_sentence(subs_of(made.pk), ordered_places_of(ordered)) == ""


def test_its_pieces_have_histories_tags_and_signed_examinations(made):
    looked_at = Component.objects.filter(state__in=("crack-checked", "accepted", "refitted", "renewed"))
    signed = Examination.objects.filter(signed_at__isnull=False)
    assert set(looked_at.values_list("pk", flat=True)) <= set(signed.values_list("component", flat=True))
    assert not Component.objects.filter(state="crack-checked", place__crack_check="").exists()
    assert Tag.objects.filter(current=True).count() == made.components.count()
    assert all(events_of(piece).exists() for piece in made.components.all())


def test_the_same_seed_makes_the_same_works_and_another_one_another(made):
    again = told(generate(positions=MANY, seed="1", slug="again", name="Again"))
    other = told(generate(positions=MANY, seed="2", slug="other", name="Other"))
    assert (told(made) == again, told(made) == other) == (True, False)


def test_several_locomotives_stand_beside_each_other():
    generate_several(positions=60, locomotives=3, slug="many")
    found = Locomotive.objects.filter(slug__startswith="many").order_by("slug")
    assert list(found.values_list("slug", flat=True)) == ["many", "many-2", "many-3"]
    assert Position.objects.filter(locomotive__in=found).count() == 180
