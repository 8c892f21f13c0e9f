"""Concessions: the engineer lets a size or a fit outside its shop limit go back, with a day to look again."""

from fractions import Fraction

import pytest
from django.utils import timezone

from inspections.concessions.writers import concede, concede_fit
from inspections.findings.writers import decide
from inspections.models import Concession, FindingDecision
from inspections.records.writers.signing import sign
from parts.domain.words import State
from tests.factories import days, events_of, fresh
from tests.inspections.what_lasts import a_pair
from tests.parts.actions.standard import refused, standing
from tests.tables import for_each


@pytest.fixture
def place(works):
    return works.place(name="piston rod")


@pytest.fixture
def size(works, place):
    return works.dimension(place)


@pytest.fixture
def piece(works, place, size):
    piece = works.piece(State.CLEANED, place=place)
    works.look_at(piece)
    return fresh(piece)


@pytest.fixture
def worn(works, piece, size):
    """A journal beyond its shop limit, within its scrapping limit."""
    return works.measure(piece, {size: "122.5"}).measurements.get()


def conceded(works, measurement, actor=None, **entered) -> Concession:
    entered = {"reason": "light trains only", "look_again": days(400)} | entered
    return concede(measurement, actor or works.people.engineer, **entered)


# --- of a size


def test_it_says_who_let_it_go_back_why_and_until_when(works, worn, piece, place):
    made = conceded(works, worn, paper=" letter 7 ")
    assert (made.granted_by, made.reason, made.paper) == (works.people.engineer, "light trains only", "letter 7")
    assert (made.event.action, made.event.actor) == ("concede", works.people.engineer)
    assert made.event in events_of(piece)
    assert made.event.data == {"about": worn.sentence, "look_again": days(400).isoformat(), "paper": "letter 7"}
    assert fresh(piece).last_event == made.event.pk
    assert standing(place) == ("blocked", "sign")


def test_it_decides_what_the_record_found(works, worn):
    conceded(works, worn)
    decided = FindingDecision.objects.get(examination=worn.examination)
    assert (decided.decision, decided.reason) == ("accept as it is", "Under concession: light trains only")


def test_with_one_size_conceded_and_another_not_nothing_is_decided_yet(works, place, piece):
    sizes = [works.dimension(place, name=name) for name in ("wheel seat", "collar")]
    worn = dict.fromkeys(sizes, "122.5") | {place.dimensions.order_by("id").first(): "124.96"}
    first, second = works.measure(piece, worn).measurements.filter(outside=True).order_by("id")
    conceded(works, first)
    assert not FindingDecision.objects.exists()
    assert standing(place) == ("blocked", "decide")
    conceded(works, second)
    assert FindingDecision.objects.count() == 1
    assert standing(place) == ("blocked", "sign")


def test_what_the_examiner_wrote_besides_the_sizes_is_decided_by_itself(works, piece, size):
    worn = works.measure(piece, {size: "122.5"}, found="worn, and a groove at the fillet").measurements.get()
    conceded(works, worn)
    assert not FindingDecision.objects.exists()
    assert standing(piece.place) == ("blocked", "decide")


@pytest.mark.parametrize("name", ["axle", "crank pin", "tyre", "wheelset"])
def test_axles_crank_pins_and_tyres_are_never_conceded(works, name):
    place = works.place(name=name)
    piece = works.piece(State.CLEANED, place=place)
    worn = works.measure(piece, {works.dimension(place): "122.5"}).measurements.get()
    with refused("never"):
        conceded(works, worn)


def test_the_piece_is_accepted_under_it(works, worn, piece):
    conceded(works, worn)
    works.accept(piece)
    assert piece.state == State.ACCEPTED


def test_without_one_it_is_not(works, worn, piece):
    with refused("limit", "undecided"):
        works.accept(piece)


@for_each("person", ["volunteer", "storekeeper", "fitter", "examiner", "manager", "trustee"])
def test_others_concede_nothing(works, worn, person):
    with refused("role"):
        conceded(works, worn, getattr(works.people, person))


