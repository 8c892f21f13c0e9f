"""The demo as it is built: invented, rich enough to be looked about in, and true to the last stored word."""

import re
from collections import Counter
from datetime import timedelta

import pytest
from django.core.files.storage import storages
from django.db.models import Exists, OuterRef, Q
from django.utils import timezone

import workshop.settings
from core.models import (
    Event,  # fmt: skip
    Person,
)
from core.roles import Role
from demo_fixtures.cast import PASSWORD
from demo_fixtures.clock import same_codes
from inspections.fits.judging import judged
from inspections.instruments import instrument_context
from inspections.models import Concession, Examination, Fit, Indication, Instrument, Limits, Measurement
from inspections.records.digests import differing
from parts.actions.refresh import out_of_date
from parts.domain.needs import standing_today
from parts.domain.readiness import readiness
from parts.domain.states import with_a_page
from parts.domain.tagcodes import is_code
from parts.domain.words import Destination, Need, State
from parts.finding import find_index
from parts.models import (  # fmt: skip
    Component,
    Decision,
    Evidence,
    HoldPoint,
    Location,
    Locomotive,
    Movement,
    Photo,
    Position,
    RenewalStep,
    Repair,
    Tag,
)
from parts.queries import loading
from parts.queries.assembly_order import load_order
from parts.tags import writers as tagging

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def sign_ins(demo_in_the_database):
    """Who can sign in."""
    return demo_in_the_database


@pytest.fixture(scope="module")
def locomotive(sign_ins):
    return Locomotive.objects.get()


@pytest.fixture(scope="module")
def today(sign_ins):
    return timezone.localdate()


@pytest.fixture(scope="module")
def found(locomotive, today):
    """The readiness of the whole locomotive, from whole rows."""
    holds: dict = {}
    for hold in HoldPoint.objects.above_places().filter(overhaul__locomotive=locomotive):
        holds[hold.subassembly_id] = (*holds.get(hold.subassembly_id, ()), loading.hold_row(hold))
    order, _ = load_order(locomotive.pk)
    return readiness(loading.load_places({"locomotive": locomotive}), order, holds, today)


def test_the_same_tags_every_time(db):
    """So that papers can name them, on whatever day it is built."""
    rolls = []
    for _ in range(2):
        with same_codes(seed=7):
            rolls.append(tagging.fresh_codes(20))
    assert rolls[0] == rolls[1]
    assert tagging.fresh_codes(20) != rolls[0]


def test_somebody_of_each_role_can_sign_in(sign_ins):
    assert {role for role, _, _ in sign_ins} == {role.value for role in Role}
    for role, username, password in sign_ins:
        person = Person.objects.get(username=username)
        assert person.role_names == {role}
        assert person.has_usable_password()
        assert password == PASSWORD


def test_the_shown_password_opens_the_door(sign_ins, settings):
    settings.PASSWORD_HASHERS = [*settings.PASSWORD_HASHERS, *workshop.settings.PASSWORD_HASHERS]
    assert Person.objects.get(username=sign_ins[0][1]).check_password(PASSWORD)


def test_find_knows_every_thing_as_it_is(locomotive):
    assert find_index.out_of_step() == []


def test_it_is_large_enough_to_look_about_in(locomotive):
    assert locomotive.wheels == "2-6-0T"
    assert locomotive.positions.filter(retired=False).count() >= 300
    assert Component.objects.count() >= 250
    assert Photo.objects.count() >= 40
    assert Movement.objects.count() > Component.objects.count()
    assert Component._meta.get_field("examinations").related_model.objects.count() >= 250


def test_pieces_are_in_every_state(sign_ins):
    assert set(Component.objects.values_list("state", flat=True)) == {state.value for state in State}


def test_every_need_is_there(found):
    """`after` is a subassembly's; the others are places'."""
    told = {blocker.need for sub in found.subassemblies for blocker in sub.blockers}
    assert set(Need) - told == set()


def test_two_pieces_have_no_place(sign_ins):
    assert Component.objects.loose().count() == 2


def test_withdrawn_pieces_went_each_way(sign_ins):
    gone = set(Component.objects.filter(state="withdrawn").values_list("destination", flat=True))
    assert gone >= {destination.value for destination in Destination} - {Destination.BUILT_IN}


def test_what_is_stored_is_what_the_rows_say(locomotive):
    assert out_of_date({"locomotive": locomotive}) == []


def test_every_action_of_the_life_cycle_was_done(sign_ins):
    done = set(Event.objects.values_list("action", flat=True))
    assert {action.word for action in with_a_page()} - done == set()


def test_its_year_is_in_order_and_past(sign_ins, today):
    """The log is told in the order of the days, over the better part of a year, up to the last few days."""
    times = list(Event.objects.order_by("id").values_list("at", flat=True))
    assert times == sorted(times)
    assert timezone.localdate(times[0]) < today - timedelta(days=300)
    assert today - timedelta(days=7) <= timezone.localdate(times[-1]) < today
    opened = Locomotive.objects.get().open_overhaul().opened
    assert opened == timezone.localdate(times[0])


