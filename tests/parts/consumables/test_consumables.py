"""Consumables on screen: entered, taken, counted, ordered, wanted for a place, and short of in readiness."""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from core.domain.refusals import Refused
from core.models import Event
from parts.consumables import writers
from parts.domain.words import State
from parts.models import Consumable, ConsumableOrder, Overhaul, Position
from parts.queries.consumables import short_in, stock_row, wanted_in
from tests.as_shown import text_of
from tests.factories import days, fresh
from tests.parts.jobs import a_firm

pytestmark = pytest.mark.django_db


def visitor(person) -> Client:
    client = Client()
    client.force_login(person)
    return client


@pytest.fixture
def nell(people):
    return visitor(people.storekeeper)


@pytest.fixture
def joint(people):
    return writers.add(people.storekeeper, name="cover joint", size="18 in", in_stock=1, least=1)


def at(name: str, thing) -> str:
    return reverse(name, args=[thing.pk])


def test_one_is_entered_with_its_size_stock_and_stock_place(nell, works):
    entered = {
        "name": "split  pin",
        "size": "1/4 in × 2 in",
        "in_stock": "40",
        "least": "20",
        "location": works.crate.path,
    }
    answer = nell.post(reverse("add_consumable"), entered)
    pin = Consumable.objects.get()
    assert answer.url == pin.get_absolute_url()
    assert (str(pin), pin.in_stock, pin.least, pin.location) == ("split pin, 1/4 in × 2 in", 40, 20, works.crate)
    assert nell.post(reverse("add_consumable"), entered | {"name": "Split pin"}).status_code == 422
    assert nell.post(reverse("add_consumable"), entered | {"name": ""}).status_code == 422


@pytest.mark.engine
def test_taking_and_putting_in_stock_are_events_that_explain_the_count(nell, joint, people):
    pim = visitor(people.volunteer)
    assert nell.post(at("put_consumable_in_stock", joint), {"quantity": "5"}).status_code == 302
    assert pim.post(at("take_consumable", joint), {"quantity": "2", "why": "front cover, RH"}).status_code == 302
    assert fresh(joint).in_stock == 4
    page = text_of(pim.get(joint.get_absolute_url()))
    assert "Put in stock: 5." in page
    assert "Taken: 2." in page
    assert "Front cover, RH." in page


def test_more_than_is_there_is_not_taken(joint, people):
    pim = visitor(people.volunteer)
    answer = pim.post(at("take_consumable", joint), {"quantity": "2"})
    assert answer.status_code == 422
    assert "1 in stock, so 2 cannot be taken." in text_of(answer)
    assert pim.post(at("take_consumable", joint), {"quantity": ""}).status_code == 422
    assert fresh(joint).in_stock == 1


@pytest.mark.engine
def test_the_shelf_is_counted_and_the_register_follows(joint, people):
    assert visitor(people.volunteer).post(at("count_consumable", joint), {"quantity": "0"}).status_code == 302
    assert fresh(joint).in_stock == 0


def test_who_saves_second_is_told_who_was_quicker(nell, joint):
    entered = {"quantity": "1", "seen": joint.last_event}
    assert nell.post(at("take_consumable", joint), entered).status_code == 302
    assert nell.post(at("put_consumable_in_stock", joint), entered).status_code == 409
    assert fresh(joint).in_stock == 0


def test_an_order_names_whom_and_its_arrival_is_counted_once(nell, joint):
    assert nell.post(at("order_consumable", joint), {"quantity": "6"}).status_code == 422
    entered = {"quantity": "6", "who": "Invented Joints", "promised": days(9).isoformat()}
    assert nell.post(at("order_consumable", joint), entered | {"promised": days(-1).isoformat()}).status_code == 422
    assert nell.post(at("order_consumable", joint), entered).status_code == 302
    (ordered,) = ConsumableOrder.objects.all()
    assert "6 of Invented Joints" in text_of(nell.get(joint.get_absolute_url()))
    assert nell.post(at("consumable_arrived", ordered), {"quantity": "6"}).status_code == 302
    assert nell.post(at("consumable_arrived", ordered), {"quantity": "6"}).status_code == 422
    assert (fresh(joint).in_stock, fresh(ordered).ended) == (7, "arrived")


