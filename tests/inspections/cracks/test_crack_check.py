"""The crack check form: how it was done, each value that is questioned, who may sign, what is offered again."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from core.models import Authorisation
from parts.domain.words import Kind, State
from parts.photos.writers import add
from tests.as_shown import text_of
from tests.factories import a_person, days, fresh
from tests.pictures import a_photo

WITH = {"procedure": "WP 1", "technique": "by hand", "equipment": "set 1", "consumables": "batch 1"}
MT = WITH | {
    "method": "magnetic particle", "result": "sound", "viewing": "colour contrast", "light_lux": "800",
    "two_directions": "on", "demagnetised": "yes", "on": days(0), "reached-0": "journal", "reached-1": "wheel seat",
}  # fmt: skip
PT = WITH | {
    "method": "penetrant", "result": "sound", "viewing": "fluorescent", "uv_a_w_m2": "12", "light_lux": "10",
    "dwell_min": "15", "surface_c": "20", "on": days(0),
}  # fmt: skip


def at(piece) -> str:
    return f"/t/{piece.tags.current_code()}/crack-check"


def marks(*each) -> dict:
    """Indications as the form sends them."""
    sent = {"mark-TOTAL_FORMS": len(each), "mark-INITIAL_FORMS": 0}
    for number, entered in enumerate(each):
        entered = {"unit": "mm", "crack": "yes"} | entered
        sent |= {f"mark-{number}-{name}": value for name, value in entered.items()}
    return sent


@pytest.fixture
def piece(works):
    return works.piece(State.CLEANED, place=works.critical_place(calls_for=[], material="steel"))


@pytest.fixture
def bench(client, works):
    client.force_login(works.people.examiner)
    return client


@pytest.fixture
def photo(piece, people):
    return add([a_photo(size=(1600, 1200))], piece, people.volunteer).photos[0]


def signed(bench, piece, *sent):
    """Read over once and signed, as an examiner does who has marked something."""
    entered = {name: value for one in sent for name, value in one.items()}
    return bench.post(at(piece), entered | {"seen": piece.last_event})


# --- signing


def test_a_sound_check_is_signed_with_how_it_was_done_and_makes_the_piece_crack_checked(bench, piece):
    response = bench.post(at(piece), MT | {"equipment": "yoke 4", "seen": piece.last_event}, follow=True)
    check = piece.examinations.get().crack_check
    assert (check.equipment, check.directions_deg, check.light_lux) == ("yoke 4", ["0", "90"], 800)
    assert fresh(piece).state == State.CRACK_CHECKED
    assert "It is crack-checked now." in text_of(response)


def test_a_surface_that_was_not_ticked_is_on_record_as_not_reached(bench, piece):
    sent = {name: value for name, value in MT.items() if name != "reached-1"}
    asked = bench.post(at(piece), sent)
    assert asked.status_code == 422
    assert "Not reached: wheel seat" in text_of(asked)
    bench.post(at(piece), sent | {"reason-surface-missed": "under the tyre; looked at from the end"})
    record = piece.examinations.get()
    assert (record.reached, record.not_reached) == (["journal"], ["wheel seat"])
    assert record.crack_check.answers == [["Not reached: wheel seat.", "under the tyre; looked at from the end"]]
    assert fresh(piece).state == State.CLEANED


def test_what_the_method_does_not_need_is_left_out(bench, works):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="any"))
    left_over = {"two_directions": "on", "demagnetised": "yes"}
    assert bench.post(at(piece), PT | left_over).status_code == 302
    check = piece.examinations.get().crack_check
    assert (check.directions_deg, check.demagnetised, check.dwell_min) == ([], "", 15)


def test_ultrasonic_is_asked_nothing_about_light(bench, works):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="any"))
    sent = WITH | {"method": "ultrasonic", "result": "sound", "on": days(0)}
    sent |= {"technique": "45 degree probe", "light_lux": "3"}
    assert bench.post(at(piece), sent).status_code == 302
    check = piece.examinations.get().crack_check
    assert (check.technique, check.light_lux) == ("45 degree probe", None)


def test_what_the_report_states_by_method_is_kept_and_read_back(bench, piece):
    """The lines of a report by ISO 9934-1, from memory; those of another method are left out."""
    sent = {
        "detail-field": "3 kA/m, alternating", "detail-pole_spacing_mm": "150", "detail-magnetic_check": "block read",
        "detail-residual_field": "200 A/m", "detail-deviations": "none", "detail-probe": "45 degrees",
    }  # fmt: skip
    bench.post(at(piece), MT | sent)
    record = piece.examinations.get()
    assert record.crack_check.details == {
        "field": "3 kA/m, alternating", "pole_spacing_mm": "150", "magnetic_check": "block read",
        "residual_field": "200 A/m", "deviations": "none",
    }  # fmt: skip
    page = text_of(bench.get(f"/examinations/{record.pk}/"))
    for words in ("Pole or prod spacing", "150 mm", "Residual field afterwards", "200 A/m", "block read"):
        assert words in page


@pytest.mark.parametrize("material", ["copper", "austenitic stainless steel"])
def test_magnetic_particle_is_refused_on_what_no_magnet_holds(bench, works, material):
    """ISO 9934-1, scope: ferromagnetic materials. No reason answers it."""
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="any", material=material))
    response = bench.post(at(piece), MT | {"reason-not-magnetic": "it did no harm"})
    assert response.status_code == 422
    assert f"Magnetic particle finds no crack in {material}" in text_of(response)
    assert not piece.examinations.exists()


def test_magnetic_particle_on_an_unknown_metal_takes_a_reason(bench, works):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="any"))
    asked = bench.post(at(piece), MT)
    assert (asked.status_code, "try a magnet" in text_of(asked)) == (422, True)
    assert bench.post(at(piece), MT | {"reason-material-unknown": "a magnet holds"}).status_code == 302


def test_sign_it_goes_to_an_address_without_a_jump(bench, piece):
    form = f'<form class="form crack-form" method="post" data-sign action="{at(piece)}"'
    assert form in text_of(bench.get(at(piece)))


# --- what is questioned: each limit of ISO 3059 (from memory) and ISO 3452 is tried in the tests of the domain


@pytest.mark.parametrize(("sent", "questions"), [
    (MT | {"light_lux": "499.9", "two_directions": "", "directions": "30", "demagnetised": "no"}, {
        "light-low": "at least 500 is needed", "directions": "in one direction only",
        "demagnetised": "It was left magnetised",
    }),
    (MT | {"viewing": "", "two_directions": ""}, {
        "viewing-missing": "Say how you looked at it",
        "directions-missing": "Say in which directions you magnetised it",
    }),
    (PT | {"uv_a_w_m2": "9.99", "dwell_min": "4", "surface_c": "51"}, {
        "uv-a-low": "it has to be at least 10", "dwell-low": "5 to 60 is usual", "surface-high": "10 to 50 is usual",
    }),
])  # fmt: skip
def test_a_questioned_value_takes_a_reason_which_is_kept(bench, works, sent, questions):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="any", material="steel"))
    first, *others = {f"reason-{code}": f"the engineer agreed to {code}" for code in questions}.items()
    asked = bench.post(at(piece), sent | dict(others))
    assert asked.status_code == 422
    for code, sentence in questions.items():
        assert sentence in text_of(asked)
        assert f'name="reason-{code}"' in text_of(asked)
    assert not piece.examinations.exists()
    assert bench.post(at(piece), sent | dict([first, *others])).status_code == 302
    answers = piece.examinations.get().crack_check.answers
    assert len(answers) == len(questions)
    for code, sentence in questions.items():
        assert [reason for told, reason in answers if sentence in told] == [f"the engineer agreed to {code}"]


@pytest.mark.parametrize("wrong", [
    {
        ("procedure", " "): "No procedure is named, so nobody can tell how it was looked for.",
        ("technique", ""): "No technique is named, so nobody can tell how it was looked for.",
        ("equipment", ""): "The equipment is not named",
        ("consumables", ""): "The consumables and their batch are not named",
    }, {
        ("detail-pole_spacing_mm", "wide"): "Pole or prod spacing: Write it in figures",
        ("method", ""): "Method: None chosen.",
        ("result", ""): "Result: None chosen.",
        ("light_lux", "bright"): "Light on the surface: Write it in figures",
        ("directions", "0 and 60"): "The tick says 0 and 90 already.",
        ("stage", "hope"): "Of a weld repair: Choose one from the list.",
        ("reached-0", "moon"): "Surfaces reached: Choose from the surfaces in the list.",
    }, {
        ("method", "x-ray"): "Method: Choose one from the list.",
        ("light_lux", "-1"): "Light on the surface: It cannot be below zero.",
        ("directions", "0,90"): "Write the angles with a space between them",
    }, {
        ("light_lux", "999999999999"): "Light on the surface: That is more than it can be.",
        ("directions", "0 and up"): "“up” is no angle in degrees",
    },
    {("light_lux", "nan"): "Light on the surface: Write it in figures"},
    {
        ("light_lux", "1e30"): "Light on the surface: Write it in figures",
        ("level", "ISO 23277 level 2"): "ISO 23277 level 2 is for penetrant.",
    },
    {("level", "ISO 23278 level 2"): "is a level for welds, and this is no weld"},
    {
        ("on", days(1)): "Examined on: The day is still to come.",
        ("level", "EN 1369 severity level 2"): "proposal; none is named",
    },
    {("result", "indication"): "What was found: Nothing was written."},
    {("level", "EN 1369 severity level 2"): "is for castings, and this is a weld", ("stage", "excavation"): ""},
])  # fmt: skip
def test_wrong_fields_are_named_with_their_mend(bench, piece, wrong):
    sent = MT | {"surface": "scraped bright"} | dict(wrong.keys())
    if wrong.keys() & {("directions", "0,90"), ("directions", "0 and up")}:
        sent["two_directions"] = ""
    response = bench.post(at(piece), sent)
    assert response.status_code == 422
    for sentence in wrong.values():
        assert sentence in text_of(response)
    assert "scraped bright" in text_of(response), "what was typed is lost"
    assert not piece.examinations.exists()


def test_a_level_on_a_piece_that_is_no_weld_is_the_engineers_proposal(bench, piece, people):
    level = {"level": "ISO 23278 level 2", "level_by": people.engineer.pk, "level_reason": "short of the fillet"}
    bench.post(at(piece), MT | level)
    check = piece.examinations.get().crack_check
    assert (check.level, check.level_by, check.level_reason) == (
        "ISO 23278 level 2", people.engineer, "short of the fillet",
    )  # fmt: skip


def test_the_levels_are_shown_as_from_memory(bench, piece):
    assert "from memory, check against the standard" in text_of(bench.get(at(piece)))


# --- who may


def test_the_examiner_sees_the_level_and_until_when_it_is_good(bench, piece, people):
    until = days(90)
    people.examiner.authorisations.filter(method="magnetic particle").update(level="level 2", until=until)
    text = text_of(bench.get(at(piece)))
    assert f"Magnetic particle (called for): level 2, good until {until.day} {until:%b} {until.year}" in text
    bench.post(at(piece), MT)
    check = piece.examinations.get().crack_check
    assert (check.examiner_level, check.examiner_until) == ("level 2", until)


def test_what_has_expired_is_told_and_refused(bench, piece, people):
    people.examiner.authorisations.filter(method="magnetic particle").update(until=days(-1))
    page = bench.get(at(piece))
    assert "Not by magnetic particle." in text_of(page)
    assert "magnetic particle" not in [value for value, _ in page.context["form"].fields["method"].choices]
    refused = bench.post(at(piece), MT)
    assert refused.status_code == 403
    assert "You are not authorised to sign “crack check: magnetic particle”." in text_of(refused)


def test_on_its_last_day_an_authorisation_is_still_good(bench, piece, people):
    people.examiner.authorisations.filter(method="magnetic particle").update(until=days(0))
    assert bench.post(at(piece), MT).status_code == 302


def test_who_has_no_right_left_is_told_when_it_ended(client, piece):
    person = a_person("examiner")
    Authorisation.objects.create(person=person, kind=Kind.CRACK_CHECK, method="penetrant", until=days(-3))
    client.force_login(person)
    for response in (client.get(at(piece)), client.post(at(piece), PT)):
        assert response.status_code == 403
        assert "penetrant was good until" in text_of(response)


def test_others_sign_nothing(client, piece, people):
    """Those of every other role neither: tests/workshop/test_who_may.py."""
    client.force_login(people.fitter)
    assert client.get(at(piece)).status_code == client.post(at(piece), MT).status_code == 403


def test_a_stranger_signs_in_first_and_an_unknown_tag_is_not_there(client, works, piece):
    assert client.get(at(piece)).status_code == 302
    client.force_login(works.people.examiner)
    assert client.get("/t/22222222/crack-check").status_code == 404
    assert client.delete(at(piece)).status_code == 405


def test_a_late_check_is_told_who_was_quicker(bench, piece):
    seen = piece.last_event
    bench.post(at(piece), MT)
    response = bench.post(at(piece), MT | {"seen": seen})
    assert response.status_code == 409
    assert "after you opened the page" in text_of(response)


def test_a_dirty_piece_is_cleaned_first_but_its_excavation_may_be_looked_at(bench, works):
    piece = works.piece(State.STRIPPED, place=works.plain_place(crack_check="penetrant"))
    refused = bench.post(at(piece), PT)
    assert refused.status_code == 422
    assert "Clean it first." in text_of(refused)
    assert bench.get(at(piece) + "?stage=excavation").context["form"]["stage"].value() == "excavation"
    assert bench.post(at(piece), PT | {"stage": "excavation"}).status_code == 302


def test_a_piece_still_in_place_is_stripped_first(bench, works):
    piece = works.piece(State.IN_PLACE)
    assert "Strip and clean it first." in text_of(bench.get(at(piece)))
    assert bench.post(at(piece), PT).status_code == 422


# --- what is proposed


@pytest.mark.parametrize(
    ("material", "method", "sentence"),
    [
        ("steel", "magnetic particle", "Magnetic particle, as it is ferromagnetic (steel)."),
        ("gunmetal", "penetrant", "Penetrant, as a magnet does not hold it (gunmetal)."),
        ("", "", "try a magnet"),
    ],
)
def test_a_method_is_proposed_from_the_material(bench, works, material, method, sentence):
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check="any", material=material))
    page = bench.get(at(piece))
    assert sentence in text_of(page)
    assert page.context["form"]["method"].value() == method


def test_what_cannot_be_seen_is_for_ultrasonic(bench, works):
    place = works.built_up("axle", "wheel centre", crack_check="any", material="steel")
    page = bench.get(at(works.piece(State.CLEANED, place=place)))
    assert "Ultrasonic for the part that cannot be seen." in text_of(page)
    assert page.context["form"]["method"].value() == "ultrasonic"


def test_the_method_called_for_is_kept_and_doubted(bench, works):
    place = works.plain_place(crack_check="magnetic particle", material="bronze")
    page = bench.get(at(works.piece(State.CLEANED, place=place)))
    assert page.context["form"]["method"].value() == "magnetic particle"
    assert "needs a ferromagnetic piece, and bronze is not" in text_of(page)


# --- the tenth piece of the day


def test_nothing_is_filled_in_from_another_day_before_it_is_asked_for(bench, works, piece):
    bench.post(at(piece), MT | {"equipment": "yoke 4", "procedure": "WP 4", "consumables": "ink 7"})
    form = bench.get(at(works.piece(State.CLEANED, place=works.critical_place(calls_for=[])))).context["form"]
    asked = ("procedure", "technique", "equipment", "consumables", "viewing", "light_lux", "surface", "demagnetised")
    assert not any(form[name].value() for name in (*asked, "reached"))


def test_what_stood_on_the_last_check_by_the_same_method_is_filled_in_on_asking(bench, works, piece):
    usual = {"equipment": "yoke 4", "procedure": "WP 4", "consumables": "ink 7", "surface": "scraped"}
    bench.post(at(piece), MT | usual)
    other = works.piece(State.CLEANED, place=works.critical_place(calls_for=[]))
    page = bench.post(at(other), {"method": "magnetic particle", "do": "last"})
    form = page.context["form"]
    offered = {name: form[name].value() for name in ("equipment", "procedure", "consumables", "viewing")}
    assert offered == {
        "equipment": "yoke 4", "procedure": "WP 4", "consumables": "ink 7", "viewing": "colour contrast",
    }  # fmt: skip
    assert "Change what is different today" in text_of(page)
    assert not any(form[name].value() for name in ("reached", "surface", "demagnetised", "light_lux"))


def test_it_is_the_examiners_own_last_check(client, bench, works, piece):
    bench.post(at(piece), MT | {"equipment": "yoke 4"})
    client.force_login(works.people.second_examiner)
    other = works.piece(State.CLEANED, place=works.critical_place())
    page = client.post(at(other), {"method": "magnetic particle", "do": "last"})
    assert not page.context["form"]["equipment"].value()
    assert "You have signed no check by this method yet" in text_of(page)


def test_another_method_is_filled_in_on_asking_and_nothing_else_is_lost(bench, works, piece):
    first = works.piece(State.CLEANED, place=works.plain_place(crack_check="any"))
    bench.post(at(first), PT | {"equipment": "lamp 2"})
    form = bench.post(at(piece), {"method": "penetrant", "found": "so far", "do": "last"}).context["form"]
    assert (form["equipment"].value(), form["found"].value()) == ("lamp 2", "so far")


# --- the queries


def test_its_queries_do_not_grow_with_photos_marks_and_records(bench, works, piece, people):
    def queries():
        with CaptureQueriesContext(connection) as caught:
            assert bench.get(at(piece)).status_code == 200
        return len(caught)

    def more(number):
        add([a_photo() for _ in range(number)], piece, people.volunteer)
        for _ in range(number):
            signed(bench, fresh(piece), MT, marks({"length": "3", "where": "fillet"}))
            fresh(piece)

    more(1)
    queries()
    few = queries()
    more(2)
    assert queries() == few <= 36
