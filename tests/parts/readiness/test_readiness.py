"""The readiness pages: who may see them, what they say, and in how many queries."""

import pytest

from parts.domain.plain import capital
from parts.domain.words import Need, State
from parts.entering.writers.pieces import strip_new
from parts.models import GoesOnAfter, Position, Subassembly
from parts.readiness.views.locomotive import A_PAGE
from parts.readiness.worklist import PAGE
from parts.structure.writers.locomotives import new_locomotive
from tests.factories import a_works
from tests.parts.a_half_done_works import counted, half_done
from tests.tables import for_each

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def works(module_db):
    return a_works()


@pytest.fixture
def people(works):
    return works.people


@pytest.fixture(scope="module")
def subs(works):
    return half_done(works)


@pytest.fixture
def reader(client, works):
    """A trustee may read everything and do nothing."""
    client.force_login(works.people.trustee)
    return client


def pages(works, sub="frames") -> dict[str, str]:
    top = f"/l/{works.locomotive.slug}/"
    return {"home": "/", "top": top, "sub": f"{top}s/{sub}/", "next": f"{top}next/", "order": f"{top}order/"}


def text(answer) -> str:
    return answer.content.decode()


def in_a_loop(works, subs):
    """The writers refuse one, so it is written past them."""
    GoesOnAfter.objects.create(subassembly=subs["frames"], after=subs["motion"])


# --- who and how


@for_each("page", ["home", "top", "sub", "next", "order"])
def test_a_reader_sees_it_and_nobody_posts_to_it(reader, works, subs, page):
    address = pages(works)[page]
    assert reader.get(address).status_code == 200
    assert reader.post(address).status_code == 405


@pytest.mark.parametrize("page", ["home", "top", "sub", "next", "order"])
def test_a_stranger_is_asked_to_sign_in(client, works, page):
    address = pages(works)[page]
    answer = client.get(address)
    assert (answer.status_code, answer.url) == (302, f"/sign-in/?next={address}")


@for_each("address", ["/l/none/", "/l/none/next/", "/l/none/order/", "/l/none/s/frames/"])
def test_an_unknown_locomotive_is_not_found(reader, address):
    assert reader.get(address).status_code == 404


def test_a_subassembly_that_is_not_there_or_not_any_more_is_not_found(reader, works, subs):
    assert reader.get(pages(works, "no-such")["sub"]).status_code == 404
    Subassembly.objects.filter(pk=subs["lamps"].pk).update(retired=True)
    assert reader.get(pages(works, "lamps")["sub"]).status_code == 404


@pytest.mark.parametrize("page", ["top", "sub", "next", "order"])
def test_a_loop_in_the_order_is_named_and_no_page_breaks(reader, works, subs, page):
    in_a_loop(works, subs)
    answer = reader.get(pages(works)[page])
    assert answer.status_code == 200
    assert "Frames goes on after Motion" in text(answer)


@for_each("page", ["top", "sub", "next", "order"])
def test_an_empty_locomotive_has_every_page(reader, people, page):
    works = a_works(people=people)
    assert reader.get(pages(works)[page]).status_code == 200


def test_a_locomotive_without_any_subassembly_has_every_page(reader, works):
    new_locomotive(works.people.manager, name="Bare", slug="bare")
    for address in ("/", "/locomotives/", "/l/bare/", "/l/bare/next/", "/l/bare/order/"):
        assert reader.get(address).status_code == 200


# --- what they say


def test_the_locomotive_tells_every_subassembly_in_order_and_what_it_waits_for(reader, works, subs):
    answer = reader.get(pages(works)["top"])
    rows = answer.context["rows"]
    assert [(row.name, int(row.depth)) for row in rows] == [
        ("Frames", 0), ("Springs", 1), ("Wheels", 0), ("Motion", 0), ("Lamps", 0)
    ]  # fmt: skip
    assert rows[2].waits == "Frames"
    assert rows[4].word == "complete"