def test_some_subassemblies_are_complete_some_can_begin_and_others_wait(found):
    own = [sub for sub in found.subassemblies if sub.own.required]
    complete = {sub.sub.code for sub in own if sub.complete}
    can_begin = {sub.sub.code for sub in own if sub.clear_to_assemble and not sub.complete}
    assert {"main-frames", "buffing-drawgear"} <= complete
    assert "horns" in can_begin
    assert len(own) - len(complete) - len(can_begin) > 20


def test_one_cylinder_is_cracked_and_undecided(today):
    place = Position.objects.get(name="cylinder casting", side="RH")
    (row,) = loading.load_places({"pk": place.pk})
    standing = standing_today(row, today)
    assert standing.need is Need.DECIDE
    assert "84 mm" in standing.reasons[0]
    assert place.pieces.get().quarantined


def test_the_new_firebox_is_held_by_the_inspecting_body(found):
    (firebox,) = (sub for sub in found.subassemblies if sub.sub.code == "inner-firebox")
    plates = [blocker for blocker in firebox.blockers if blocker.need is Need.RELEASE and blocker.place]
    assert {blocker.position for blocker in plates} == {
        "inner firebox wrapper plate",
        "firebox tubeplate",
        "firebox doorplate",
    }


@pytest.mark.parametrize("code", ["truck-frame-leading", "truck-wheels-leading"])
def test_the_pony_truck_was_never_found(locomotive, code):
    places = locomotive.positions.filter(subassembly__code=code, retired=False, part_of=None)
    assert places.exists()
    assert all(place.known_empty and "Never found" in place.evidence for place in places)


def test_the_sanding_gear_is_known_from_its_brackets(locomotive):
    sanding = locomotive.positions.filter(subassembly__code="sanding")
    brackets = sanding.filter(name="sand pipe bracket")
    assert all(place.pieces.live().exists() for place in brackets)
    assert all(place.known_empty for place in sanding.exclude(pk__in=brackets))


def test_one_wheelset_is_in_pieces_and_others_are_whole(locomotive):
    wheelsets = Component.objects.live().filter(place__name="wheelset")
    assert sorted(wheelsets.values_list("broken_down", flat=True)) == [False, False, True]


def test_a_promise_is_kept_waiting_and_another_is_still_to_come(today):
    away = Component.objects.filter(location__away=True, promised_back__isnull=False)
    assert away.filter(promised_back__lt=today).exists()
    assert away.filter(promised_back__gt=today).exists()


def test_a_lot_was_split_and_both_parts_are_known(sign_ins):
    crown = Component.objects.filter(came_off__name="crown stays")
    assert Counter(crown.values_list("state", "quantity")) == {("cleaned", 68): 1, ("withdrawn", 12): 1}


def test_what_is_in_a_built_up_piece_left_whole_was_looked_at_before_it_was_accepted(sign_ins):
    """Read from the rows themselves: each inner place is named by a signed look of the whole piece."""
    passed = Component.objects.filter(
        state__in=("accepted", "renewed", "refitted"), broken_down=False, left_alone=False
    )
    whole = passed.filter(vouched_state="", place__inner__retired=False).distinct()
    assert {"wheelset", "axlebox", "bearing spring"} <= {piece.name for piece in whole}
    for piece in whole:
        named = {words for exam in piece.examinations.exclude(signed_at=None) for words in exam.reached}
        inner = piece.place.inner.filter(safety_critical=True, required=True, made_to_suit=False, retired=False)
        assert {place.words for place in inner} <= named, piece


def test_no_piece_is_called_crack_checked_that_was_not(sign_ins):
    """Those taken over on a works' word, and those left alone, are told apart."""
    known = Component.objects.filter(vouched_state="", left_alone=False).exclude(place=None)
    passed = known.filter(state__in=("crack-checked", "accepted", "renewed", "refitted"))
    called_for = passed.filter(Q(place__crack_check__gt="") | Q(place__calls_for__icontains="crack check"))
    checked = Examination.objects.filter(component=OuterRef("pk"), kind="crack check", superseded_by=None)
    checked = checked.exclude(signed_by=None).filter(event__gt=OuterRef("bared_event"))
    assert called_for.exists()
    assert not called_for.exclude(Exists(checked)).exists()
    assert not known.filter(state="crack-checked").exclude(pk__in=called_for.values("pk")).exists()


def test_things_on_trial_left_alone_and_renewed_are_there(sign_ins):
    assert Component.objects.filter(on_trial=True).exists()
    assert Component.objects.filter(left_alone=True, state="refitted").exists()
    assert Component.objects.exclude(vouched_state="").filter(confirmed=True).exists()


def test_a_roll_of_tags_is_left_to_tie(sign_ins):
    unused = Tag.objects.filter(component=None, location=None)
    assert unused.count() >= 20
    assert all(is_code(code) for code in Tag.objects.values_list("code", flat=True))