def test_the_second_of_two_is_told(works, worn, piece):
    seen = fresh(piece).last_event
    conceded(works, worn, seen=seen)
    with refused("stale"):
        conceded(works, worn, seen=seen)


@for_each(
    ("entered", "code"),
    [
        ({"reason": " "}, "reason"),
        ({"look_again": None}, "look-again"),
        ({"look_again": timezone.localdate()}, "look-again"),
        ({"look_again": days(-1)}, "look-again"),
    ],
)
def test_half_a_concession_is_refused(works, worn, entered, code):
    with refused(code):
        conceded(works, worn, **entered)


def test_on_a_pressure_part_it_needs_the_inspecting_bodys_paper(works):
    place = works.plain_place(name="regulator", pressure_part=True)
    size = works.dimension(place)
    piece = works.piece(State.CLEANED, place=place)
    worn = works.measure(piece, {size: "122.5"}).measurements.get()
    with refused("paper"):
        conceded(works, worn, paper=" ")
    assert conceded(works, worn, paper="letter 7")


def test_whoever_worked_on_it_concedes_nothing(works, worn, piece):
    works.clean(works.piece(), works.people.engineer)  # another piece is no matter
    conceded(works, worn)
    other = works.piece(State.STRIPPED, place=works.plain_place())
    size = works.dimension(other.place)
    works.clean(other, works.people.engineer)
    outside = works.measure(other, {size: "122.5"}).measurements.get()
    with refused("own-work"):
        conceded(works, outside)
    assert conceded(works, outside, works.people.second_engineer)


def test_a_size_within_its_limits_needs_none(works, piece, size):
    within = works.measure(piece, {size: "124.96"}).measurements.get()
    with refused("within"):
        conceded(works, within)


@pytest.mark.parametrize("paper", ["", "letter 7"])
def test_beyond_the_scrapping_limit_there_is_never_one(works, piece, size, paper):
    gone = works.measure(piece, {size: "119"}).measurements.get()
    with refused("scrapping"):
        conceded(works, gone, paper=paper)


@pytest.mark.parametrize(("typed", "has_one"), [("120.01", True), ("119.98", False)])
def test_on_either_side_of_the_scrapping_limit(works, piece, size, typed, has_one):
    """120 mm, and an instrument good to 0.01: surely inside, surely outside."""
    worn = works.measure(piece, {size: typed}).measurements.get()
    if has_one:
        assert conceded(works, worn)
    else:
        with refused("scrapping"):
            conceded(works, worn)


def test_a_size_measured_again_is_conceded_as_it_was_measured_last(works, worn, piece, size):
    later = works.measure(piece, {size: "122.4"}).measurements.get()
    with refused("measured-again"):
        conceded(works, worn)
    assert conceded(works, later)


def test_nor_is_a_superseded_one(works, worn, piece, size):
    works.measure(piece, {size: "122.6"}, supersedes=worn.examination)
    with refused("measured-again"):
        conceded(works, fresh(worn))


def test_work_since_undoes_what_was_measured(works, worn, piece):
    decide(worn.examination, works.people.engineer, decision="repair", reason="metal spray it")
    works.do("send back", piece, works.people.engineer, reason="to be built up", to=State.STRIPPED)
    with refused("measured-again"):
        conceded(works, worn)


def test_a_size_outside_is_accepted_under_a_concession_only(works, worn):
    with refused("concession"):
        decide(worn.examination, works.people.engineer, decision="accept as it is", reason="it will do")


def test_it_stands_on_the_page_that_closes_the_overhaul_until_the_size_is_within_again(
    client, works, worn, piece, size
):
    address = f"/l/{works.locomotive.slug}/overhauls"
    client.force_login(works.people.trustee)
    assert "Under concession" not in client.get(address, follow=True).content.decode()
    made = conceded(works, worn)
    page = client.get(address, follow=True)
    assert [(one.piece, one.until) for one in page.context["conceded"]] == [(piece, made.look_again)]
    assert "Under concession on return to service" in page.content.decode()
    works.measure(fresh(piece), {size: "124.96"})
    assert client.get(address, follow=True).context["conceded"] == []


