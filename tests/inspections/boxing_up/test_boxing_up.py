"""Putting a subassembly together, boxing it up under two names, and what makes that void. An invented works."""

import re
from urllib.parse import urlencode

import pytest
from django.db import DatabaseError, connection, transaction
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from core.log.chain import sealed
from inspections.boxing_up import writers
from inspections.boxing_up.signed import BOXED_UP
from inspections.models import BoxedPiece, BoxingUp
from parts.domain.plain import capital
from parts.domain.words import State
from parts.holds.writers import add_hold
from parts.kits import writers as kits
from parts.photos.writers import add as add_photos
from parts.structure.writers.structure import add_subassembly, set_order
from tests.factories import fresh
from tests.parts.actions.standard import refused
from tests.pictures import a_photo
from tests.printed import text_of
from tests.tables import for_each

SEEN = {"tools_in": 7, "tools_out": 7, "rags_in": 3, "rags_out": 3, "seen": "Clean and oiled, every split pin opened."}


@pytest.fixture
def piece(works):
    piece = works.piece(State.ACCEPTED)
    works.refit(piece, locked="split pin", tightened="120 lbf ft")
    return piece


def photograph(works):
    add_photos([a_photo()], works.frames, works.people.fitter, caption="the inside")


def boxed(works, actor=None, **more) -> BoxingUp:
    entered = SEEN | {"checker": works.people.second_fitter.pk} | more
    return writers.box_up(works.frames, actor or works.people.fitter, **entered)


def together(works) -> str:
    return reverse("put_together", args=[works.locomotive.slug, works.frames.code])


def page_of(client, works, address=None, who="volunteer") -> str:
    client.force_login(getattr(works.people, who))
    return client.get(address or together(works)).content.decode()


def test_two_names_close_it_and_the_record_says_how_each_piece_is_held(client, works, piece):
    photograph(works)
    record = boxed(works)
    (inside,) = record.pieces.all()
    assert (inside.component, inside.held) == (piece, "tightened: 120 lbf ft; locked: split pin")
    assert inside.who == "Fitter fitted it, Checker checked"
    assert (record.event.actor, record.event.checker) == (works.people.fitter, works.people.second_fitter)
    page = page_of(client, works, record.get_absolute_url())
    assert "every split pin opened" in page
    assert "7 in, 7 out" in page
    assert sealed(BOXED_UP, record).digest in page
    assert "checked by Checker" in page_of(client, works)


def test_it_is_closed_from_the_page_with_the_checkers_own_password(client, works, piece):
    photograph(works)
    works.people.second_fitter.set_password("axlebox")
    works.people.second_fitter.save()
    client.force_login(works.people.fitter)
    address = reverse("box_up", args=[works.locomotive.slug, works.frames.code])
    assert address in page_of(client, works, who="fitter")
    entered = SEEN | {"checker": works.people.second_fitter.pk}
    assert client.post(address, entered | {"checker_password": "guess"}).status_code == 422
    answer = client.post(address, entered | {"checker_password": "axlebox"})
    assert answer.headers["Location"] == BoxingUp.objects.get().get_absolute_url()


def test_what_is_not_refitted_is_named(client, works, piece):
    photograph(works)
    other = works.piece(State.ACCEPTED)
    with refused("refitted") as caught:
        boxed(works)
    assert "1 place is not refitted. Refit: horn guide" in str(caught.value)
    address = reverse("box_up", args=[works.locomotive.slug, works.frames.code])
    page = page_of(client, works, address, "fitter")
    assert "1 place is not refitted." in page
    refit = reverse("do", args=[other.tags.current_code(), "refit"])
    assert f"{refit}?{urlencode({'back': address})}" in page


def test_what_is_not_locked_keeps_it_open_until_somebody_says_how(client, works):
    photograph(works)
    piece = works.piece(State.ACCEPTED)
    works.refit(piece)
    with refused("locked"):
        boxed(works)
    assert reverse("do", args=[piece.tags.current_code(), "lock"]) in page_of(client, works, who="fitter")
    works.do("lock", piece, works.people.fitter, locked="does not apply")
    assert boxed(works).pieces.get().locked == "does not apply"