def test_of_whom_is_not_offered_to_be_left_blank_where_one_of_two_is_needed(nell, joint):
    page = text_of(nell.get(at("order_consumable", joint)))
    assert page.count("(may be left blank)") == 1  # the day
    assert "Choose one, or write the name below." in page


def test_what_did_not_come_with_the_first_parcel_stays_on_order(nell, joint, people):
    ordered = writers.order(joint, people.storekeeper, 47, who="Invented Joints")
    assert 'value="47"' in text_of(nell.get(at("consumable_arrived", ordered)))
    assert nell.post(at("consumable_arrived", ordered), {"quantity": "0"}).status_code == 422
    answer = nell.post(at("consumable_arrived", ordered), {"quantity": "30"}, follow=True)
    assert "30 arrived, and put in stock; 17 still to come." in text_of(answer)
    assert "Arrived: 30 of Invented Joints; 17 still to come." in text_of(answer)
    row = stock_row(Consumable.objects.with_stock().get())
    assert (row.in_stock, row.to_come) == (31, 17)
    nell.post(at("consumable_arrived", ordered), {"quantity": "20"})  # a box of twenty
    assert (fresh(joint).in_stock, fresh(ordered).ended) == (51, "arrived")


@pytest.mark.engine
def test_an_arrival_counted_from_an_older_page_is_not_counted_again(nell, joint, people):
    ordered = writers.order(joint, people.storekeeper, 47, who="Invented Joints")
    entered = {"quantity": "30", "seen": fresh(joint).last_event}
    assert nell.post(at("consumable_arrived", ordered), entered).status_code == 302
    assert nell.post(at("consumable_arrived", ordered), entered).status_code == 409
    assert fresh(joint).in_stock == 31


@pytest.mark.parametrize("came", ["30", "47"])
def test_an_arrival_told_by_mistake_is_undone(nell, joint, people, came):
    ordered = writers.order(joint, people.storekeeper, 47, who="Invented Joints")
    answer = nell.post(at("consumable_arrived", ordered), {"quantity": came}, follow=True)
    press_undo(nell, answer)
    assert (fresh(joint).in_stock, fresh(ordered).ended, ordered.quantity) == (1, "", 47)


def press_undo(nell, answer) -> None:
    (number,) = Event.objects.order_by("-pk").values_list("pk", flat=True)[:1]
    assert f'name="acts" value="{number}"' in answer.content.decode()
    nell.post(reverse("undo"), {"acts": number})


def test_what_is_put_in_stock_by_hand_is_told_of_the_order_that_it_may_belong_to(nell, joint, people):
    assert "“Arrived”" not in text_of(nell.get(at("put_consumable_in_stock", joint)))
    writers.order(joint, people.storekeeper, 47, who="Invented Joints")
    assert "“Arrived”" in text_of(nell.get(at("put_consumable_in_stock", joint)))


@pytest.mark.engine
def test_an_order_that_is_given_up_is_expected_no_more(nell, joint, people):
    ordered = writers.order(joint, people.storekeeper, 6, who="Invented Joints")
    answer = nell.post(at("give_up_consumable_order", ordered), follow=True)
    assert (fresh(joint).in_stock, fresh(ordered).ended) == (1, "given up")
    press_undo(nell, answer)
    assert (fresh(joint).in_stock, fresh(ordered).ended) == (1, "")
    assert nell.get(at("give_up_consumable_order", ordered)).status_code == 405
    assert nell.post(reverse("consumable_arrived", args=[ordered.pk + 1])).status_code == 404


def test_what_open_places_want_is_short_in_readiness_and_no_blocker(nell, joint, works):
    place = works.plain_place()
    nell.post(at("want_consumable", place), {"consumable": joint.pk, "quantity": "3"})
    assert "cover joint" in text_of(nell.get(place.get_absolute_url())).lower()
    sheet = text_of(nell.get(reverse("subassembly", args=[works.locomotive.slug, works.frames.code])))
    assert "Cover joint, 18 in: 3 wanted here, 1 in stock; none ordered." in sheet
    piece = works.piece(State.ACCEPTED, place=place)
    assert fresh(place).standing == "ready"
    works.refit(piece)
    assert wanted_in(works.frames.positions.all()) == []
    nell.post(at("want_consumable", place), {"consumable": joint.pk, "quantity": "0"})
    assert not place.consumables.exists()


