"""The page of a subassembly that goes on after another, whatever stands in its places."""

import pytest
from django.urls import reverse

from parts.domain.words import State
from parts.structure.writers.structure import add_subassembly, set_order
from tests.as_shown import text_of

AFTER = "Goes on after "


@pytest.fixture
def reader(client, works):
    client.force_login(works.people.trustee)
    return client


@pytest.fixture
def wheels(works):
    """They go on after the frames."""
    wheels = add_subassembly(works.locomotive, "Wheelsets", works.people.manager)
    set_order(wheels, [works.frames], works.people.manager)
    return wheels


def page(reader, subassembly):
    return reader.get(reverse("subassembly", args=[subassembly.locomotive.slug, subassembly.code]))


def test_what_lacks_there_is_a_link_to_it(reader, works, wheels):
    works.piece(State.STRIPPED)
    works.piece(State.STRIPPED, place=works.plain_place(subassembly=wheels))
    (link,) = page(reader, wheels).context["sheet"].after
    assert link[0] == works.frames.get_absolute_url()
    assert f'<a class="link" href="{link[0]}">{AFTER}Frames' in text_of(page(reader, wheels))


def test_a_finished_one_waits_for_nothing_though_something_came_off_before_it(reader, works, wheels):
    done = works.piece(State.REFITTED, place=works.plain_place(subassembly=wheels))
    works.piece(State.STRIPPED)
    assert done.state == State.REFITTED
    assert page(reader, wheels).context["sheet"].after == []


def test_a_built_up_piece_that_waits_for_what_is_inside_is_no_subassembly_that_waits(reader, works):
    outer, _ = works.a_broken_down_piece()
    works.bring_on(outer, State.CLEANED)
    works.look_at(outer)
    assert "to be filled first" in text_of(page(reader, works.frames))
    assert page(reader, works.frames).context["sheet"].after == []