# --- of a fit


def conceded_fit(works, pair, hole, shaft, actor=None, **entered) -> Concession:
    entered = {"reason": "slow running only", "look_again": days(400)} | entered
    actor = actor or works.people.engineer
    return concede_fit(pair.fit, fresh(pair.axle), actor, hole=hole, shaft=shaft, **entered)


@pytest.fixture
def pair(works):
    """A journal and its brass, both accepted within their own limits and too slack together."""
    pair = a_pair(works)
    for piece in (pair.brass, pair.axle):
        works.look_at(piece)
    return pair


@pytest.fixture
def slack(works, pair):
    sides = pair.measured(works, "125.40", "124.96")
    for piece in (pair.brass, pair.axle):
        works.accept(piece)
    return sides


def test_a_slack_pair_goes_together_under_a_concession_on_both_as_they_were_measured(works, pair, slack):
    assert {standing(place) for place in (pair.brass.place, pair.axle.place)} == {("blocked", "fit")}
    with refused("fit"):
        works.refit(pair.axle)
    made = conceded_fit(works, pair, *slack)
    assert (made.fit, made.hole, made.shaft, made.measurement) == (pair.fit, *slack, None)
    assert {standing(place) for place in (pair.brass.place, pair.axle.place)} == {("ready", "")}
    works.refit(fresh(pair.axle))


def test_it_ends_when_one_of_the_two_is_measured_again(works, pair, slack):
    conceded_fit(works, pair, *slack)
    works.measure(pair.axle, {pair.shaft: "124.955"}, instrument=works.instrument(resolution=Fraction(1, 1000)))
    assert standing(pair.brass.place) == ("blocked", "fit")


def test_each_side_of_it_is_the_size_of_that_side(works, pair, slack):
    hole, shaft = slack
    with refused("fit"):
        conceded_fit(works, pair, shaft, hole)


@pytest.mark.parametrize(("entered", "code"), [({"reason": ""}, "reason"), ({"look_again": None}, "look-again")])
def test_half_a_concession_on_a_fit_is_refused(works, pair, slack, entered, code):
    with refused(code):
        conceded_fit(works, pair, *slack, **entered)


def test_others_concede_no_fit(works, pair, slack):
    for person in ("fitter", "examiner", "manager"):
        with refused("role"):
            conceded_fit(works, pair, *slack, getattr(works.people, person))


def test_the_second_of_two_on_a_fit_is_told(works, pair, slack):
    seen = fresh(pair.axle).last_event
    conceded_fit(works, pair, *slack, seen=seen)
    with refused("stale"):
        conceded_fit(works, pair, *slack, seen=seen)


# --- what stood on a record that is superseded


def test_an_acceptance_whose_sizes_were_superseded_is_in_doubt_until_the_new_ones_are_within(works, worn, piece, place):
    conceded(works, worn)
    works.accept(piece)
    size = worn.dimension
    works.measure(piece, {size: "122.4"}, supersedes=worn.examination)
    assert standing(place)[0] == "blocked", "the concession was on what was measured before"
    last = piece.examinations.latest("pk")
    works.measure(piece, {size: "124.96"}, supersedes=last)
    assert standing(place) == ("ready", "")


def test_a_superseding_record_without_the_size_is_refused_so_what_was_conceded_stands(works, worn, piece, place):
    conceded(works, worn)
    works.accept(piece)
    before = standing(place)
    with refused("no-figure"):
        sign(piece, works.people.examiner, kind="dimensional", result="sound", supersedes=worn.examination)
    assert standing(place) == before


def test_both_records_and_the_concession_stay_readable(works, worn, piece):
    made = conceded(works, worn)
    works.measure(piece, {worn.dimension: "124.96"}, supersedes=worn.examination)
    assert list(piece.examinations.not_superseded().filter(kind="dimensional").values_list("result", flat=True)) == [
        "sound"
    ]
    assert fresh(made).measurement.examination.superseded_by.supersedes == worn.examination
