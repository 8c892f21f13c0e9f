"""The screens of the stock-take."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from parts.models import StockTake
from tests.as_shown import text_of
from tests.factories import fresh
from tests.parts.stock_take.test_stocktaking import a_shelf, piece_in


@pytest.fixture
def stores(client, works):
    client.force_login(works.people.storekeeper)
    return client


def begun(client, works) -> StockTake:
    client.post(reverse("begin_stock_take"), {"into": works.crate.path})
    return StockTake.objects.get(closed_at=None)


def test_a_crate_is_counted_by_tags_and_by_eye_and_confirmed(stores, works):
    there, torn, gone = (piece_in(works, works.crate) for _ in range(3))
    stray = piece_in(works, a_shelf(works))
    stocktake = begun(stores, works)
    see = reverse("see_piece", args=[stocktake.pk])
    assert "0 of 3 seen" in text_of(stores.get(stocktake.get_absolute_url()))
    stores.post(see, {"code": there.tags.current_code().lower()})
    told = text_of(stores.post(see, {"code": stray.tags.current_code()}, follow=True))
    assert "seen, should not be here." in told
    page = text_of(stores.post(see, {"piece": torn.pk}, follow=True))
    assert "2 of 3 seen" in page
    assert "should not be here" in page
    assert "without its tag" in page
    assert "Seen: 3, 1 of them out of place" in page

    end = stores.get(reverse("end_stock_take", args=[stocktake.pk]))
    assert "Missing: 1" in text_of(end)
    prints = f"/labels/?tags={torn.tags.current_code()}"
    assert f'href="{prints}"' in text_of(end)
    assert "Print the tag of 1 piece seen without one" in text_of(end)
    assert torn.tags.current_code() in text_of(stores.get(prints))
    entered = {"mark": end.context["mark"], "move": [stray.pk]}
    record = text_of(stores.post(reverse("end_stock_take", args=[stocktake.pk]), entered, follow=True))
    assert "Missing: 1 piece" in record
    assert f'href="{prints}"' in record
    assert (fresh(gone).missed_on is None, fresh(stray).location) == (False, works.crate)
    assert "1 missing" in text_of(stores.get(works.crate.get_absolute_url()))
    assert "missed since" in text_of(stores.get(works.crate.get_absolute_url()))
    lost = reverse("tag", args=[gone.tags.current_code()])
    assert "Not there at the stock-take on" in text_of(stores.get(lost))
    again = stores.post(reverse("end_stock_take", args=[stocktake.pk]), entered)
    assert again.url == fresh(stocktake).get_absolute_url()
    assert stores.get(stocktake.get_absolute_url()).status_code == 200


def test_while_counting_a_scanned_piece_has_the_button_on_its_own_page(stores, works):
    piece = piece_in(works, works.crate)
    page = reverse("tag", args=[piece.tags.current_code()])
    assert "Seen in" not in text_of(stores.get(page))
    begun(stores, works)
    assert f"Seen in {works.crate.name}" in text_of(stores.get(page))


def test_a_strange_code_is_told_and_nothing_is_ticked(stores, works):
    stocktake = begun(stores, works)
    see = reverse("see_piece", args=[stocktake.pk])
    assert stores.post(see, {"code": "nonsense"}).status_code == 422
    assert stores.post(see, {"piece": "0"}).status_code == 404
    assert stores.post(see, {"code": ""}).status_code == 422
    assert not stocktake.sightings.exists()


def test_it_is_given_up_with_a_reason_and_what_comes_late_is_told(stores, works):
    piece, stocktake = piece_in(works, works.crate), begun(stores, works)
    give_up = reverse("give_up_stock_take", args=[stocktake.pk])
    assert stores.post(give_up, {"reason": ""}).status_code == 422
    assert "Nothing was changed" in text_of(stores.post(give_up, {"reason": "the lamp"}, follow=True))
    late = stores.post(reverse("see_piece", args=[stocktake.pk]), {"piece": piece.pk})
    assert late.status_code == 422
    assert "is closed" in text_of(late)


def test_a_volunteer_ticks_and_does_not_confirm_and_a_trustee_reads(client, stores, works):
    piece, stocktake = piece_in(works, works.crate), begun(stores, works)
    client.force_login(works.people.volunteer)
    assert client.post(reverse("see_piece", args=[stocktake.pk]), {"piece": piece.pk}).status_code == 302
    assert client.get(reverse("end_stock_take", args=[stocktake.pk])).status_code == 403
    assert client.post(reverse("begin_stock_take"), {"into": works.crate.path}).status_code == 403
    client.force_login(works.people.trustee)
    assert client.get(stocktake.get_absolute_url()).status_code == 200
    assert client.post(reverse("see_piece", args=[stocktake.pk]), {"piece": piece.pk}).status_code == 403
    assert client.get(reverse("stock_take", args=[10**6])).status_code == 404
    client.logout()
    assert client.get(reverse("stock_takes")).status_code == 302


def test_queries_do_not_grow(stores, works):
    stocktake = begun(stores, works)

    def queries():
        counts = []
        for name in ("stock_take", "end_stock_take"):
            with CaptureQueriesContext(connection) as asked:
                stores.get(reverse(name, args=[stocktake.pk]))
            counts.append(len(asked))
        return counts

    for piece in [piece_in(works, works.crate) for _ in range(2)][:1]:
        stores.post(reverse("see_piece", args=[stocktake.pk]), {"piece": piece.pk})
    before = queries()
    for piece in [piece_in(works, works.crate) for _ in range(8)][:5]:
        stores.post(reverse("see_piece", args=[stocktake.pk]), {"piece": piece.pk})
    assert queries() == before


def test_pieces_of_one_name_are_told_apart_by_their_places(stores, works):
    for side in ("LH", "RH"):
        works.piece(place=works.plain_place(name="sand pipe bracket", side=side))
    stocktake = begun(stores, works)
    for page in ("stock_take", "end_stock_take"):
        told = text_of(stores.get(reverse(page, args=[stocktake.pk])))
        assert "Sand pipe bracket, LH" in told
        assert "Sand pipe bracket, RH" in told
    end = stores.get(reverse("end_stock_take", args=[stocktake.pk]))
    record = stores.post(reverse("end_stock_take", args=[stocktake.pk]), {"mark": end.context["mark"]}, follow=True)
    assert "Sand pipe bracket, LH" in text_of(record)
