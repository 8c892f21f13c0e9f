"""Where things lie: the tree, one place, and everything done to it."""

import re

import pytest

from core.models import Event
from parts.actions.tags import issue
from parts.models import Location
from parts.photos import writers as photos
from parts.stores.writers import move, move_location
from tests.factories import add_location, days, fresh
from tests.pictures import a_photo
from tests.tables import for_each


def text_of(answer) -> str:
    return " ".join(answer.content.decode().replace('<span class="cure">', "").split())


@pytest.fixture
def store(client, people):
    client.force_login(people.storekeeper)
    return client


@pytest.fixture
def rack(people):
    return add_location(people.storekeeper, "Rack B", "rack", add_location(people.storekeeper, "Stores", "building"))


def code_of(thing) -> str:
    return thing.tags.get(current=True).code


def where(place, ending="") -> str:
    return f"/where/{place.pk}/{ending}"


# --- the tree


@pytest.mark.engine
def test_the_tree_counts_what_is_inside_as_well(store, works, people, rack):
    works.piece(location=add_location(people.storekeeper, "Crate 2", "crate", rack))
    works.piece(location=add_location(people.storekeeper, "Crate 14", "crate", rack))
    text = text_of(store.get("/where/"))
    assert text.index("Stores") < text.index("Rack B") < text.index("Crate 2<") < text.index("Crate 14<")
    rows = {place.name: (place.pieces, place.places, place.depth) for place in Location.objects.as_tree()}
    assert rows["Stores"] == (2, 3, 0)
    assert rows["Rack B"] == (2, 2, 1)
    assert rows["Crate 14"] == (1, 0, 2)


def test_a_long_tree_is_folded_and_searched(store, people, rack):
    for number in range(60):
        add_location(people.storekeeper, f"Crate {number}", "crate", rack)
    text = text_of(store.get("/where/"))
    assert "Crate 7" not in text
    assert "60 in it" in text
    assert "Crate 7" in text_of(store.get("/where/?all=yes"))
    assert "Stores / Rack B / Crate 59" in text_of(store.get("/where/?q=crate+59"))
    assert "Try less of it" in text_of(store.get("/where/?q=crate+99"))


@for_each("nonsense", ["q=%00", "q=" + "x" * 5000, "q=%25", "all=&q=²"])
def test_any_search_is_answered(store, rack, nonsense):
    assert store.get(f"/where/?{nonsense}").status_code == 200


# --- one place


def test_a_crate_shows_what_lies_in_it_and_what_came_and_went(store, works, people):
    piece, gone = works.piece(place=works.place(name="axlebox", side="LH", axle="leading")), works.piece()
    photos.add([a_photo()], piece, people.volunteer)
    move(gone, works.firm(), people.storekeeper)
    text = text_of(store.get(where(works.crate)))
    assert "1 piece right here" in text
    assert "LH · LEADING" in text
    assert f"/photo/{piece.photos.get().name}/small.jpg" in text
    assert "Horn guide went to Invented Foundry" in text
    assert "Axlebox came here." in text


def test_an_unknown_place_is_not_there(store):
    assert store.get("/where/99999/").status_code == 404
    assert store.get("/where/99999999999999999999/").status_code == 404


def test_a_stranger_is_sent_to_sign_in(client, works):
    assert client.get("/where/").url == "/sign-in/?next=/where/"
    assert client.get(where(works.crate)).url.startswith("/sign-in/")
    assert client.post(where(works.crate, "put")).url.startswith("/sign-in/")


@for_each("ending", ["put", "move", "edit", "retire", "use-again", "tag"])
def test_small_forms_are_only_sent(store, works, ending):
    assert store.get(where(works.crate, ending)).status_code == 405


@for_each("ending", ["put", "move", "edit", "retire", "use-again", "tag"])
def test_a_trustee_reads_and_changes_nothing(client, works, people, ending):
    client.force_login(people.trustee)
    page = text_of(client.get(where(works.crate)))
    assert "<form" not in page.replace('action="/sign-out/"', "").split("<main")[1]
    assert client.post(where(works.crate, ending)).status_code == 403


# --- putting pieces in it


def test_several_pieces_are_put_here_by_their_tags(store, works, people, rack):
    first, second = works.piece(), works.piece()
    typed = f"{code_of(first)[:4]} {code_of(first)[4:]}\nHTTP://COTTER.LOCAL:8000/T/{code_of(second)}"
    answer = store.post(where(rack, "put"), {"pieces": typed}, follow=True)
    assert "2 pieces now lie in Stores / Rack B." in text_of(answer)
    assert fresh(first).location == fresh(second).location == rack


def test_putting_it_here_twice_changes_nothing(store, works, rack):
    piece = works.piece()
    for _ in range(2):
        store.post(where(rack, "put"), {"pieces": code_of(piece)})
    assert piece.movements.filter(went_to=rack).count() == 1