@pytest.mark.engine
def test_a_place_that_is_in_stock_is_not_short(joint, works, people):
    writers.want(joint, works.plain_place(), people.storekeeper, 1)
    assert short_in(works.frames.pk) == []
    writers.want(joint, works.plain_place(), people.storekeeper, 1)
    assert [wanted for _, _, wanted in short_in(works.frames.pk)] == [2]


def test_the_list_to_order_holds_the_short_ones_alone(nell, joint, works, people):
    writers.add(people.storekeeper, name="gauge glass ring", in_stock=9, least=2)
    writers.want(joint, works.plain_place(), people.storekeeper, 4)
    everything, short = (text_of(nell.get(reverse("consumables") + query)) for query in ("", "?short=1"))
    assert "Gauge glass ring" in everything
    assert "Gauge glass ring" not in short
    assert '<td data-label="To order"><b>4</b></td>' in short


def test_rows_that_do_not_count_as_wanted_say_why(nell, joint, works, people):
    ways = {"blocked": 3, "refitted": 4, "asleep": 5, "not required": 6}
    for standing, quantity in ways.items():
        place = works.plain_place()
        writers.want(joint, place, people.storekeeper, quantity)
        Position.objects.filter(pk=place.pk).update(standing=standing)
    page = text_of(nell.get(joint.get_absolute_url()))
    assert "<dt>Wanted by open places</dt><dd>3</dd>" in page
    assert page.count("· not counted: ") == 3
    for why in ("refitted", "inside a piece that is whole", "not required"):
        assert f"· not counted: {why}<" in page


def test_what_a_locomotive_without_an_overhaul_wants_does_not_count(nell, joint, works, people):
    writers.want(joint, works.plain_place(), people.storekeeper, 3)
    Overhaul.objects.update(closed=days(0))
    assert "· not counted: no overhaul is open<" in text_of(nell.get(joint.get_absolute_url()))


@pytest.mark.engine
def test_it_is_described_anew_and_the_event_keeps_what_was_said(nell, joint):
    entered = {"name": "cover joint", "size": "19 in", "least": "3", "seen": joint.last_event}
    assert nell.post(at("edit_consumable", joint), entered).status_code == 302
    assert (str(fresh(joint)), joint.least) == ("cover joint, 19 in", 3)
    assert joint.last_event


@pytest.mark.parametrize("name", ["edit_consumable", "order_consumable", "put_consumable_in_stock"])
def test_a_volunteer_takes_and_counts_and_no_more(people, joint, name):
    assert visitor(people.volunteer).get(at(name, joint)).status_code == 403
    assert visitor(people.trustee).get(at("take_consumable", joint)).status_code == 403
    with pytest.raises(Refused):
        writers.take(joint, people.trustee, 1)


def test_a_stranger_signs_in_first_and_what_is_not_there_is_said(client, nell, joint):
    assert client.get(reverse("consumables")).status_code == 302
    assert nell.get(reverse("consumable", args=[joint.pk + 1])).status_code == 404
    assert nell.post(reverse("consumables")).status_code == 405


def test_as_many_queries_for_many_as_for_one(nell, works):
    """The demo has too few with a stock place or an order for its crawl to tell."""

    def queries() -> int:
        with CaptureQueriesContext(connection) as caught:
            nell.get(reverse("consumables"))
        return len(caught)

    def ordered(number: int) -> None:
        ring = writers.add(works.people.storekeeper, name=f"ring {number}", location=works.crate)
        writers.order(ring, works.people.storekeeper, 2, firm=a_firm(works))

    ordered(0)
    queries()
    one = queries()
    for number in (1, 2):
        ordered(number)
    assert queries() == one <= 10
