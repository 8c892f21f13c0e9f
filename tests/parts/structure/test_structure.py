"""The structure on screen: the tree, its order, adding and taking away."""

import pytest
from django.urls import reverse

from parts.models import Subassembly
from parts.structure.writers.structure import add_subassembly


@pytest.fixture
def wheels(works):
    return add_subassembly(works.locomotive, "Wheelsets", works.people.manager, after=[works.frames])


def at(name, works, *more):
    return reverse(name, args=[works.locomotive.slug, *more])


def test_everybody_reads_the_tree_with_its_order(client, works, people, wheels):
    works.plain_place()
    client.force_login(people.trustee)
    text = client.get(at("structure", works)).content.decode()
    assert "Wheelsets" in text
    assert "Goes on after" in text
    assert "Add a subassembly" not in text


def test_a_subassembly_is_added_with_what_it_goes_on_after(client, works, people):
    client.force_login(people.manager)
    answer = client.post(
        at("add_subassembly", works), {"name": "Spring gear", "parent": "", "after-0": works.frames.pk}
    )
    made = Subassembly.objects.get(name="Spring gear")
    assert answer["Location"] == at("edit_subassembly", works, made.code)
    assert [edge.after for edge in made.goes_on_after.all()] == [works.frames]


@pytest.mark.parametrize("name", ["", "frames", " FRAMES "])
def test_a_name_is_needed_and_is_used_once(client, works, people, name):
    client.force_login(people.manager)
    answer = client.post(at("add_subassembly", works), {"name": name, "parent": ""})
    assert answer.status_code == 422
    assert Subassembly.objects.count() == 1


def test_a_new_name_keeps_the_code(client, works, people):
    client.force_login(people.manager)
    assert client.post(at("edit_subassembly", works, works.frames.code), {"name": "Main frames"}).status_code == 302
    renamed = Subassembly.objects.get(pk=works.frames.pk)
    assert (renamed.name, renamed.code) == ("Main frames", works.frames.code)


def test_a_role_that_may_not_change_it_writes_nothing(client, works, people):
    client.force_login(people.fitter)
    assert client.post(at("edit_subassembly", works, works.frames.code), {"name": "Mine"}).status_code == 403
    assert client.get(at("add_subassembly", works)).status_code == 403
    assert Subassembly.objects.get(pk=works.frames.pk).name != "Mine"


def test_an_empty_subassembly_is_taken_away_and_a_full_one_stays(client, works, people, wheels):
    works.plain_place()
    client.force_login(people.manager)
    assert client.post(at("remove_subassembly", works, works.frames.code)).status_code == 422
    assert client.post(at("remove_subassembly", works, wheels.code)).status_code == 302
    assert list(works.locomotive.subassemblies.in_use()) == [works.frames]


def test_taking_away_is_posted(client, works, people):
    client.force_login(people.manager)
    assert client.get(at("remove_subassembly", works, works.frames.code)).status_code == 405


def test_unknown_and_strangers(client, works, people):
    assert client.get(at("structure", works)).status_code == 302
    client.force_login(people.volunteer)
    assert client.get("/l/nothing/structure/").status_code == 404
    assert client.get(at("edit_subassembly", works, "nothing")).status_code == 404
