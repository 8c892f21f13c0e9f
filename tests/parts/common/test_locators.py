"""Here, on this side: the small drawing beside a piece and where a piece comes off."""

import re

import pytest
from django.urls import reverse

from parts.common.locators import locator_of
from parts.domain.words import State
from parts.entering.writers.pieces import strip_new
from parts.models import Locomotive
from parts.structure.writers.structure import add_subassembly
from tests.factories import a_works

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def works(module_db):
    works = a_works()
    Locomotive.objects.filter(pk=works.locomotive.pk).update(wheels="0-6-0T")
    works.locomotive.refresh_from_db()
    return works


@pytest.fixture
def place(works):
    return works.plain_place(subassembly=works.frames, side="RH")


def test_a_pieces_page_shows_where_it_belongs(client, works, place):
    piece = works.taken_over(State.STRIPPED, place)
    client.force_login(works.people.volunteer)
    page = client.get(reverse("tag", args=[piece.tags.current_code()])).content.decode()
    assert re.search(r'<svg [^>]*diagram-locator[^>]* height="72" role="img" aria-label="Frames, RH"', page)
    assert "css/diagram" in page


def test_a_piece_without_a_place_has_none(client, works):
    piece = strip_new(works.people.volunteer, locomotive=works.locomotive, name="odd bracket", location=works.crate)
    client.force_login(works.people.volunteer)
    page = client.get(reverse("tag", args=[piece.tags.current_code()])).content.decode()
    assert "diagram-locator" not in page
    assert locator_of(None) == ""


def test_where_it_comes_off_is_shown_before_it_is_entered(client, works, place):
    client.force_login(works.people.volunteer)
    page = client.get(reverse("strip"), {"position": place.pk}).content.decode()
    assert 'aria-label="Frames, RH"' in page


def test_what_has_no_part_of_its_own_is_shown_with_what_it_is_part_of(works):
    odd = add_subassembly(works.locomotive, "Odd brackets", works.people.manager, parent=works.frames)
    alone = add_subassembly(works.locomotive, "Odd lamps", works.people.manager)
    assert 'aria-label="Frames, LH"' in locator_of(works.plain_place(subassembly=odd, side="LH"))
    assert locator_of(works.plain_place(subassembly=alone)) == ""


def test_without_a_readable_wheel_arrangement_there_is_none(works):
    other = a_works(people=works.people)
    assert locator_of(other.plain_place()) == ""
