"""The screen that prints tags and crate labels."""

import re
from html import unescape
from io import BytesIO

import pytest
import zxingcpp
from PIL import Image

from core.models import Event
from parts.actions.tags import issue
from parts.domain.tagcodes import grouped
from parts.entering.writers.pieces import strip_new
from parts.foundry.writers.patterns import add_pattern
from parts.models import Tag
from tests.factories import add_location, events_of
from tests.printed import pages, read_back, text_of
from tests.tables import for_each

ADDRESS = "http://cotter.local:8000"
LABELS = "/labels/"


@pytest.fixture(autouse=True)
def address(settings):
    settings.ADDRESS = ADDRESS


@pytest.fixture
def store(client, people):
    client.force_login(people.storekeeper)
    return client


def code_of(thing) -> str:
    return thing.tags.get(current=True).code


def ask(client, what="pieces", **entered):
    return client.post(f"{LABELS}?what={what}", {"sheet": "a4-3x8"} | entered)


def printed_on(codes):
    return [f"HTTP://COTTER.LOCAL:8000/T/{code}" for code in codes]


def addresses(answer, folder):
    return [read_back(page) for page in pages(answer.content, folder)]


@pytest.mark.needs_poppler
def test_the_pieces_named_are_printed_in_the_order_given(store, works, tmp_path):
    codes = [code_of(works.piece()) for _ in range(3)][::-1]
    answer = ask(store, tags=" ".join(f"{code[:4]} {code[4:]}" for code in codes))  # as it stands on the tag
    assert answer.headers["Content-Type"] == "application/pdf"
    assert addresses(answer, tmp_path) == [printed_on(codes)]


@pytest.mark.needs_poppler
def test_a_part_tag_says_what_it_is_and_which_way_round(store, works, tmp_path):
    piece = works.piece(place=works.place(name="axlebox", side="LH", axle="leading", end="front"))
    text = text_of(ask(store, tags=code_of(piece), sheet="a4-2x7").content, tmp_path)
    assert "LH LEADING ▲ FRONT" in " ".join(text.split())
    assert "axlebox" in text


@pytest.mark.needs_poppler
def test_what_lies_in_a_crate_and_what_belongs_to_a_subassembly(store, works, tmp_path):
    here = works.piece(place=works.place(name="anvil"))
    elsewhere = works.piece(location=works.firm())
    assert addresses(ask(store, lying_in=works.crate.name), tmp_path) == [printed_on([code_of(here)])]
    both = ask(store, subassembly=str(works.frames.pk), tags=code_of(elsewhere))
    assert addresses(both, tmp_path) == [printed_on([code_of(elsewhere), code_of(here)])]


@pytest.mark.needs_poppler
def test_a_crate_label_lists_what_is_in_it_and_the_crate_is_given_a_tag(store, works, people, tmp_path):
    rack = add_location(people.storekeeper, "Rack B", "rack")
    crates = [add_location(people.storekeeper, f"Crate {n}", "crate", rack) for n in (14, 2)]
    piece = works.piece(place=works.place(name="brake hanger", side="LH"), location=crates[0])
    answer = ask(store, "crates", crates="rack b", inside="on", sheet="a4-2x3")
    codes = [code_of(place) for place in (rack, crates[1], crates[0])]  # crate 2 before crate 14
    assert addresses(answer, tmp_path) == [printed_on(codes)]
    text = text_of(answer.content, tmp_path)
    assert f"{grouped(code_of(piece))} brake hanger LH" in text
    assert events_of(rack).filter(action="tie tag").count() == 1


@pytest.mark.needs_poppler
def test_unused_tags_start_at_the_cell_asked_for(store, tmp_path):
    answer = ask(store, "unused", count=5, start=22)
    assert [len(page) for page in addresses(answer, tmp_path)] == [3, 2]
    tags = Tag.objects.filter(component=None, location=None)
    assert sorted(sum(addresses(answer, tmp_path), [])) == sorted(printed_on(tag.code for tag in tags))