def test_every_tag_that_is_wrong_is_named_and_nothing_is_moved(store, works, people, rack):
    piece, crate = works.piece(), issue(works.crate, people.storekeeper).code
    answer = store.post(where(rack, "put"), {"pieces": f"{code_of(piece)} 7K3M9QZ2 {crate}"})
    assert answer.status_code == 422
    text = text_of(answer)
    assert "“7K3M 9QZ2” is not a tag code" in text
    assert f"{crate[:4]} {crate[4:]} is not tied to a piece." in text
    assert code_of(piece) in text  # what was typed is still there
    assert fresh(piece).location == works.crate


def test_a_fitted_piece_is_not_put_into_a_crate_and_stops_the_others(store, works, rack):
    piece, fitted = works.piece(), works.piece("refitted")
    answer = store.post(where(rack, "put"), {"pieces": f"{code_of(piece)} {code_of(fitted)}"})
    assert answer.status_code == 422
    assert "is refitted, so it lies where it is fitted. Strip it or take it off first." in text_of(answer)
    assert fresh(piece).location == works.crate


def test_nothing_typed_is_told(store, works):
    answer = store.post(where(works.crate, "put"), {"pieces": "  "})
    assert answer.status_code == 422
    assert "Give the tag of at least one piece." in text_of(answer)


# --- moving the place itself


def test_a_crate_goes_to_a_firm_with_what_is_in_it(store, works, people):
    piece, firm = works.piece(), works.firm()
    answer = store.post(where(works.crate, "move"), {"to": firm.name, "promised": "2099-01-31"}, follow=True)
    assert f"{works.crate.name}, with all that is in it, is now in {firm.name}." in text_of(answer)
    crate = Location.objects.get(pk=works.crate.pk)
    assert (crate.path, crate.away) == (f"{firm.name} / {crate.name}", True)
    assert str(fresh(piece).promised_back) == "2099-01-31"
    assert f"to {firm.name}, promised back 31 Jan 2099." in text_of(store.get(where(crate)))


@pytest.mark.parametrize(
    ("to", "promised", "told"),
    [
        ("Tray", "", "is inside Crate"),
        ("Nowhere", "", "No place is called “Nowhere”."),
        ("Stores", "2099-01-31", "It is not going away. Leave the date blank."),
        ("Stores", "soon", "Write the day as"),
        ("Stores", "2001-01-31", "The day has passed. Give today or a later day."),
    ],
)
def test_where_a_crate_cannot_go_it_stays(store, works, people, rack, to, promised, told):
    add_location(people.storekeeper, "Tray", "other", works.crate)
    answer = store.post(where(works.crate, "move"), {"to": to, "promised": promised})
    assert answer.status_code == 422
    assert told in text_of(answer)
    assert Location.objects.get(pk=works.crate.pk).parent is None


def test_the_locomotive_is_not_carried_about(store, works, rack):
    answer = store.post(where(works.locomotive.location, "move"), {"to": rack.path})
    assert answer.status_code == 422
    assert "The locomotive is not moved here." in text_of(answer)


# --- adding, renaming, retiring


def test_a_place_is_added_in_another(store, rack):
    assert rack.path in text_of(store.get(f"/where/add?in={rack.pk}"))
    answer = store.post("/where/add", {"name": " Crate  14 ", "kind": "crate", "parent": "rack b"}, follow=True)
    assert "Stores / Rack B / Crate 14 is added. Next: print its label." in text_of(answer)
    assert Location.objects.get(name="Crate 14").parent == rack


@for_each(
    ("entered", "told"),
    [
        ({"name": ""}, "Write what is painted on it."),
        ({"name": "rack b", "parent": "Stores"}, "There is a Rack B here already. Choose another name."),
        ({"name": "B / 14"}, "A / stands between a rack and its crates. Write it without the /."),
        ({"name": "x" * 121}, "at most 120"),
        ({"name": "Crate", "kind": "locomotive"}, "What it is:"),
        ({"name": "Crate", "parent": "Nowhere"}, "No place is called “Nowhere”."),
    ],
)
def test_a_place_that_cannot_be_added_is_told_why(store, rack, entered, told):
    before = Location.objects.count()
    answer = store.post("/where/add", {"kind": "crate"} | entered)
    assert answer.status_code == 422
    assert told in text_of(answer)
    assert Location.objects.count() == before


def test_a_name_that_no_place_bears_is_answered_with_the_nearest(store, people, rack):
    add_location(people.storekeeper, "Erecting shed", "building")
    answer = store.post("/where/add", {"kind": "crate", "name": "Crate", "parent": "Erecting bench"})
    assert "No place is called “Erecting bench”. Nearest to it: Erecting shed. Write part of its name" in text_of(
        answer
    )


def test_a_path_too_long_is_refused(store, people):
    place = None
    for letter in "abcd":
        place = add_location(people.storekeeper, letter * 118, "rack", place)
    answer = store.post("/where/add", {"name": "e" * 40, "kind": "crate", "parent": place.path})
    assert answer.status_code == 422
    assert "500 is the most. Shorten a name on the way." in text_of(answer)