def test_every_crate_and_every_live_piece_bears_a_tag(sign_ins):
    assert not Location.objects.filter(kind="crate").exclude(tags__current=True).exists()
    assert not Component.objects.exclude(tags__current=True).exists()


def test_pictures_have_their_files_and_say_that_they_are_drawn(sign_ins):
    for photo in Photo.objects.all():
        assert storages["pictures"].exists(f"{photo.name}-small.jpg")
        assert "drawn for the demo" in photo.caption
        assert (photo.width, photo.height) == (1600, 1200)


def test_firms_makers_and_bodies_are_said_to_be_invented(locomotive):
    assert "(invented)" in locomotive.builder
    assert "Invented for the demo" in locomotive.open_overhaul().reason
    for firm in Location.objects.filter(kind__in=("firm", "loan")):
        assert firm.note == "Invented for the demo."
    assert all("(invented)" in hold.body for hold in HoldPoint.objects.all())
    owners = Component.objects.exclude(owner="").values_list("owner", flat=True)
    assert all(re.search(r"\(invented\)$", owner) for owner in owners)


def test_what_it_measures_is_judged_in_every_way_and_says_by_what(sign_ins):
    told = Measurement.objects.exclude(size_class="").values_list("size_class", flat=True)
    assert set(told) >= {"as new", "within shop limit", "within scrapping limit", "beyond scrapping limit"}
    sheets = {(edition.source, bool(edition.row_id)) for edition in Limits.objects.all()}
    own = "(invented)", "taken from"
    assert all(published or any(words in source for words in own) for source, published in sheets)
    assert any(published for _, published in sheets)


def test_a_size_outside_is_undecided_another_conceded_and_a_third_not_measured(today):
    wanted = {
        ("piston", "LH"): Need.DECIDE,
        ("piston", "RH"): Need.MEASURE,
        ("crank pin", "RH"): Need.MEASURE,
        ("axle", ""): None,
    }
    for (name, side), need in wanted.items():
        places = loading.load_places({"name": name, "side": side, "axle__in": ("", "driving")})
        assert [standing_today(row, today).need for row in places] == [need], name
    conceded = Concession.objects.get().measurement
    assert conceded.outside
    assert conceded.examination.component.state == "accepted"


def test_one_pair_runs_well_and_another_is_accepted_on_both_sides_but_too_slack(sign_ins):
    pairs = {pair.fit.name: pair for pair in judged(Fit.objects.all().with_limits()) if pair.verdict}
    assert {name[-2:]: pair.verdict.outside for name, pair in pairs.items()} == {"LH": False, "RH": True}
    assert all(all(pair.settled.values()) for pair in pairs.values())


def test_one_instrument_is_out_of_date_one_due_soon_and_one_was_calibrated_again(today):
    in_use, _ = instrument_context.register(today)
    assert len(in_use) >= 6
    assert [one.instrument.code for one in in_use if one.wrong] == ["V 2"]
    assert [one.instrument.code for one in in_use if one.soon] == ["S 1"]
    assert [one.code for one in Instrument.objects.by_date() if one.calibrations.count() == 2] == ["M 6"]


def test_some_sizes_were_measured_twice_months_apart(sign_ins):
    days = {}
    for taken in Measurement.objects.all():
        days.setdefault(taken.dimension, []).append(taken.examination.on)
    twice = [on for on in days.values() if len(on) == 2]
    assert len(twice) >= 3
    assert all(max(on) - min(on) > timedelta(days=60) for on in twice)


def test_two_indications_are_marked_on_a_picture_and_one_is_decided(sign_ins):
    shown = Indication.objects.exclude(photo=None)
    assert sorted((one.crack, one.decisions.exists()) for one in shown) == [(False, True), (True, False)]
    assert {one.photo.component for one in shown} == {one.examination.component for one in shown}
    check = shown.first().examination.crack_check
    assert all((check.dwell_min, check.light_lux, check.level_by))
    assert not check.answers


def test_the_ways_back_are_in_every_stage(sign_ins, today):
    """Mended, being mended and late, failed once, overdue after three slips, left as it is, said too early."""
    assert set(Repair.objects.values_list("ended", flat=True)) == {"", "done"}
    assert set(RenewalStep.objects.values_list("ended", flat=True)) >= {"", "done", "failed"}
    late = RenewalStep.objects.filter(ended="", promised__lt=today)
    assert max(step.promises.count() for step in late) == 4
    assert set(Decision.objects.values_list("outcome", flat=True)) >= {"repair", "renew", "leave", "accept"}
    assert Decision.objects.filter(provisional=True).exists()
    assert set(Evidence.objects.values_list("kind", flat=True)) >= {"holes", "stamping", "photograph"}


def test_every_signed_record_has_the_digest_of_its_rows(sign_ins):
    assert list(differing(Examination.objects.all())) == []