def test_a_loose_piece_is_listed_as_one_to_identify(reader, works, subs):
    strip_new(works.people.volunteer, locomotive=works.locomotive, name="odd bracket", location=works.crate)
    answer = reader.get(pages(works)["top"])
    assert [piece.name for piece in answer.context["loose"]] == ["odd bracket"]
    assert "Identify" in text(answer)


def test_the_subassembly_tells_each_need_in_the_order_of_the_table(reader, works, subs):
    sheet = reader.get(pages(works, "motion")["sub"]).context["sheet"]
    needs = [need for need, _ in sheet.groups]
    assert needs == sorted(needs, key=list(Need).index)
    assert needs == [Need.RECHECK, Need.STRIP, Need.CLEAN, Need.EXAMINE]
    assert [row.need for row in sheet.stops] == [Need.RELEASE, Need.AFTER]
    assert (len(sheet.going), len(sheet.waiting), len(sheet.refitted)) == (0, 2, 1)


def test_a_row_tells_the_tag_the_reason_and_what_it_holds_up(reader, works, subs):
    piece = works.taken_over(State.STRIPPED, works.plain_place(name="slide bar", subassembly=subs["motion"]))
    told = text(reader.get(pages(works, "motion")["sub"]))
    assert f"/t/{piece.tags.get(current=True).code}" in told
    assert "has not been cleaned" in told


def test_a_complete_subassembly_says_so_and_names_no_blocker(reader, works, subs):
    answer = reader.get(pages(works, "lamps")["sub"])
    assert answer.context["sheet"].groups == []
    assert "Complete" in text(answer)


def test_a_piece_put_right_leaves_the_list(reader, works, subs):
    place = works.plain_place(name="crosshead", subassembly=subs["motion"])
    piece = works.piece(State.STRIPPED, place=place)
    assert "Crosshead, " in text(reader.get(pages(works, "motion")["sub"]))
    before = reader.get(pages(works)["next"]).context["page_obj"].paginator.count
    works.bring_on(piece, State.ACCEPTED)
    assert reader.get(pages(works)["next"]).context["page_obj"].paginator.count == before - 1


def test_the_picture_has_a_box_for_every_whole_and_a_list_of_all(reader, works, subs):
    answer = reader.get(pages(works)["order"])
    assert {box.full_name for box in answer.context["picture"].boxes} == {"Frames", "Wheels", "Motion", "Lamps"}
    assert len(answer.context["rows"]) == 5


def test_subassemblies_go_on_in_pages(reader, works, subs):
    Subassembly.objects.bulk_create(
        Subassembly(locomotive=works.locomotive, code=f"group-{n}", name=f"Group {n}", sequence=900 + n)
        for n in range(60)
    )
    top = pages(works)["top"]
    first, second = reader.get(top).context["rows"], reader.get(top, {"page": 2}).context["rows"]
    assert (len(first), len(second)) == (A_PAGE, 65 - A_PAGE)
    assert not {row.code for row in first} & {row.code for row in second}
    assert "page=2#subassemblies" in text(reader.get(top))


def test_what_holds_up_most_is_named_as_on_the_next_page(reader, works, subs):
    top, following = reader.get(pages(works)["top"]).context["top"], reader.get(pages(works)["next"]).context["rows"]
    told = [(capital(row.words), row.need, row.holds_up, row.subassembly) for row in top]
    assert told == [(job.words, job.need, str(job.holds_up), job.group) for job in following[: len(top)]]
    assert len(told) == 3


# --- what to do next


def test_what_holds_up_most_comes_first(reader, works, subs):
    rows = reader.get(pages(works)["next"]).context["rows"]
    held = [int(row.holds_up) for row in rows]
    assert held == sorted(held, reverse=True)
    assert len(set(held)) > 1


def test_one_need_or_what_one_role_can_do_is_shown_alone(reader, works, subs):
    address = pages(works)["next"]
    assert {row.need for row in reader.get(address, {"need": "clean"}).context["rows"]} == {Need.CLEAN}
    for_engineer = reader.get(address, {"for": "responsible engineer", "need": "release"}).context["rows"]
    assert {row.need for row in for_engineer} == {Need.RELEASE}
    assert reader.get(address, {"for": "volunteer", "need": "release"}).context["rows"] == []


