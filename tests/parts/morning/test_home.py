"""The first page: whose work stands on it, in the one order, and in how many queries."""

import pytest

from core.roles import Role
from parts.domain.words import Need, State
from parts.holds.writers import stop
from parts.models import Location
from tests.factories import a_person, a_works, add_location
from tests.parts.a_half_done_works import counted, half_done
from tests.tables import for_each

pytestmark = pytest.mark.django_db
WHO = ("volunteer", "storekeeper", "fitter", "examiner", "engineer", "manager", "trustee")
MOST_QUERIES = dict.fromkeys(WHO, 40) | {"manager": 60}
THEIRS = {
    "volunteer": {"clean", "strip"},
    "fitter": {"refit", "repair", "strip"},
    "examiner": {"crack-check", "examine", "measure", "recheck"},
    "storekeeper": {"find", "fetch"},
    "engineer": {"release", "decide", "sign", "fit"},
}


@pytest.fixture(scope="module")
def works(module_db):
    return a_works()


@pytest.fixture(scope="module")
def subs(works):
    return half_done(works)


def home(client, works, who):
    client.force_login(getattr(works.people, who))
    return client.get("/")


def needs_of(answer) -> set[str]:
    return {str(job.need) for job in answer.context["todo"].rows}


@pytest.mark.parametrize("who", WHO)
def test_everybody_has_a_first_page_of_their_own_work_that_asks_little_and_has_at_most_100_kb(client, works, subs, who):
    answer = home(client, works, who)
    assert answer.status_code == 200
    assert len(answer.content) < 100 * 1024
    if theirs := THEIRS.get(who):
        assert needs_of(answer) <= theirs
    assert counted(client, "/") <= MOST_QUERIES[who]
    assert client.post("/").status_code == 405


def test_a_stranger_signs_in_first(client, works):
    assert client.get("/").url == "/sign-in/?next=/"
    assert client.post("/show/", {"show": "all"}).url.startswith("/sign-in/")


def test_pieces_to_clean_are_told_by_the_crate_and_open_as_a_list_to_tick(client, works, subs):
    job = next(job for job in home(client, works, "volunteer").context["todo"].rows if job.need == Need.CLEAN)
    assert job.grouped
    ticks = client.get(job.href).content.decode()
    assert ticks.count('type="checkbox"') >= job.many


def test_what_lies_in_a_crate_is_counted_with_what_lies_beside_it_as_in_the_list(client, works):
    rack = add_location(works.people.storekeeper, "Rack X")
    crate = add_location(works.people.storekeeper, "Crate X", parent=rack)
    for place in (rack, crate, crate):
        works.piece(State.STRIPPED, place=works.plain_place(), location=place)
    (job,) = [job for job in home(client, works, "volunteer").context["todo"].rows if "Rack" in job.href]
    assert (job.words, job.many) == ("Rack X", 3)
    assert client.get(job.href).content.decode().count('name="piece-') == 3


def test_the_rows_stand_in_the_one_order(client, works, subs):
    client.force_login(works.people.engineer)
    client.post("/show/", {"show": "all"})
    turns = [job.turn for job in client.get("/").context["todo"].rows]
    assert turns == sorted(turns)
    in_next = [job.turn for job in client.get(f"/l/{works.locomotive.slug}/next/").context["rows"]]
    assert in_next == sorted(in_next)


def test_a_row_names_who_acts_and_the_reader_is_you(client, works, subs):
    rows = home(client, works, "volunteer").context["todo"].rows
    assert all(job.who.startswith("you") for job in rows if job.need == Need.CLEAN)
    client.post("/show/", {"show": "all"})
    assert all(job.who for job in client.get("/").context["todo"].rows)


def test_all_is_remembered_across_sign_outs_until_mine_is_asked_for(client, works, subs):
    mine = needs_of(home(client, works, "volunteer"))
    assert client.post("/show/", {"show": "all", "next": "/next/"}).url == "/next/"
    client.post("/sign-out/")
    assert needs_of(home(client, works, "volunteer")) > mine
    client.post("/show/", {"show": "mine"})
    assert needs_of(client.get("/")) == mine