def test_renaming_a_rack_renames_the_way_to_its_crates(store, people, rack):
    crate = add_location(people.storekeeper, "Crate 14", "crate", rack)
    store.post(where(rack, "edit"), {"name": "Rack C", "note": "by the north door"})
    assert Location.objects.get(pk=crate.pk).path == "Stores / Rack C / Crate 14"
    store.post(where(rack, "edit"), {"name": "Rack C", "note": "by the north door"})
    assert Event.objects.filter(action="edit location").count() == 1  # the same again is no event
    taken = store.post(where(rack, "edit"), {"name": ""})
    assert taken.status_code == 422


@pytest.mark.engine
def test_only_an_empty_place_is_taken_out_of_use_and_it_comes_back(store, works, people, rack):
    piece = works.piece()
    answer = store.post(where(works.crate, "retire"))
    assert answer.status_code == 422
    assert "is not empty. Move what lies in it somewhere else first." in text_of(answer)
    move(piece, rack, people.storekeeper)
    store.post(where(works.crate, "retire"))
    store.post(where(works.crate, "retire"))  # twice is once
    assert Event.objects.filter(action="retire location").count() == 1
    assert "No longer used" in text_of(store.get("/where/"))
    again = store.post("/where/add", {"name": works.crate.name, "kind": "crate"})
    assert "Take that one into use again, or choose another name." in text_of(again)
    store.post(where(works.crate, "use-again"))
    assert not Location.objects.get(pk=works.crate.pk).retired


def test_nothing_is_put_into_a_place_no_longer_used(store, works, people, rack):
    piece = works.piece()
    store.post(where(rack, "retire"))
    answer = store.post(where(rack, "put"), {"pieces": code_of(piece)})
    assert answer.status_code == 422
    assert "is no longer used. Choose another place." in text_of(answer)


def test_a_place_inside_one_no_longer_used_stays_out_of_use(store, people, rack):
    store.post(where(rack, "retire"))
    store.post(where(rack.parent, "retire"))
    answer = store.post(where(rack, "use-again"))
    assert answer.status_code == 422
    assert "Stores, which it stands in, is no longer used." in text_of(answer)


def test_a_crate_is_given_one_tag_however_often_it_is_asked(store, works):
    for _ in range(2):
        answer = store.post(where(works.crate, "tag"), follow=True)
        code = code_of(works.crate)
        assert f"has the tag {code[:4]} {code[4:]}" in text_of(answer)
    assert works.crate.tags.count() == 1


def test_a_crate_moved_between_firms_keeps_the_day_it_left(works, people):
    piece = works.piece()
    move_location(works.crate, works.firm(), people.storekeeper)
    left = fresh(piece).away_since
    move_location(works.crate, works.firm(), people.storekeeper)
    assert fresh(piece).away_since == left is not None
    move_location(works.crate, None, people.storekeeper)
    assert fresh(piece).away_since is None


def test_the_crate_says_what_came_and_went_since_its_label_was_printed(store, works, people, settings):
    settings.ADDRESS = "http://cotter.local:8000"
    names = ("brake hanger", "buffer ram", "cab step")
    _, goes, comes = (works.piece(place=works.place(name=name)) for name in names)
    move(comes, works.firm(), people.storekeeper)
    entered = {"crates": works.crate.path, "sheet": "a4-2x3"}
    assert store.post("/labels/?what=crates", entered).status_code == 200
    assert "label is out of date" not in text_of(store.get(where(works.crate)))
    move(goes, works.firm(), people.storekeeper)
    move(comes, works.crate, people.storekeeper)
    page = text_of(store.get(where(works.crate)))
    news = page[page.index("Its label is out of date") : page.index("Print a new label")]
    assert re.search(r"Came</dt>.*cab step</li>.*Went</dt>.*buffer ram</li>", news)
    assert "brake hanger" not in news
    store.post("/labels/?what=crates", entered)
    assert "label is out of date" not in text_of(store.get(where(works.crate)))


def test_a_crate_out_at_a_firm_says_since_when_and_comes_back_in_one_tap(client, works, people):
    rack = add_location(people.storekeeper, "Rack B", "rack")
    move_location(works.crate, rack, people.storekeeper)
    piece, address = works.piece(), works.crate.get_absolute_url()
    client.force_login(people.storekeeper)
    firm = works.firm()
    client.post(f"{address}move", {"to": firm.path, "promised": days(9).isoformat()})
    assert fresh(piece.place).need == "fetch"
    page = text_of(client.get(address))
    assert "Out with all that is in it since" in page
    assert "promised back" in page
    assert "It is back: in Rack B" in page
    client.post(f"{address}move", {"to": rack.path})
    assert (fresh(works.crate).away, fresh(piece).away_since) == (False, None)
    assert fresh(piece.place).need != "fetch"
    page = text_of(client.get(address))
    assert "It is back" not in page
    assert str(people.storekeeper) in page  # who moved it, and when