def test_what_was_printed_can_be_printed_again(store, works):
    code = code_of(works.piece())
    ask(store, tags=code)
    event = Event.objects.get(action="print labels")
    assert f"?what=pieces&amp;again={event.pk}" in store.get(LABELS).content.decode()
    assert code in store.get(f"{LABELS}?what=pieces&again={event.pk}").content.decode()


def test_bags_crates_and_shelves_are_printed_again_as_what_they_were(store, works):
    code = code_of(works.piece())
    ask(store, "bags", tags=code, sheet="a4-2x7", start=3)
    ask(store, "crates", crates=works.crate.name, whole="on", sheet="own", layout="a4:cols=2,rows=2,start=2")
    ask(store, "shelves", crates=works.crate.name, sheet="a4-1x4")
    page = store.get(LABELS).content.decode()
    shelf, crate, bag = Event.objects.filter(action="print labels").order_by("-id")
    assert [word in page for word in ("1 bag label", "1 crate label", "1 shelf label")] == [True] * 3
    for kind, event, begun in (
        ("bags", bag, [code, '<option value="a4-2x7" selected']),
        ("crates", crate, [code_of(works.crate), 'value="a4:cols=2,rows=2"', 'id="id_whole" checked>']),
        ("shelves", shelf, [code_of(works.crate), '<option value="a4-1x4" selected']),
    ):
        href = f"{LABELS}?what={kind}&again={event.pk}"
        assert href.replace("&", "&amp;") in page
        again = " ".join(store.get(href).content.decode().split())
        assert not [words for words in begun if words not in again]


@pytest.mark.needs_poppler
def test_a_bag_says_what_is_in_it_how_many_and_from_where(store, works, tmp_path):
    place = works.place(name="cover studs", side="RH", end="rear", quantity=24)
    text = text_of(
        ask(store, "bags", tags=code_of(works.piece(place=place, quantity=24)), sheet="a4-2x7").content, tmp_path
    )
    text = " ".join(text.split())
    assert "24 in the bag" in text
    assert "RH ▼ REAR" in text
    assert "From: cover studs, RH, rear" in text
    assert works.frames.name in text


@pytest.mark.needs_poppler
def test_a_piece_without_a_place_shows_its_own_side(store, works, tmp_path):
    piece = strip_new(works.people.volunteer, locomotive=None, name="odd bracket", location=works.crate, side="LH")
    text = text_of(ask(store, tags=code_of(piece), sheet="a4-2x7").content, tmp_path)
    assert "LH" in text.split()


@pytest.mark.needs_poppler
def test_a_pattern_has_a_tag_with_its_name_and_is_listed_on_its_crate(store, works, people, tmp_path):
    pattern = add_pattern(people.engineer, name="chimney", drawing="GW-77", location=works.crate)
    text = text_of(ask(store, tags=code_of(pattern), sheet="a4-2x7").content, tmp_path)
    assert [word in text for word in ("chimney pattern", "GW-77")] == [True, True]
    piece = works.piece()
    assert Tag.objects.codes_in(works.crate) == [code_of(piece), code_of(pattern)]
    assert "chimney pattern" in text_of(ask(store, "crates", crates=works.crate.name, sheet="a4-2x3").content, tmp_path)


def picture_of(answer) -> str:
    return unescape(re.search(r'class="sheet-picture" src="([^"]+)"', answer.content.decode())[1])


@pytest.mark.parametrize(
    ("what", "entered", "count"),
    [("pieces", {"start": 5}, 1), ("crates", {"crates": "Crate 12"}, 1), ("unused", {"count": 30}, 24)],
)
def test_show_me_shows_the_first_sheet_and_neither_issues_nor_remembers(store, works, what, entered, count):
    piece, rack = works.piece(), works.crate
    if what == "pieces":
        entered = entered | {"tags": code_of(piece)}
    if what == "crates":
        entered = {"crates": rack.name}
    before = Tag.objects.count()
    seen = ask(store, what, show="1", **entered)
    assert seen.status_code == 200
    shown = store.get(picture_of(seen))
    assert shown.headers["Content-Type"] == "image/png"
    found = zxingcpp.read_barcodes(Image.open(BytesIO(shown.content)), zxingcpp.BarcodeFormat.QRCodeModel2)
    assert len(found) == count
    assert Tag.objects.count() == before
    assert not Event.objects.filter(action="print labels").exists()