def test_a_missing_neighbour_keeps_a_piece_off_the_list_of_today_and_stops_nobody_who_refits_it(client, works):
    missing, other = (works.piece(State.ACCEPTED) for _ in range(2))
    kits.miss(kits.begin(works.frames, works.people.volunteer), missing, works.people.volunteer)
    address = reverse("tag", args=[other.tags.current_code()])
    next_jobs = page_of(client, works, reverse("next", args=[works.locomotive.slug]) + "?need=refit", "fitter")
    assert address not in next_jobs  # a subassembly is put together once all of it is there
    assert "<b>0</b> can go on today" in client.get(works.frames.get_absolute_url()).content.decode()
    assert "It is ready to be refitted." in client.get(address).content.decode()
    assert reverse("do", args=[other.tags.current_code(), "refit"]) in client.get(together(works)).content.decode()
    works.refit(other)


def test_where_a_hold_point_stops_refitting_no_screen_says_that_it_can_go_on(client, works):
    other = works.piece(State.ACCEPTED)
    overhaul, engineer = works.locomotive.open_overhaul(), works.people.engineer
    add_hold(overhaul, engineer, name="Survey", stops=["refit"], body="the owner", subassembly=works.frames)
    refit = reverse("do", args=[other.tags.current_code(), "refit"])
    assert refit not in page_of(client, works, who="fitter")
    assert "A hold point stops it." in client.get(together(works)).content.decode()
    assert "<b>0</b> can go on today" in client.get(works.frames.get_absolute_url()).content.decode()


def test_the_page_of_a_piece_that_is_not_locked_yet_says_so_and_offers_it(client, works):
    piece = works.piece(State.ACCEPTED)
    works.refit(piece)
    address = reverse("tag", args=[piece.tags.current_code()])
    lock = reverse("do", args=[piece.tags.current_code(), "lock"])
    for page in (address, reverse("why", args=[piece.tags.current_code()])):
        assert "It is refitted, and not locked yet." in page_of(client, works, page, "fitter")
    assert client.get(address).context["doing"].first.href == lock
    works.do("lock", fresh(piece), works.people.fitter, locked="split pin")
    page = client.get(address).content.decode()
    assert "It is refitted, and there are no problems with it." in page
    assert "Change how it is locked" in page


def test_whoever_works_through_the_steps_comes_back_to_them(client, works):
    piece = works.piece(State.ACCEPTED)
    client.force_login(works.people.fitter)
    first, second = (works.piece(State.ACCEPTED).place for _ in range(2))
    refit = reverse("do", args=[piece.tags.current_code(), "refit"])
    back = f"{together(works)}?after={piece.place_id}#go-on"
    assert f"{refit}?{urlencode({'back': back})}" in client.get(together(works)).content.decode()
    answer = client.post(f"{refit}?{urlencode({'back': back})}", follow=True)
    assert answer.redirect_chain[-1][0] == back
    page = answer.content.decode()
    assert f"Refitted: {piece.place.words}." in page
    assert open_step(page).startswith(f"1. {capital(piece.place.words)}")  # it is not locked yet
    works.do("lock", piece, works.people.fitter, locked="split pin")
    assert open_step(client.get(back).content.decode()).startswith(f"2. {capital(first.words)}")
    after_first = f"{together(works)}?after={first.pk}"
    works.do("refit", first.pieces.get(), works.people.fitter, locked="split pin")
    assert open_step(client.get(after_first).content.decode()).startswith(f"3. {capital(second.words)}")
    assert "1 to 2: on and locked" in client.get(after_first).content.decode()


def test_a_way_back_to_another_site_is_not_taken(client, works):
    piece = works.piece(State.ACCEPTED)
    client.force_login(works.people.fitter)
    code = piece.tags.current_code()
    answer = client.post(f"{reverse('do', args=[code, 'refit'])}?back=https://elsewhere.example/")
    assert answer.headers["Location"] == reverse("tag", args=[code])


def open_step(page: str) -> str:
    """What the one step says that is not folded."""
    (found,) = re.findall(r'id="go-on">\s*<details class="fold fold-phone" open>(.*?)</details>', page, re.DOTALL)
    return " ".join(re.sub("<[^>]+>", " ", found).split())


def test_what_was_left_alone_was_never_undone(works):
    photograph(works)
    works.do("leave alone", works.piece(State.IN_PLACE), works.people.engineer, reason="sound, and hard to reach")
    assert boxed(works).pieces.get().held == "left alone in its place"


def test_what_is_on_trial_keeps_it_open(works, piece):
    photograph(works)
    works.do("offer up", works.piece(State.ACCEPTED), works.people.fitter)
    with refused("on-trial", "refitted"):
        boxed(works)


