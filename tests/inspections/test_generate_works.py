"""`manage.py generate_works`: a large invented register that keeps every rule of a small one."""

import pytest
from django.core.management import CommandError, call_command

from inspections.models import Examination
from parts.actions import writing
from parts.domain.sequence import loop_sentence
from parts.domain.words import State
from parts.models import Component, Locomotive, Position, Tag
from parts.queries.assembling import late_positions, lates_of, subs_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def made(db) -> Locomotive:
    call_command("generate_works", positions=1500, seed=1)
    return Locomotive.objects.get()


def told(locomotive) -> list:
    return list(locomotive.positions.order_by("id").values_list("name", "side", "axle", "end", "standing", "need"))


def test_it_has_as_many_positions_as_asked_and_pieces_in_every_state(made):
    assert made.positions.count() == 1500
    assert set(made.components.values_list("state", flat=True)) == set(State)


def test_its_stored_standings_are_what_the_rows_say(made):
    assert writing.out_of_date({"locomotive": made}) == []


def test_its_order_of_assembly_has_no_loop_and_some_late_places(made):
    late = late_positions(made.pk)
    assert late
    assert loop_sentence(subs_of(made.pk), lates_of(late)) == ""


def test_its_pieces_have_histories_tags_and_signed_examinations(made):
    looked_at = Component.objects.filter(state__in=("crack-checked", "accepted", "refitted", "renewed"))
    assert Examination.objects.filter(signed_at__isnull=False).count() == looked_at.count() > 0
    assert Tag.objects.filter(current=True).count() == made.components.count()
    assert not made.components.filter(events__isnull=True).exists()


def test_the_same_seed_makes_the_same_works_and_another_one_another(made):
    call_command("generate_works", positions=1500, seed=1, slug="again")
    call_command("generate_works", positions=1500, seed=2, slug="other")
    again, other = (told(Locomotive.objects.get(slug=slug)) for slug in ("again", "other"))
    assert (told(made) == again, told(made) == other) == (True, False)


def test_several_locomotives_stand_beside_each_other():
    call_command("generate_works", positions=60, seed=1, slug="many", locomotives=3)
    assert list(Locomotive.objects.order_by("slug").values_list("slug", flat=True)) == ["many", "many-2", "many-3"]
    assert Position.objects.count() == 180


@pytest.mark.parametrize("options", [{"positions": 1}, {"positions": 10**9}, {"positions": 60, "locomotives": 0}])
def test_sizes_beyond_sense_are_refused(options):
    with pytest.raises(CommandError, match="write a number"):
        call_command("generate_works", **options)


def test_a_short_name_that_is_taken_is_refused(made):
    with pytest.raises(CommandError, match="Choose another --slug"):
        call_command("generate_works", positions=60)
