"""The whole history of a thing, back to the beginning, from what to what each change went."""

import pytest

from parts.history import views
from parts.stores.writers import edit_location
from parts.structure.writers.structure import add_position, edit_position

pytestmark = [pytest.mark.django_db]


@pytest.mark.engine
def test_it_goes_back_to_the_beginning_and_says_from_what_to_what(client, works, monkeypatch):
    place = add_position(works.frames, works.people.manager, name="horn stay")
    for number in range(25):
        edit_position(place, works.people.manager, drawing=f"D {number}")
    client.force_login(works.people.trustee)
    page = client.get(place.get_absolute_url()).content.decode()
    assert f"/history/place/{place.pk}/" in page
    assert "drawing from D 23 to D 24" in page
    assert "Place added" not in page
    monkeypatch.setattr(views, "A_PAGE", 10)
    last = client.get(f"/history/place/{place.pk}/?page=3").content.decode()
    assert "Place added" in last
    assert "drawing now D 0" in last


@pytest.mark.engine
def test_a_crate_says_what_it_was_called(client, works):
    edit_location(works.crate, works.people.storekeeper, name="Crate 99", note="on the top shelf")
    client.force_login(works.people.volunteer)
    page = client.get(f"/history/location/{works.crate.pk}/").content.decode()
    assert "to Crate 99, note now on the top shelf" in page
    for nothing in ("/history/place/99999/", "/history/person/1/"):
        assert client.get(nothing).status_code == 404