@for_each("entered", [{"show": "junk"}, {}, {"show": "all", "next": "https://elsewhere.example/"}])
def test_junk_chooses_nothing_and_leads_nowhere_else(client, works, entered):
    client.force_login(works.people.volunteer)
    assert client.post("/show/", entered).url == "/"
    assert client.get("/show/").status_code == 405


def test_somebody_with_two_roles_has_one_list(client, works, subs):
    person = a_person(Role.VOLUNTEER, Role.EXAMINER, authorised=[("visual", ""), ("dimensional", "")])
    client.force_login(person)
    rows = client.get("/").context["todo"].rows
    assert {"clean", "strip"} <= {str(job.need) for job in rows} <= {"clean", "strip", "examine", "measure", "recheck"}
    assert [job.turn for job in rows] == sorted(job.turn for job in rows)


def test_the_works_manager_has_three_columns_with_names(client, works, subs):
    answer = home(client, works, "manager")
    text = answer.content.decode()
    assert [column.heading for column in answer.context["todo"].columns] == ["Decide and sign", "Can go on today"]
    assert text.index("Chase") < text.index("Decide and sign") < text.index("Can go on today")
    assert all(job.who for column in answer.context["todo"].columns for job in column.rows)


def test_a_trustee_sees_how_far_it_is_the_money_and_what_is_original(client, works, subs):
    text = home(client, works, "trustee").content.decode()
    assert "refitted" in text
    assert "How much is original" in text
    assert "Your work" not in text


def test_a_works_manager_keeps_the_columns_when_everybodys_work_is_shown(client, works, subs):
    mine = home(client, works, "manager").context["todo"].columns
    client.post("/show/", {"show": "all"})
    page = client.get("/")
    assert "Everybody's work" in page.content.decode()
    assert [column.heading for column in page.context["todo"].columns] == [column.heading for column in mine] != []
    assert page.context["chase"] is not None


def test_stopped_work_stands_first(client, works, subs):
    piece = works.piece(State.STRIPPED, location=Location.objects.first())
    stop(piece, works.people.volunteer, why="suspected asbestos")
    text = home(client, works, "volunteer").content.decode()
    assert text.index("suspected asbestos") < text.index("Your work")
    client.post("/show/", {"show": "all"})
    first = client.get("/").context["todo"].rows[0]
    assert (first.need, first.turn[0]) == (Need.RELEASE, False)


@pytest.mark.parametrize("who", WHO[:-1])
def test_how_many_there_are_in_all_is_how_many_the_list_has(client, works, subs, who):
    client.force_login(getattr(works.people, who))
    for shown in ("mine", "all")[: 2 if who in ("volunteer", "manager") else 1]:  # all is the same for the others
        client.post("/show/", {"show": shown})
        todo = client.get("/").context["todo"]
        listed = client.get(f"/l/{works.locomotive.slug}/next/")
        assert todo.many in (0, listed.context["page_obj"].paginator.count)
        assert shown == "mine" or todo.many


def test_the_filter_of_ones_own_work_offers_no_work_of_others_and_what_holds_up_most_leads_to_all(client, works, subs):
    works.piece(State.STRIPPED, place=works.plain_place())
    client.force_login(works.people.volunteer)
    client.post("/show/", {"show": "mine"})
    address = f"/l/{works.locomotive.slug}/"
    page = client.get(address)
    assert f'{address}next/?for=anybody">All {page.context["blockers"]}</a>' in page.content.decode()
    whole = client.get(f"{address}next/?for=anybody").context
    mine = client.get(f"{address}next/").context
    assert whole["page_obj"].paginator.count == page.context["blockers"] > mine["page_obj"].paginator.count
    assert {need for need, _ in mine["needs"]} <= {"clean", "strip"} < {need for need, _ in whole["needs"]}
