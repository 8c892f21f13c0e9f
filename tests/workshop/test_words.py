"""The page of words: for everybody who is signed in, and one step from every page."""

import pytest
from django.urls import get_resolver
from django.utils.text import slugify

from parts.domain.meanings import PATH
from parts.domain.words import Need, State
from tests.factories import a_cast
from workshop.navigation.help import HELP, LINES
from workshop.navigation.way_picture import BOX_H, BOX_W, SPOTS, way_picture

pytestmark = pytest.mark.django_db


@pytest.fixture
def people(db):
    return a_cast()


def test_it_names_every_word_and_every_page_leads_there(client, people):
    client.force_login(people.volunteer)
    page = client.get("/words/").content.decode()
    assert all(f'id="{word.value.replace(" ", "-")}"' in page for word in (*State, *Need))
    for address, line in (("/", "?word=holds-up#holds-up"), ("/more/", ""), ("/scan/", "?word=tag#tag")):
        assert f'href="/words/{line}"' in client.get(address, follow=True).content.decode()


def test_every_page_with_help_is_a_page_and_its_word_stands_on_the_page_of_words():
    assert set(HELP) <= {name for name in get_resolver().reverse_dict if isinstance(name, str)}
    assert {slugify(word) for word in HELP.values()} <= set(LINES)


def test_strangers_sign_in_first_and_nothing_is_posted(client, people):
    assert client.get("/words/").status_code == 302
    client.force_login(people.trustee)
    assert client.post("/words/").status_code == 405


def test_no_box_of_the_picture_overlaps_another_and_each_arrow_has_its_word():
    boxes = way_picture().boxes
    apart = [abs(a.x - b.x) >= BOX_W or abs(a.y - b.y) >= BOX_H for a in boxes for b in boxes if a is not b]
    assert all(apart)
    assert len(apart) == len(SPOTS) * (len(SPOTS) - 1)
    assert [one.words for one in way_picture().arrows] == [action for _, action, _ in PATH]
