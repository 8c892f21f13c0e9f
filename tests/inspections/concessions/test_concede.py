"""A concession on a size: asked for from the piece, its record or the decision, and signed by the engineer."""

import pytest

from inspections.provider.lines import sizes
from inspections.sizes.size_years import years_of
from parts.domain.words import State
from tests.as_shown import text_of
from tests.factories import days


@pytest.fixture
def place(works):
    return works.place(name="piston rod", calls_for=["dimensional"])


@pytest.fixture
def size(works, place):
    return works.dimension(place, letter="A")


@pytest.fixture
def piece(works, place, size):
    return works.piece(State.CLEANED, place=place)


def worn(works, piece, size, figure="122.5"):
    return works.measure(piece, {size: figure}).measurements.get()


def at(measurement) -> str:
    return f"/measurements/{measurement.pk}/concede"


GOOD = {"reason": "runs light trains only", "look_again": days(300)}


def test_a_size_outside_its_shop_limit_is_let_back(client, works, piece, size):
    taken = worn(works, piece, size)
    client.force_login(works.people.engineer)
    assert "beyond the shop limit, within the scrapping limit" in text_of(client.get(at(taken)))
    response = client.post(at(taken), GOOD | {"seen": piece.last_event}, follow=True)
    assert "Conceded: A journal diameter may go back" in text_of(response)
    assert taken.concessions.get().reason == "runs light trains only"
    assert "Under a concession until" in text_of(response)


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"reason": " "}, "Reason: Nothing was written."),
        ({"look_again": ""}, "Look again on: No day to come."),
        ({"look_again": days(-1)}, "Look again on: No day to come."),
        ({"look_again": "soon"}, "Look again on: Write the day as the calendar offers it"),
    ],
)
def test_what_is_wrong_is_said_beside_its_field(client, works, piece, size, wrong, sentence):
    taken = worn(works, piece, size)
    client.force_login(works.people.engineer)
    response = client.post(at(taken), GOOD | wrong)
    assert response.status_code == 422
    assert sentence in text_of(response)
    assert not taken.concessions.exists()


def test_on_a_pressure_part_the_paper_is_asked_for(client, works):
    place = works.place(name="plate", pressure_part=True)
    size = works.dimension(place)
    piece = works.piece(State.CLEANED, place=place)
    taken = worn(works, piece, size)
    client.force_login(works.people.engineer)
    response = client.post(at(taken), GOOD)
    assert response.status_code == 422
    assert "paper" in response.context["form"].errors
    assert client.post(at(taken), GOOD | {"paper": "letter 14"}).status_code == 302


@pytest.mark.parametrize(("figure", "code"), [("119", "scrapping"), ("124.96", "within")])
def test_where_none_can_be_had_the_page_says_why(client, works, piece, size, figure, code):
    taken = worn(works, piece, size, figure)
    client.force_login(works.people.engineer)
    assert code in [refusal.code for refusal in client.get(at(taken)).context["against"]]
    assert client.post(at(taken), GOOD).status_code == 422


def test_who_may_not_and_late(client, works, piece, size):
    taken = worn(works, piece, size)
    assert client.get(at(taken)).url == f"/sign-in/?next={at(taken)}"
    client.force_login(works.people.examiner)
    assert client.get(at(taken)).status_code == 403
    client.force_login(works.people.engineer)
    assert client.post(at(taken), GOOD | {"seen": 1}).status_code == 409
    assert client.put(at(taken)).status_code == 405
    assert client.get("/measurements/999999/concede").status_code == 404


def test_the_decision_the_record_and_the_piece_lead_there(client, works, piece, size):
    taken = worn(works, piece, size)
    client.force_login(works.people.engineer)
    pages = (
        f"/examinations/{taken.examination_id}/decide",
        f"/examinations/{taken.examination_id}/",
        f"/t/{piece.tags.current_code()}",
    )
    for page in pages:
        assert f'href="{at(taken)}"' in text_of(client.get(page)), page