def test_a_change_on_the_form_brings_the_picture_alone_or_what_is_wrong(store, works):
    code = code_of(works.piece())
    part = store.post(LABELS, {"sheet": "a4-3x8", "tags": code, "show": "1"}, headers={"HX-Request": "true"})
    assert part.content.decode().lstrip().startswith('<section class="stack" id="preview"')
    wrong = {"sheet": "a4-3x8", "tags": code, "start": "99", "show": "1"}
    told = store.post(LABELS, wrong, headers={"HX-Request": "true"})
    assert (told.status_code, "From 1 to 24 on this sheet, not 99" in told.content.decode()) == (200, True)


@for_each("asked", ["", "?sheet=x&unused=3", "?sheet=a4-3x8&places=9,²&what=crates", "?sheet=a4-3x8&tags=%00"])
def test_a_picture_of_nonsense_is_refused_in_words(store, asked):
    answer = store.get(f"{LABELS}picture.png{asked}")
    assert answer.status_code == 422
    assert answer.content.decode().endswith(".\n")


def test_letters_that_the_fonts_lack_are_told_before_and_after_printing(store, works):
    code = code_of(works.piece(place=works.place(name="滑 bracket")))
    told = "The letters of the labels lack 滑: the sign � is printed there."
    assert told in ask(store, tags=code, show="1").content.decode()
    ask(store, tags=code)
    assert told in store.get(LABELS).content.decode()


def test_labels_that_lead_to_another_address_are_told(store, works, settings):
    ask(store, tags=code_of(works.piece()))
    assert "lead to another address" not in store.get(LABELS).content.decode()
    settings.ADDRESS = "http://new.local"
    page = store.get(LABELS).content.decode()
    assert "Labels that lead to another address" in page
    assert f'<span class="mono">{ADDRESS}</span>: 1 printed on' in page


def test_the_piece_says_how_often_its_tag_was_printed(store, works):
    code = code_of(works.piece())
    page = store.get(f"/t/{code}").content.decode()
    assert "Tag printed" not in page
    assert f'<a href="/labels/?what=pieces&amp;tags={code}">Print it</a>' in page
    ask(store, tags=code)
    assert "Tag printed</dt><dd>on " in store.get(f"/t/{code}").content.decode()
    ask(store, "bags", tags=code)
    assert "Tag printed</dt><dd>2 times, last on " in store.get(f"/t/{code}").content.decode()


def test_the_form_begins_with_what_led_to_it(store, works, people):
    inside = add_location(people.storekeeper, "Tray", "other", works.crate)
    assert inside.path in store.get(f"{LABELS}?what=crates&location={inside.pk}").content.decode()
    assert f'value="{inside.path}"' in store.get(f"{LABELS}?location={inside.pk}").content.decode()
    works.place()
    chosen = store.get(f"{LABELS}?subassembly={works.frames.pk}").content.decode()
    assert f'<option value="{works.frames.pk}" selected>' in chosen


@for_each("nonsense", ["what=x", "location=²", "location=-1", "subassembly=99999999", "again=1e3", "tags=%00"])
def test_an_address_with_nonsense_in_it_still_opens(store, nonsense):
    assert store.get(f"{LABELS}?{nonsense}").status_code == 200