@for_each("asked", [{"need": "nonsense"}, {"for": "nobody"}, {"page": "x"}, {"page": "-3"}, {"page": "9999"}])
def test_a_mistyped_address_still_shows_the_list(reader, works, subs, asked):
    assert reader.get(pages(works)["next"], asked).context["rows"]


def test_a_page_of_what_to_do_next_holds_so_many(reader, works, subs):
    Position.objects.bulk_create(
        Position(locomotive=works.locomotive, subassembly=works.frames, name=f"bolt {n}") for n in range(60)
    )
    answer = reader.get(pages(works)["next"])
    assert len(answer.context["rows"]) == PAGE
    assert len(reader.get(pages(works)["next"], {"page": 2}).context["rows"]) > 20


def test_next_leads_to_the_locomotive_looked_at_last(reader, works, people):
    other = a_works(people=people)
    reader.get(f"/l/{other.locomotive.slug}/")
    assert reader.get("/next/").url == f"/l/{other.locomotive.slug}/next/"


# --- the order of assembly


def test_choosing_one_shows_what_comes_first_and_what_waits_for_it(reader, works, subs):
    whole = reader.get(pages(works)["order"]).context["picture"]
    assert {box.stands for box in whole.boxes} == {""}
    picture = reader.get(pages(works)["order"], {"show": "wheels"}).context["picture"]
    assert (picture.chosen, picture.before) == ("Wheels", ["Frames"])
    assert "Motion" in picture.held
    assert {box.code: box.stands for box in picture.boxes} == {
        "frames": "before", "wheels": "chosen", "motion": "after", "lamps": "beside"
    }  # fmt: skip
    assert [line.stands for line in picture.lines] == ["before", "after"]
    assert "springs" not in {box.code for box in picture.boxes}, "a part is drawn with its whole"


def test_the_order_says_what_one_holds_up_as_every_list_does(reader, works, subs):
    """Of a place that is required first, what to do next counts what its subassembly does."""
    listed = {
        job.group: job.holds_up for job in reader.get(pages(works)["next"]).context["rows"] if job.need == "strip"
    }
    answer = reader.get(pages(works)["order"], {"show": "wheels"})
    assert len(answer.context["picture"].held) == listed["Wheels"]
    assert f"Holds up {listed['Wheels']}: " in answer.content.decode()
    rows = {row.name: int(row.holds_up) for row in answer.context["rows"]}
    assert {name: rows[name] for name in listed if name != "Frames"} == {
        name: held for name, held in listed.items() if name != "Frames"
    }
    assert rows["Frames"] == 4, "with its parts: the springs hold themselves up too"


def test_one_that_is_not_there_is_not_chosen(reader, works, subs):
    assert reader.get(pages(works)["order"], {"show": "nonsense"}).context["picture"].chosen == ""


# --- home


def test_home_counts_as_the_locomotives_own_page_does(reader, works, subs):
    home = reader.get("/").context["locomotives"][0].progress
    assert home == reader.get(pages(works)["top"]).context["total"]


# --- queries


@for_each("page", ["home", "top", "sub", "next", "order"])
def test_it_asks_little(reader, works, subs, page):
    assert counted(reader, pages(works)[page]) <= {"home": 36, "top": 30, "sub": 30, "next": 30, "order": 22}[page]


def test_what_a_subassembly_goes_on_after_is_one_tap_away(reader, works, subs):
    for sub in reader.get(pages(works)["top"]).context["rows"]:
        page = reader.get(sub.href)
        for href, sentence in page.context["sheet"].after:
            assert f'<a class="link" href="{href}">{sentence}</a>' in text(page)
            assert reader.get(href).context["subassembly"].name in sentence
            return
    pytest.fail("none of them goes on after another")