def test_beyond_the_scrapping_limit_nothing_leads_there(client, works, piece, size):
    taken = worn(works, piece, size, "119")
    client.force_login(works.people.engineer)
    assert "No concession can be had on it." in text_of(client.get(f"/examinations/{taken.examination_id}/decide"))
    for page in (f"/examinations/{taken.examination_id}/", f"/t/{piece.tags.current_code()}"):
        assert at(taken) not in text_of(client.get(page))


def test_an_examiner_sees_the_sizes_of_the_piece_and_the_way_to_measure(client, works, piece, size):
    client.force_login(works.people.examiner)
    page = text_of(client.get(f"/t/{piece.tags.current_code()}"))
    assert "not measured" in page
    assert f'href="/t/{piece.tags.current_code()}/measure"' in page
    worn(works, piece, size, "124.96")
    assert "as new" in text_of(client.get(f"/t/{piece.tags.current_code()}"))


def test_signing_a_dimensional_examination_leads_to_the_sheet(client, works, piece, size):
    client.force_login(works.people.examiner)
    code = piece.tags.current_code()
    assert client.get(f"/t/{code}/examine?kind=dimensional").url == f"/t/{code}/measure"
    offered = [word for word, _ in client.get(f"/t/{code}/examine").context["form"].fields["look"].choices]
    assert "dimensional" not in offered


def test_work_since_makes_a_size_due_anew(client, works, piece, size):
    worn(works, piece, size, "124.96")
    works.do("send back", piece, works.people.fitter, reason="to be ground", to=State.STRIPPED)
    client.force_login(works.people.trustee)
    assert "It no longer counts: measure it again." in text_of(client.get(f"/t/{piece.tags.current_code()}"))


def test_a_size_over_the_years_marks_the_piece_and_tells_the_rest_apart(client, works, place, piece, size):
    worn(works, piece, size, "124.96")
    first = piece.tags.current_code()
    works.withdraw(piece)
    other = works.piece(State.CLEANED, place=place)
    worn(works, other, size, "124.5")
    client.force_login(works.people.trustee)
    years = client.get(f"/sizes/{size.pk}/?piece={first}").context["years"]
    assert [(row.measurement.code, row.mine) for row in years.rows] == [
        (other.tags.current_code(), False),
        (first, True),
    ]
    assert client.get(f"/sizes/{size.pk}/?piece=nonsense").context["years"].code == other.tags.current_code()


def test_three_measurements_of_a_piece_show_how_fast_it_wears(client, works):
    """124.98, 124.97, 124.96 mm, a year of 365.25 days apart: 0.01 mm a year. Across it 0.02 mm more."""
    place = works.place(name="axle", end="rear")
    piece = works.piece(State.CLEANED, place=place)
    size = works.dimension(place, round_part=True, directions=["vertical", "horizontal"])
    for ago, figure in ((731, "124.98"), (366, "124.97"), (0, "124.96")):
        works.measure(piece, {size: [figure, "124.99"]}, on=days(-ago), remarks="from the old book")
    client.force_login(works.people.trustee)
    page = text_of(client.get(f"/sizes/{size.pk}/"))
    assert "it loses about 0.01 mm (about 0.0004 in) a year." in page
    assert "no promise of what comes" in page
    assert "Ovality 0.03 mm (about 0.0012 in)." in page


def test_queries_of_a_size_do_not_grow_with_the_years(client, works, piece, size, django_assert_num_queries):
    for count in (1, 3):
        for n in range(count):
            worn(works, piece, size, f"124.9{n}")
        with django_assert_num_queries(1):
            years_of(size, None)


def test_queries_of_the_piece_do_not_grow_with_its_sizes(works, django_assert_num_queries):
    for count in (2, 4):
        place = works.place(name="axle", end=f"{count}")
        asked = [works.dimension(place, f"size {n}") for n in range(count)]
        piece = works.piece(State.CLEANED, place=place)
        works.measure(piece, dict.fromkeys(asked, "124.96"))
        with django_assert_num_queries(2):
            assert len(sizes(piece)) == count