@for_each(
    ("what", "entered", "told"),
    [
        ("pieces", {}, "Nothing was chosen: give tags, a crate or a subassembly."),
        ("pieces", {"tags": "7K3M 9QZ2"}, "These tags: “7K3M 9QZ2” is not a tag code: one character is misread"),
        ("pieces", {"tags": "00000000"}, "0000 0000: no such tag was ever issued here."),
        ("pieces", {"lying_in": "Crate 99"}, "What lies in: No place is called “Crate 99”."),
        ("pieces", {"subassembly": "999999"}, "The pieces of: Choose a subassembly from the list"),
        ("pieces", {"tags": "x " * 2001}, "2001 labels are not printed at once: ask for 1 to 2000."),
        ("crates", {}, "Crates, shelves or racks: Name at least one."),
        ("crates", {"crates": "Crate 99"}, "No place is called “Crate 99”"),
        ("unused", {"count": "0"}, "How many: Ask for at least one."),
        ("unused", {"count": "many"}, "How many: Write a whole number, such as 24."),
        ("unused", {"count": "9999"}, "How many: 2000 at once is the most."),
        (
            "unused",
            {"count": "3", "sheet": "own"},
            "Another layout: Write the layout, or choose a sheet from the list.",
        ),
        ("unused", {"count": "3", "sheet": "own", "layout": "a9-2x2"}, "Another layout: There is no paper “a9”"),
        ("unused", {"count": "3", "start": "25"}, "First label to print on: From 1 to 24 on this sheet, not 25."),
        ("unused", {"count": "3", "sheet": "poster"}, "Printed on:"),
    ],
)
def test_what_cannot_be_printed_is_told_beside_its_field_and_nothing_is_issued(store, what, entered, told):
    answer = ask(store, what, **entered)
    assert answer.status_code == 422
    assert told in answer.content.decode().replace("&quot;", '"')
    assert not Tag.objects.exists()
    assert not Event.objects.filter(action="print labels").exists()


def test_a_name_that_several_places_bear_is_asked_about(store, works, people):
    shelf = add_location(people.storekeeper, "Shelf", "shelf")
    for parent in (shelf, works.crate):
        add_location(people.storekeeper, "Tray", "other", parent)
    answer = ask(store, "crates", crates="tray")
    assert f"“tray” could be {works.crate.path} / Tray; Shelf / Tray: write more of it." in answer.content.decode()


def test_without_an_address_nothing_is_printed_and_the_page_says_what_to_set(store, works, settings):
    settings.ADDRESS = ""
    assert "set COTTER_ADDRESS" in store.get(LABELS).content.decode()
    assert ask(store, "unused", count=3).status_code == 422
    assert not Tag.objects.exists()


@for_each("bad", ["cotter.local:8000", "ftp://cotter", "http://", "http://a:b", "http://x/y", "http://x?y"])
def test_an_address_that_no_phone_could_open_is_refused(store, settings, bad):
    settings.ADDRESS = bad
    assert "is no address to print" in store.get(LABELS).content.decode()


@pytest.mark.parametrize(
    ("base", "sentence"), [("http://localhost:8000", "no phone can open"), ("http://10.0.0.5", "bare number")]
)
def test_an_address_that_will_not_last_is_warned_about(store, settings, base, sentence):
    settings.ADDRESS = base
    assert sentence in store.get(LABELS).content.decode()


def test_only_those_who_keep_the_stores_print(client, people):
    for person in (people.volunteer, people.fitter, people.trustee):
        client.force_login(person)
        assert client.get(LABELS).status_code == 403
        assert client.get(f"{LABELS}picture.png?unused=1&sheet=a4-3x8").status_code == 403
        assert ask(client, "unused", count=3).status_code == 403
    assert not Tag.objects.exists()


def test_a_stranger_is_sent_to_sign_in(client, db):
    assert client.get(LABELS).url == f"/sign-in/?next={LABELS}"


def test_other_methods_are_refused(store):
    assert store.put(LABELS).status_code == 405


def test_queries_do_not_grow_with_the_labels(store, works, people, django_assert_num_queries):
    crates = [add_location(people.storekeeper, f"Shelf {n}", "shelf") for n in range(5)]
    codes = [code_of(works.piece(location=crate)) for crate in crates]
    codes += [issue(crate, people.storekeeper).code for crate in crates]
    store.get(LABELS)  # the session's week begins
    with django_assert_num_queries(7):
        store.get(LABELS)
    with django_assert_num_queries(16):
        ask(store, tags=" ".join(codes))
