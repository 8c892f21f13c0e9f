"""What was measured as a piece went on: judged by the limits of its fit, and outside them it stays open. An invented
pair: 0.1 to 0.2 mm is wanted, and 0.5 mm may stand."""

from fractions import Fraction

import pytest

from inspections.boxing_up import writers
from inspections.fits.writers import add_fit
from inspections.models import Fit
from parts.domain.words import State
from parts.models import Tag
from parts.photos.writers import add as add_photos
from tests.factories import fresh
from tests.parts.actions.standard import refused
from tests.pictures import a_photo

SAID = {"drawing": "125 ±5", "source": "invented sheet", "source_edition": "1"}
SEEN = {"tools_in": 7, "tools_out": 7, "rags_in": 3, "rags_out": 3, "seen": "Clean and oiled."}
LIMITS = {"kind": "running", "unit": "mm", "source": "invented sheet", "source_edition": "1"}
LIMITS |= {
    "least": Fraction("0.1"),
    "most": Fraction("0.2"),
    "shop_most": Fraction("0.5"),
    "scrapping_most": Fraction(1),
}


@pytest.fixture
def brass(works):
    """Refitted round its journal, which was left out of the register's sizes: nothing was measured apart."""
    axle, place = works.place(name="axle"), works.place(name="brass")
    journal, bore = works.dimension(axle), works.dimension(place, "bore", wears="larger", limits=SAID)
    add_fit(works.people.engineer, name="journal in brass", hole=bore, shaft=journal, **LIMITS)
    piece = works.piece(State.CLEANED, place=place)
    works.look_at(piece)
    works.measure(piece, {bore: "124.9"})
    works.accept(piece)
    return piece


def address(piece, action) -> str:
    return f"/t/{Tag.objects.get(component=piece, current=True).code}/do/{action}"


def send(client, works, piece, action, who="fitter", **entered):
    client.force_login(getattr(works.people, who))
    works.people.second_fitter.set_password("axlebox")
    works.people.second_fitter.save()
    seen = {"seen": fresh(piece).last_event}
    if piece.place.safety_critical:
        seen |= {"checker": works.people.second_fitter.pk, "checker_password": "axlebox"}
    return client.post(address(piece, action), seen | entered)


def page(client, works, piece, action) -> str:
    client.force_login(works.people.fitter)
    return client.get(address(piece, action)).content.decode()


def against(works) -> str:
    inside, _ = writers.all_inside(works.frames, writers.writing.today())
    return " ".join(str(refusal) for refusal in writers.against_closing(works.frames, inside, [1]))


def test_the_form_asks_the_clearance_of_each_fit_and_says_what_is_allowed(client, works, brass):
    shown = page(client, works, brass, "refit")
    assert "Clearance, journal in brass" in shown
    assert "Wanted 0.1 mm" in shown
    assert "at most 0.5 mm" in shown


def test_a_figure_within_is_kept_with_its_verdict_and_stops_nothing(client, works, brass):
    key = f"fit_{Fit.objects.get().pk}"
    send(client, works, brass, "refit", **{key: "0.35 mm", "locked": "split pin"})
    assert fresh(brass).state == State.REFITTED
    client.force_login(works.people.fitter)
    shown = client.get(f"/l/{works.locomotive.slug}/s/{works.frames.code}/together").content.decode()
    assert "clearance, journal in brass: 0.35 mm: within the shop limit" in shown.lower()
    assert "outside as measured" not in against(works)


def test_a_figure_outside_is_written_down_but_neither_locked_nor_boxed_up(client, works, brass):
    key = f"fit_{Fit.objects.get().pk}"
    answer = send(client, works, brass, "refit", **{key: "0.6 mm", "locked": "split pin"})
    assert answer.status_code == 422
    assert "Beyond the shop limit" in answer.content.decode().replace("beyond", "Beyond")
    send(client, works, brass, "refit", **{key: "0.6 mm"})
    assert fresh(brass).state == State.REFITTED
    assert "1 place is outside as measured there." in against(works)
    assert "0.6 mm" in page(client, works, brass, "lock")
    assert send(client, works, brass, "lock", locked="split pin").status_code == 422  # a blank takes nothing back
    send(client, works, brass, "lock", **{key: "0.30 mm", "locked": "split pin"})
    assert "outside" not in against(works)


def test_the_engineer_lets_it_stand_with_a_reason_that_stays_on_record(client, works, brass):
    key = f"fit_{Fit.objects.get().pk}"
    send(client, works, brass, "refit", **{key: "0.6 mm"})
    answer = send(client, works, brass, "lock", who="engineer", locked="split pin", **{key: "0.6 mm"})
    assert 'name="override"' in answer.content.decode()
    told = {key: "0.6 mm", "locked": "split pin", "override": "runs at 15 mph only, looked at each month"}
    assert send(client, works, brass, "lock", who="engineer", **told).status_code == 302
    assert "outside" not in against(works)
    add_photos([a_photo()], works.frames, works.people.fitter, caption="the inside")
    works.take_away(Fit.objects.get().shaft.position)
    record = writers.box_up(works.frames, works.people.fitter, checker=works.people.second_fitter.pk, **SEEN)
    assert "0.6 mm: beyond the shop limit, engineer decides, let stand by the engineer" in record.pieces.get().held


def test_what_the_engineer_let_stand_is_not_asked_again_of_whoever_locks_it_later(client, works, brass):
    key = f"fit_{Fit.objects.get().pk}"
    send(client, works, brass, "refit", **{key: "0.6 mm"})
    told = {key: "0.6 mm", "locked": "split pin", "override": "runs at 15 mph only, looked at each month"}
    send(client, works, brass, "lock", who="engineer", **told)
    for left in ("0.6 mm", ""):
        assert send(client, works, brass, "lock", locked="new split pin", **{key: left}).status_code == 302
    assert "outside" not in against(works)
    assert "0.6 mm" in page(client, works, brass, "lock")
    worse = send(client, works, brass, "lock", locked="new split pin", **{key: "0.7 mm"})
    assert worse.status_code == 422


def test_nobody_lets_stand_what_is_beyond_the_scrapping_clearance(client, works, brass):
    key = f"fit_{Fit.objects.get().pk}"
    told = {key: "1.2 mm", "locked": "split pin", "override": "it will do"}
    answer = send(client, works, brass, "refit", who="engineer", **told)
    assert "nobody lets it stand" in answer.content.decode()
    assert fresh(brass).state == State.ACCEPTED


def test_a_bare_number_is_refused_beside_its_field(client, works, brass):
    answer = send(client, works, brass, "refit", **{f"fit_{Fit.objects.get().pk}": "0.3"})
    assert "has no unit" in answer.content.decode()


def test_a_program_is_refused_like_the_form(works, brass):
    figure = {
        "key": "fit_1",
        "name": "Clearance",
        "typed": "0.6 mm",
        "verdict": "Beyond",
        "outside": True,
        "final": False,
    }
    with refused("fit_1"):
        works.refit(brass, locked="split pin", measured=[figure])