@for_each(("entered", "code"), [
    ({"tools_out": 6}, "tools_out"),
    ({"rags_out": 4}, "rags_out"),
    ({"checker": None}, "checker"),
    ({"seen": " "}, "seen"),
])  # fmt: skip
def test_a_tool_a_rag_a_name_or_a_word_that_is_missing_keeps_it_open(works, piece, entered, code):
    photograph(works)
    with refused(code):
        boxed(works, **entered)


def test_nobody_checks_the_own_work(works, piece):
    photograph(works)
    with refused("checker"):
        boxed(works, checker=works.people.fitter.pk)


def test_a_photo_shows_the_inside(works, piece):
    with refused("photos"):
        boxed(works)


def test_twice_is_refused_while_it_stands(works, piece):
    photograph(works)
    boxed(works)
    with refused("stands"):
        boxed(works)


@pytest.mark.parametrize("word", ["take off", "strip"])
def test_taking_a_piece_off_makes_it_void_and_it_is_boxed_up_anew(client, works, piece, word):
    photograph(works)
    record = boxed(works)
    assert writers.undone(record) is None
    entered = {"reason": "the oil hole is blocked"} if word == "take off" else {}
    works.do(word, piece, works.people.fitter, **entered)
    assert writers.undone(record).piece == piece
    past = "taken off again" if word == "take off" else "stripped"
    assert f"{piece.name}, {past}" in page_of(client, works)
    assert "Void since" in page_of(client, works, record.get_absolute_url())
    with refused("refitted", "photos"):
        boxed(works)


def test_only_the_bench_boxes_up_and_a_stranger_signs_in(client, works, piece):
    address = reverse("box_up", args=[works.locomotive.slug, works.frames.code])
    assert client.get(together(works)).status_code == 302
    client.force_login(works.people.volunteer)
    assert client.get(address).status_code == 403
    photograph(works)
    with refused("role"):
        boxed(works, works.people.volunteer)
    assert client.post(together(works)).status_code == 405
    assert client.get(reverse("boxing_up", args=[9])).status_code == 404


@pytest.mark.parametrize("change", [
    lambda: BoxingUp.objects.update(seen="more"),
    lambda: BoxedPiece.objects.update(locked="wire"),
    lambda: BoxingUp.photos.through.objects.all().delete(),
])  # fmt: skip
def test_the_database_keeps_the_record(works, piece, change):
    photograph(works)
    boxed(works)
    with pytest.raises(DatabaseError), transaction.atomic():
        change()


@pytest.mark.needs_poppler
def test_the_print_says_who_what_and_whether_it_is_void(client, works, piece, tmp_path):
    photograph(works)
    record = boxed(works)
    works.do("take off", piece, works.people.fitter, reason="the oil hole is blocked")
    client.force_login(works.people.trustee)
    text = text_of(client.get(reverse("boxing_up_pdf", args=[record.pk])).content, tmp_path)
    said = (
        "Boxed up by Fitter",
        "Checked by Checker",
        "split pin",
        "Fitter fitted it",
        "Void since",
        "not a certificate",
    )
    for words in said:
        assert words in text


def test_a_step_shows_how_it_was_found_and_what_must_be_on_before(client, works):
    wheels = add_subassembly(works.locomotive, "Wheelsets", works.people.manager)
    works.plain_place(name="wheelset", subassembly=wheels)
    place = works.plain_place(name="horn stay")
    set_order(place, [wheels], works.people.manager)
    works.piece(State.ACCEPTED, place=place, way_round="flat face outward", packing="two shims of 1 mm")
    early = works.piece(State.ACCEPTED)
    page = page_of(client, works, who="fitter")
    assert "flat face outward" in page
    assert "two shims of 1 mm" in page
    assert "First: Wheelsets: 1 place is not refitted." in page
    assert page.index(early.place.words.capitalize()) < page.index("Horn stay")
    assert page.count(">Refit<span") == 1  # the horn stay waits


def test_queries_do_not_grow_with_the_places(client, works, piece):
    client.force_login(works.people.fitter)
    few = queries_of(client, works)
    for _ in range(2):
        works.refit(works.piece(State.ACCEPTED), locked="split pin")
    assert queries_of(client, works) == few


def queries_of(client, works) -> int:
    client.get(together(works))
    with CaptureQueriesContext(connection) as asked:
        client.get(together(works))
    return len(asked)
