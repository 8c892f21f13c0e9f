"""Collecting a kit: in walking order, ticked by tag, what is missing becomes “find”."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from core.log.writing import one_transaction
from core.models import Event
from parts.actions import tags
from parts.actions.perform import undoable_acts
from parts.actions.undo import undo
from parts.domain.words import State
from parts.kits import writers
from parts.models import Consumable, ConsumableUse, Kit, KitLine, LocationKind
from parts.queries.consumables import stock_row
from parts.queries.missed import missed_in_words
from parts.stores import writers as stores
from tests.factories import add_location, fresh
from tests.parts.actions.standard import refused
from tests.parts.jobs import stands


@pytest.fixture
def bench(works):
    return add_location(works.people.storekeeper, "Erecting bench")


@pytest.fixture
def piece(works):
    return works.piece(State.ACCEPTED)


def a_kit(works, **more):
    return writers.begin(works.frames, works.people.volunteer, **more)


def post(client, works, name, kit, **data):
    client.force_login(works.people.volunteer)
    return client.post(reverse(name, args=[kit.pk]), data)


def test_a_kit_is_begun_from_the_subassembly(client, works, piece, bench):
    client.force_login(works.people.volunteer)
    begin = reverse("begin_kit", args=[works.locomotive.slug, works.frames.code])
    assert "1 piece is ready" in client.get(begin).content.decode()
    assert begin in client.get(works.frames.get_absolute_url()).content.decode()
    answer = client.post(begin, {"gathered_at": bench.name})
    kit = Kit.objects.get()
    assert answer.headers["Location"] == kit.get_absolute_url()
    page = client.get(kit.get_absolute_url()).content.decode()
    assert works.crate.words in page
    assert "0 of 1 in hand" in page


def test_a_kit_names_what_is_new_each_time_what_is_short_and_what_is_made_at_fitting(client, works, piece):
    storekeeper = works.people.storekeeper
    joint = Consumable.objects.create(name="split pin", size="3 mm", in_stock=1, location=works.crate)
    ConsumableUse.objects.create(consumable=joint, position=piece.place, quantity=4)
    works.know_empty(works.plain_place(name="horn packing", made_to_suit=True))
    client.force_login(storekeeper)
    page = client.get(a_kit(works).get_absolute_url()).content.decode()
    assert works.crate.words in page
    assert "Split pin, 3 mm: 4" in page
    assert "3 short" in page
    assert "Horn packing" in page


@pytest.mark.engine
def test_the_subassembly_leads_back_to_the_kit_that_is_being_collected(client, works, piece):
    kit, address = a_kit(works), works.frames.get_absolute_url()
    client.force_login(works.people.volunteer)
    assert "Go on with the kit" in client.get(address).content.decode()
    writers.end(kit, works.people.volunteer)
    page = client.get(address).content.decode()
    assert "Collect the kit" in page
    assert "Kit collected on" in page


def test_a_kit_for_a_place_takes_what_goes_inside_it_too(client, works, piece):
    outer, brass = works.a_broken_down_piece("brass")
    works.bring_on(brass, State.ACCEPTED)
    client.force_login(works.people.volunteer)
    answer = client.post(reverse("begin_kit_for_place", args=[outer.place_id]), follow=True)
    (line,) = KitLine.objects.all()
    assert (line.component, line.kit.position) == (brass, outer.place)
    assert f"Kit: {outer.place.words}" in answer.content.decode()


def test_chosen_pieces_are_a_kit_however_far_they_have_come(client, works, piece):
    dirty = works.piece(State.STRIPPED)
    client.force_login(works.people.volunteer)
    begin, chosen = reverse("begin_kit_of_chosen"), {"piece-1": f"{piece.pk}.3", "piece-2": f"{dirty.pk}.9"}
    assert begin in client.get(reverse("bulk"), {"sub": works.frames.pk}).content.decode()
    page = client.post(begin, chosen).content.decode()
    assert "Collect 2 pieces" in page
    assert f'name="piece-{dirty.pk}"' in page
    assert client.post(begin, chosen | {"words": " "}).status_code == 422
    answer = client.post(begin, chosen | {"words": "crack checks on Saturday"}, follow=True)
    assert "Kit: crack checks on Saturday" in answer.content.decode()
    assert {line.component for line in KitLine.objects.all()} == {piece, dirty}
    with refused("pieces"):
        writers.begin_chosen([], works.people.volunteer, words="nothing")


def test_what_became_ready_since_is_put_to_it(works, piece):
    a_kit(works)
    works.piece(State.ACCEPTED)
    assert a_kit(works).lines.count() == 2


@pytest.fixture
def bag(works):
    """Two lots of bolts in a bag with a tag, which lies in the crate."""
    bag = add_location(works.people.storekeeper, "Bag 7", LocationKind.BAG, works.crate)
    tags.issue(bag, works.people.storekeeper)
    return bag


def scan(client, works, kit, thing):
    return post(client, works, "take_piece", kit, code=thing.tags.get(current=True).code)


def test_a_bolt_bag_is_taken_whole_and_goes_where_the_kit_is_gathered(client, works, bag, bench):
    bolts = [works.piece(State.ACCEPTED, location=bag) for _ in range(2)]
    kit = a_kit(works, gathered_at=bench)
    page = client_page(client, works, "kit", kit, who="volunteer")
    assert bag.words in page
    assert f'name="bag" value="{bag.pk}"' in page
    assert post(client, works, "take_piece", kit, bag="0").status_code == 404
    assert post(client, works, "take_piece", kit, bag=str(bag.pk)).status_code == 302
    assert kit.lines.filter(taken_at__isnull=False).count() == 2
    assert (fresh(bag).parent, fresh(bolts[0]).location) == (bench, bag)
    assert "Nothing in Bag 7 is left" in scan(client, works, kit, bag).content.decode()


def test_a_bag_in_which_the_kit_itself_is_gathered_stays_where_it_is(client, works, bag):
    bolts = works.piece(State.ACCEPTED, location=bag)
    kit = a_kit(works, gathered_at=bag)
    assert scan(client, works, kit, bag).status_code == 302
    assert kit.lines.get().taken_at
    assert (fresh(bolts).location, fresh(bag).parent) == (bag, works.crate)


def test_of_a_bag_with_something_else_in_it_only_what_belongs_to_the_kit_goes(client, works, bag, bench):
    bolts, other = works.piece(State.ACCEPTED, location=bag), works.piece(State.CLEANED, location=bag)
    scan(client, works, a_kit(works, gathered_at=bench), bag)
    assert (fresh(bolts).location, fresh(other).location, fresh(bag).parent) == (bench, bag, works.crate)


def test_a_crate_is_not_taken_whole(client, works, piece):
    kit = a_kit(works)
    tags.issue(works.crate, works.people.storekeeper)
    assert "no bolt bag" in scan(client, works, kit, works.crate).content.decode()
    assert kit.lines.get().taken_at is None


def test_the_page_comes_back_at_the_next_line(client, works, piece):
    works.piece(State.ACCEPTED)
    kit = a_kit(works)
    first, second = kit.lines.order_by("pk")
    page = client_page(client, works, "kit", kit, who="volunteer")
    assert f'name="next" value="{second.pk}"' in page
    answer = post(client, works, "take_piece", kit, piece=str(first.component_id), next=str(second.pk))
    assert answer.headers["Location"] == f"{kit.get_absolute_url()}#line-{second.pk}"


def test_whoever_collects_ticks_a_piece_on_the_page_that_its_tag_opens(client, works, piece):
    kit, address = a_kit(works), reverse("tag", args=[piece.tags.current_code()])
    offer = f"Tick for the kit: {kit.name}"
    client.force_login(works.people.volunteer)
    assert offer not in client.get(address).content.decode()  # somebody else may be collecting it
    client.get(kit.get_absolute_url())
    assert offer in client.get(address).content.decode()
    assert kit.get_absolute_url() in client.get(reverse("scan")).content.decode()
    post(client, works, "take_piece", kit, piece=str(piece.pk))
    assert offer not in client.get(address).content.decode()
    post(client, works, "end_kit", kit)
    assert "Go on with the kit" not in client.get(reverse("scan")).content.decode()


def test_only_what_is_ready_is_in_it_and_nothing_ready_is_refused(works):
    works.piece(State.CLEANED)
    with refused("kit"):
        a_kit(works)


def test_two_people_collect_one_kit(works, piece):
    assert a_kit(works) == a_kit(works)


def test_a_ticked_piece_lies_where_the_kit_is_gathered(client, works, piece, bench):
    kit = a_kit(works, gathered_at=bench)
    answer = post(client, works, "take_piece", kit, code=piece.tags.current_code())
    assert answer.status_code == 302
    assert fresh(piece).location == bench
    assert "1 of 1 in hand" in client.get(kit.get_absolute_url()).content.decode()
    post(client, works, "take_piece", kit, code=piece.tags.current_code())  # twice is once
    assert kit.lines.get().taken_by == works.people.volunteer


def test_a_tick_by_mistake_is_taken_back(client, works, piece):
    kit = a_kit(works)
    post(client, works, "take_piece", kit, piece=str(piece.pk))
    post(client, works, "put_back", kit, piece=str(piece.pk))
    assert kit.lines.get().taken_at is None


def test_a_piece_that_is_not_there_needs_find_until_somebody_has_it(client, works, piece):
    kit = a_kit(works)
    post(client, works, "miss_piece", kit, piece=str(piece.pk))
    assert stands(piece.place) == ("blocked", "find")
    for address in (works.frames.get_absolute_url(), reverse("tag", args=[piece.tags.current_code()])):
        page = client.get(address).content.decode()
        assert "not there when a kit was collected on" in page.replace("Not", "not")
        assert "stock-take" not in page.partition("<main")[2]
    assert "Found: in hand" in client.get(kit.get_absolute_url()).content.decode()
    assert fresh(piece).missed_on
    post(client, works, "take_piece", kit, piece=str(piece.pk))
    assert fresh(piece).missed_on is None
    assert stands(piece.place)[0] == "ready"


def test_a_miss_that_was_undone_is_told_no_more(works, piece):
    with one_transaction():
        stores.missed(piece, works.people.storekeeper, "", {"stocktake": 1})
    writers.miss(a_kit(works), fresh(piece), works.people.volunteer)
    assert missed_in_words([fresh(piece)])[piece.pk].startswith("when a kit was collected")
    undo(Event.objects.filter(action="missed").latest("pk").pk, works.people.volunteer)
    assert missed_in_words([fresh(piece)])[piece.pk].startswith("at the stock-take")


def test_a_piece_of_another_job_is_refused(client, works, piece):
    kit, other = a_kit(works), works.piece(State.CLEANED)
    answer = post(client, works, "take_piece", kit, code=other.tags.current_code())
    assert answer.status_code == 422
    assert "does not belong to this kit" in answer.content.decode()
    assert post(client, works, "take_piece", kit, piece="x").status_code == 404


def test_what_is_in_hand_is_not_missed(works, piece):
    kit = a_kit(works)
    writers.take(kit, piece, works.people.volunteer)
    with refused("kit"):
        writers.miss(kit, piece, works.people.volunteer)


def test_what_is_refitted_is_done_with_and_nobody_says_that_it_is_missing(client, works, piece):
    ticked, volunteer = works.piece(State.ACCEPTED), works.people.volunteer
    kit, address = a_kit(works), reverse("tag", args=[piece.tags.current_code()])
    writers.take(kit, ticked, volunteer)
    page = client_page(client, works, "kit", kit, who="volunteer")
    assert "Not there" in page
    assert "Tick for the kit" in client.get(address).content.decode()
    works.refit(fresh(piece))
    works.refit(fresh(ticked))
    page = client.get(kit.get_absolute_url()).content.decode()
    assert "2 of 2 in hand or refitted" in page
    assert "Refitted: 2" in page
    assert "No piece is left to collect." in page
    for offered in ("Not there", "Put back", f'name="piece" value="{piece.pk}"'):
        assert offered not in page
    assert "2 of 2 in hand or refitted" in client.get(reverse("kits")).content.decode()
    assert "Tick for the kit" not in client.get(address).content.decode()
    for name in ("miss_piece", "put_back", "take_piece"):  # a phone that was out of reach sends late
        late = post(client, works, name, kit, piece=str(piece.pk))
        assert late.status_code == 422
        assert "is refitted, so it lies where it is fitted." in late.content.decode()
    assert fresh(piece).missed_on is None
    assert stands(piece.place)[0] == "refitted"
    assert writers.end(kit, volunteer) == "2 pieces"


def test_what_was_withdrawn_since_is_not_collected(client, works, piece):
    scrapped, kit = works.piece(State.ACCEPTED), a_kit(works)
    works.do("withdraw", scrapped, works.people.engineer, destination="scrapped", reason="cracked in the drop test")
    page = client_page(client, works, "kit", kit, who="volunteer")
    assert "0 of 1 in hand" in page


def test_an_ended_kit_takes_nothing_more(client, works, piece):
    kit = a_kit(works)
    assert str(kit.subassembly) in client_page(client, works, "kits")
    assert post(client, works, "end_kit", kit).status_code == 302
    assert post(client, works, "take_piece", kit, piece=str(piece.pk)).status_code == 422
    assert post(client, works, "end_kit", kit).status_code == 422
    assert "No kit is being collected." in client_page(client, works, "kits")


def client_page(client, works, name, kit=None, who="trustee"):
    client.force_login(getattr(works.people, who))
    return client.get(reverse(name, args=[kit.pk] if kit else [])).content.decode()


def test_a_trustee_reads_and_a_stranger_signs_in(client, works, piece):
    kit = a_kit(works)
    assert client.get(kit.get_absolute_url()).status_code == 302
    client.force_login(works.people.trustee)
    assert client.get(kit.get_absolute_url()).status_code == 200
    assert client.post(reverse("take_piece", args=[kit.pk]), {"piece": str(piece.pk)}).status_code == 403
    assert client.get(reverse("take_piece", args=[kit.pk])).status_code in (403, 405)
    assert client.get(reverse("kit", args=[kit.pk + 1])).status_code == 404


def test_queries_do_not_grow_with_the_pieces(client, works, piece):
    client.force_login(works.people.volunteer)
    few = queries_of(client, works)
    for _ in range(4):
        works.piece(State.ACCEPTED)
    assert queries_of(client, works) == few <= 20


def queries_of(client, works) -> int:
    kit = a_kit(works)
    client.get(kit.get_absolute_url())
    with CaptureQueriesContext(connection) as asked:
        client.get(kit.get_absolute_url())
    writers.end(kit, works.people.volunteer)
    return len(asked)


@pytest.fixture
def pins(works, piece):
    """Four wanted for the place, five on the shelf."""
    made = Consumable.objects.create(name="split pin", size="3 mm", in_stock=5, location=works.crate)
    ConsumableUse.objects.create(consumable=made, position=piece.place, quantity=4)
    return made


def stands_at(pins) -> tuple[int, int, int]:
    """In stock, wanted by open places, to be ordered."""
    row = stock_row(Consumable.objects.filter(pk=pins.pk).with_stock().get())
    return row.in_stock, row.wanted, row.to_order


def test_split_pins_leave_the_shelf_when_they_are_taken_and_come_back_when_they_are_put_back(client, works, pins):
    kit = a_kit(works)
    assert stands_at(pins) == (5, 4, 0)
    post(client, works, "take_piece", kit, consumable=pins.pk)
    assert stands_at(pins) == (1, 0, 0)
    page = client.get(kit.get_absolute_url()).content.decode()
    assert "New, in hand" in page
    shelf = client.get(pins.get_absolute_url()).content.decode()
    assert "Taken: 4" in shelf
    assert "4 in hand" in shelf
    with refused("kit"):
        writers.take_new(kit, pins, works.people.volunteer)
    post(client, works, "put_back", kit, consumable=pins.pk)
    assert stands_at(pins) == (5, 4, 0)
    assert "Brought back to the shelf: 4" in client.get(pins.get_absolute_url()).content.decode()


def test_what_is_short_is_taken_as_far_as_it_goes_and_the_rest_is_to_be_ordered(client, works, piece, pins):
    Consumable.objects.update(in_stock=3)
    kit = a_kit(works)
    client.force_login(works.people.volunteer)
    assert "3 in hand" in client.get(kit.get_absolute_url()).content.decode()  # the button says how many there are
    assert writers.take_new(kit, pins, works.people.volunteer) == (3, 1)
    assert stands_at(pins) == (0, 1, 1)
    with refused("kit"):
        writers.take_new(kit, pins, works.people.volunteer)


def test_once_the_piece_is_on_its_pins_are_used_up_and_a_piece_taken_off_wants_new_ones(works, piece, pins):
    writers.take_new(a_kit(works), pins, works.people.volunteer)
    works.refit(piece)
    assert stands_at(pins) == (1, 0, 0)
    works.do("take off", fresh(piece), works.people.fitter, reason="to mark it off")
    assert stands_at(pins) == (1, 4, 3)


def test_a_bolt_bag_brings_the_pins_that_lie_in_it(client, works, bag):
    lying = works.piece(State.ACCEPTED, location=bag)
    pins = Consumable.objects.create(name="split pin", in_stock=2, location=bag)
    ConsumableUse.objects.create(consumable=pins, position=lying.place, quantity=2)
    writers.take_bag(a_kit(works), bag, works.people.volunteer)
    assert stands_at(pins) == (0, 0, 0)


def test_undoing_puts_as_many_back(works, piece, pins):
    writers.take_new(a_kit(works), pins, works.people.volunteer)
    undo(undoable_acts(Event.objects.filter(action="take consumable"))[0], works.people.volunteer)
    assert stands_at(pins) == (5, 4, 0)
