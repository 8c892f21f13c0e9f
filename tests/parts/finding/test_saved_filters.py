"""Filters kept under a name."""

import pytest

from parts.models import SavedFilter
from tests.tables import for_each


@pytest.fixture
def fitter(client, works):
    client.force_login(works.people.fitter)
    return client


def kept(client, name="To be cleaned", query="state=stripped", **more):
    return client.post(f"/find/keep?{query}", {"name": name} | more)


@pytest.mark.engine
def test_a_filter_is_kept_and_leads_back_to_its_list(fitter, works):
    piece = works.piece()
    answer = kept(fitter, query="state=stripped&junk=1&q=horn++guide")
    assert answer.url == "/find/?q=horn+guide&state=stripped"
    assert [row.thing for row in fitter.get(answer.url).context["page_obj"].object_list] == [piece.pk]
    for address in ("/", "/find/"):
        assert b"To be cleaned" in fitter.get(address).content


def test_others_see_only_what_is_shared(fitter, works):
    kept(fitter, name="Mine")
    kept(fitter, name="Ours", shared="1")
    fitter.force_login(works.people.trustee)
    assert [each.name for each in fitter.get("/find/").context["saved_filters"]] == ["Ours"]


@for_each(
    ("asked", "sentence"),
    [
        ({"name": "  "}, "say what to call the filter"),
        ({"name": "x" * 81}, "At most 80 fit"),
        ({"name": "to be CLEANED"}, "already"),
        ({"query": ""}, "nothing to keep"),
    ],
)
def test_what_cannot_be_kept_is_refused_with_the_mend(fitter, works, asked, sentence):
    kept(fitter)
    answer = kept(fitter, **{"name": "Another"} | asked)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert SavedFilter.objects.count() == 1


def test_it_is_deleted_by_whoever_kept_it_and_by_nobody_else(fitter, works):
    kept(fitter, shared="1")
    address = f"/find/{SavedFilter.objects.get().pk}/delete"
    fitter.force_login(works.people.manager)
    assert fitter.post(address).status_code == 403
    fitter.force_login(works.people.fitter)
    assert fitter.get(address).status_code == 405
    assert fitter.post(address).url == "/find/"
    assert fitter.post(address).status_code == 404
    assert not SavedFilter.objects.exists()


def test_a_private_one_of_another_is_not_there(fitter, works):
    kept(fitter)
    fitter.force_login(works.people.manager)
    assert fitter.post(f"/find/{SavedFilter.objects.get().pk}/delete").status_code == 404


def test_strangers_sign_in_first(client, db):
    assert client.post("/find/keep?state=cleaned", {"name": "x"}).status_code == 302
    assert client.post("/find/1/delete").status_code == 302
