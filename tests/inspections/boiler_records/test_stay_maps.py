"""A map of stays on screen: its grid, how each was found, and what is told of it."""

import pytest
from django.urls import reverse

from inspections.boiler_records import writers
from inspections.models import BoilerRecord
from tests.factories import days, fresh

HEAD = {
    "unit": "in", "kind": "firebox stay", "material": "copper", "rows": "4, 8, 12", "columns": "4, 8, 12, 16",
    "top": "0", "bottom": "16", "left": "0", "right": "20", "none_meant": "3.4", "root": "0.8",
    "pressure": "180 lb/in²", "allowed": "7500 lb/in²", "allowed_from": "a code", "reader": "A", "writer": "B",
}  # fmt: skip


@pytest.fixture
def stay_map(client, people, stays):
    client.force_login(people.fitter)
    entered = HEAD | {"on": days(0).isoformat()}
    answer = client.post(reverse("begin_stay_map", args=[stays.pk]), entered)
    assert answer.status_code == 302
    return BoilerRecord.objects.get()


def test_each_stay_as_found_with_its_load(client, people, stay_map):
    """By hand: 180 x (16 - 0.5027) = 2,790 lb, 5,550 lb/in² on 0.5027 sq in."""
    address = reverse("stay_map_stays", args=[stay_map.pk])
    assert 'name="s3.4"' not in client.get(address).content.decode()  # no stay is meant there
    client.post(address, {"s2.2": "broken", "rest": "sound", "least": "", "renewed": "1.1 = 2024-05-01"})
    found = fresh(stay_map).entered["stays"]
    assert (found["2.2"], found["1.1"], len(found)) == ("broken", "sound", 11)
    text = client.get(stay_map.get_absolute_url()).content.decode()
    assert "5550 lb/in² (38.3 N/mm²)" in text
    assert "no limit is typed" in text
    assert "Renewed: 1.1 on 1 May 2024." in text
    client.force_login(people.examiner)
    assert client.post(reverse("sign_boiler_record", args=[stay_map.pk])).status_code == 302
    against = "Firebox stays, LH: 1 stay of 11 counts as broken, 0 over the stress allowed"
    for page in (stay_map.boiler.get_absolute_url(), stay_map.boiler.locomotive.get_absolute_url()):
        assert against in client.get(page).content.decode()


def test_the_rest_leaves_alone_what_another_phone_found_meanwhile(client, people, stay_map):
    client.post(reverse("stay_map_stays", args=[stay_map.pk]), {"s1.1": "broken"})
    writers.save(
        stay_map, people.fitter, {"stays": {}}, blank={"1.1": "sound", "1.2": "sound"}
    )  # as it was read before
    assert fresh(stay_map).entered["stays"] == {"1.1": "broken", "1.2": "sound"}


def test_a_blank_stay_keeps_it_from_being_signed(client, people, stay_map):
    client.post(reverse("stay_map_stays", args=[stay_map.pk]), {"s1.1": "sound", "s1.2": "no such word"})
    client.force_login(people.examiner)
    answer = client.post(reverse("sign_boiler_record", args=[stay_map.pk]))
    assert (answer.status_code, "Say how each stay was found" in answer.content.decode()) == (422, True)


def test_the_grid_is_mended(client, stay_map):
    address = reverse("stay_map_head", args=[stay_map.pk])
    entered = HEAD | {"on": days(0).isoformat(), "rows": "four"}
    assert client.post(address, entered).status_code == 302
    assert "The grid cannot be read" in client.get(reverse("stay_map_stays", args=[stay_map.pk])).content.decode()
    assert client.post(address, entered | {"rows": ""}).status_code == 422


def test_who_may_and_what_is_not_there(client, people, stays, stay_map):
    for name, thing in (("begin_stay_map", stays), ("stay_map_stays", stay_map), ("stay_map_head", stay_map)):
        client.force_login(people.fitter)
        assert client.put(reverse(name, args=[thing.pk])).status_code == 405
        assert client.get(reverse(name, args=[99999])).status_code == 404
        client.force_login(people.trustee)
        assert client.get(reverse(name, args=[thing.pk])).status_code == 403
