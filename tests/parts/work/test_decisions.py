"""Deciding is the action itself, under the same conditions; a provisional decision only notes."""

from dataclasses import replace
from decimal import Decimal

from inspections.records.writers.signing import sign
from parts.actions.refresh import out_of_date
from parts.domain.job_words import Outcome
from parts.domain.needs import standing_today
from parts.domain.rows import ActionInput
from parts.domain.words import State
from parts.models import Decision, Photo, Renewal, Repair
from parts.queries.loading import load_places
from parts.work.writers.decisions import Following, Weighed, decide
from tests.factories import ACCEPTING, days, fresh
from tests.parts.actions.standard import refused
from tests.parts.jobs import a_renewal, an_empty_place, stands
from tests.tables import for_each


def reasons(place):
    return standing_today(load_places({"pk": place.pk})[0], days(0)).reasons


def on_piece(works, piece, outcome, *, actor=None, reason="worn", **more):
    actor = actor or works.people.engineer
    return decide(actor, component=piece, outcome=outcome, reason=reason, **more)


BUSHING = Following(repair={"method": "bush", "what": "bush the bore"})
BUYING = Following(route="buy")
ACCEPTED = Following(given=ActionInput(**ACCEPTING))
SCRAPPING = Following(given=ActionInput(destination="scrapped"))


def test_deciding_to_accept_accepts_under_the_same_conditions(works):
    piece = works.piece(State.CLEANED)
    with refused("look-missing"):
        on_piece(works, piece, Outcome.ACCEPT, following=ACCEPTED)
    works.look_at(piece)
    decision = on_piece(works, piece, Outcome.ACCEPT, following=ACCEPTED, reason="journals good")
    assert fresh(piece).state == State.ACCEPTED
    assert decision.event_id < piece.last_event
    assert stands(piece.place) == ("ready", "")


def test_deciding_to_repair_opens_the_repair(works):
    piece = works.piece(State.CLEANED)
    decision = on_piece(works, piece, Outcome.REPAIR, following=BUSHING)
    assert Repair.objects.get().decision == decision
    assert stands(piece.place) == ("blocked", "repair")


def test_deciding_to_renew_opens_the_renewal_and_the_old_piece_may_stay(works):
    piece = works.piece(State.CLEANED)
    decision = on_piece(works, piece, Outcome.RENEW, following=BUYING)
    renewal = Renewal.objects.get()
    assert (renewal.decision, renewal.replaces, fresh(piece).state) == (decision, piece, State.CLEANED)


def test_or_goes_at_once(works):
    piece = works.piece(State.CLEANED)
    goes = ActionInput(destination="pattern")
    with refused("sizes-not-taken"):
        on_piece(works, piece, Outcome.RENEW, following=Following(route="buy", withdraw_now=True, given=goes))
    goes = replace(goes, override="bought to a standard")
    following = Following(route="buy", withdraw_now=True, given=goes)
    on_piece(works, piece, Outcome.RENEW, following=following, reason="cracked through")
    assert (fresh(piece).state, piece.destination) == (State.WITHDRAWN, "pattern")
    assert stands(piece.place) == ("blocked", "await")
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_deciding_to_withdraw_withdraws(works):
    piece = works.piece(State.CLEANED)
    on_piece(works, piece, Outcome.WITHDRAW, following=SCRAPPING)
    assert fresh(piece).state == State.WITHDRAWN
    assert stands(piece.place) == ("blocked", "source")


def test_deciding_to_leave_a_piece_in_place_leaves_it_alone(works):
    piece = works.piece(State.IN_PLACE)
    on_piece(works, piece, Outcome.LEAVE, reason="never disturbed since new")
    assert (fresh(piece).state, piece.left_alone) == (State.REFITTED, True)


def test_when_the_action_is_refused_the_decision_is_not_kept_either(works):
    piece = works.piece(State.CLEANED)
    with refused("destination"):
        on_piece(works, piece, Outcome.WITHDRAW)
    with refused("route"):
        on_piece(works, piece, Outcome.RENEW, following=Following(route="no such"))
    with refused("method"):
        on_piece(works, piece, Outcome.REPAIR, following=Following(repair={"method": "", "what": "it"}))
    assert Decision.objects.count() == 0


def test_a_provisional_decision_notes_and_never_counts_as_ready(works):
    piece = works.piece(State.CLEANED)
    on_piece(works, piece, Outcome.ACCEPT, actor=works.people.fitter, provisional=True, reason="looks good")
    assert fresh(piece).state == State.CLEANED
    assert stands(piece.place) == ("blocked", "examine")
    assert any("only provisionally decided, to accept (Fitter" in reason for reason in reasons(piece.place))


def test_a_doubt_noted_on_an_accepted_piece_keeps_it_from_being_ready_until_it_is_decided(works):
    piece = works.piece(State.ACCEPTED)
    assert stands(piece.place) == ("ready", "")
    on_piece(works, piece, Outcome.RENEW, actor=works.people.examiner, provisional=True, reason="thin at the root")
    assert stands(piece.place) == ("blocked", "decide")
    with refused("provisional"):
        works.refit(fresh(piece))
    on_piece(works, piece, Outcome.REPAIR, following=BUSHING, reason="build it up")
    assert stands(piece.place) == ("blocked", "repair")
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_what_was_noted_before_a_piece_was_accepted_is_settled_by_that(works):
    piece = works.piece(State.CRACK_CHECKED)
    on_piece(works, piece, Outcome.ACCEPT, provisional=True, reason="looks good")
    works.accept(piece)
    assert stands(piece.place) == ("ready", "")


def test_a_decision_is_superseded_never_edited(works):
    piece = works.piece(State.CLEANED)
    first = on_piece(works, piece, Outcome.ACCEPT, provisional=True, reason="looks good")
    second = on_piece(works, piece, Outcome.REPAIR, following=BUSHING, reason="bore oval")
    assert (second.supersedes, fresh(first).superseded_by) == (first, second)
    assert list(Decision.objects.about_piece(piece).in_force()) == [second]


def test_a_safety_critical_piece_is_the_responsible_engineers_to_decide(works):
    piece = works.piece(State.CLEANED, place=works.critical_place())
    with refused("role"):
        on_piece(works, piece, Outcome.REPAIR, actor=works.people.fitter, following=BUSHING)
    plain = works.piece(State.CLEANED)
    on_piece(works, plain, Outcome.REPAIR, actor=works.people.fitter, following=BUSHING)
    on_piece(works, piece, Outcome.REPAIR, following=BUSHING)


def test_the_options_weighed_are_kept_with_it(works):
    piece = works.piece(State.CLEANED)
    options = [
        Weighed(
            what="weld up", estimate=Decimal("350.00"), takes=2, risk="may crack again", keeps="all", keeps_percent=98,
            chosen=True,
        ),
        Weighed(what="cast a new one", estimate=Decimal("2400"), currency="EUR", takes=5, unit="months"),
    ]  # fmt: skip
    decision = on_piece(works, piece, Outcome.REPAIR, following=BUSHING, options=options)
    kept = list(decision.options.all())
    assert [(o.what, o.estimate, o.currency, o.takes, o.unit) for o in kept] == [
        ("weld up", Decimal("350.00"), "GBP", 2, "weeks"),
        ("cast a new one", Decimal("2400"), "EUR", 5, "months"),
    ]
    assert decision.event.data["chosen"] == "weld up"


@for_each(
    "option",
    [
        Weighed(what=" "),
        Weighed(what="weld", estimate=Decimal("-5")),
        Weighed(what="weld", currency="euro"),
        Weighed(what="weld", keeps_percent=101),
        Weighed(what="weld", takes=-1),
        Weighed(what="weld", unit="moons"),
        Weighed(what="x" * 201),
    ],
)
def test_an_option_that_cannot_be_so_is_refused_by_its_number(works, option):
    piece = works.piece(State.CLEANED)
    with refused("option-2"):
        on_piece(works, piece, Outcome.REPAIR, following=BUSHING, options=[Weighed(what="bush"), option])


def test_one_option_at_most_is_the_chosen_one(works):
    piece = works.piece(State.CLEANED)
    both = [Weighed(what="weld", chosen=True), Weighed(what="bush", chosen=True)]
    with refused("options"):
        on_piece(works, piece, Outcome.REPAIR, following=BUSHING, options=both)


def test_it_rests_on_examinations_and_photos_of_this_piece(works):
    piece, other = works.piece(State.CLEANED), works.piece(State.CLEANED)
    record = sign(piece, works.people.examiner, kind="visual", result="defect", found="oval")
    strange = sign(other, works.people.examiner, kind="visual", result="defect", found="oval")
    by = works.people.examiner
    photo = Photo.objects.create(name="a", original_suffix=".jpg", component=piece, width=9, height=9, by=by)
    elsewhere = Photo.objects.create(name="b", original_suffix=".jpg", component=other, width=9, height=9, by=by)
    with refused("examined", "photos"):
        on_piece(works, piece, Outcome.REPAIR, following=BUSHING, examined=[strange.event], photos=[elsewhere])
    decision = on_piece(works, piece, Outcome.REPAIR, following=BUSHING, examined=[record.event], photos=[photo])
    assert list(decision.examined.all()) == [record.event]
    assert list(decision.photos.all()) == [photo]


def test_a_decision_that_rests_on_a_record_decides_what_it_found(works):
    """Only the responsible engineer's, and not where the engineer did the work: findings are decided by no one else."""
    piece = works.piece(State.CLEANED)
    found = sign(piece, works.people.examiner, kind="visual", result="defect", found="bore oval").event
    on_piece(works, piece, Outcome.REPAIR, actor=works.people.fitter, following=BUSHING, examined=[found])
    assert stands(piece.place) == ("blocked", "decide")
    on_piece(works, piece, Outcome.REPAIR, following=BUSHING, examined=[found])
    assert stands(piece.place) == ("blocked", "repair")
    assert not any("waits for a decision" in reason for reason in reasons(piece.place))
    on_piece(works, piece, Outcome.RENEW, following=BUYING, examined=[found])
    assert any("waits to be renewed;" in reason for reason in reasons(piece.place))
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_the_second_of_two_people_is_told_who_was_quicker(works):
    piece = works.piece(State.CLEANED)
    seen = piece.last_event
    on_piece(works, piece, Outcome.REPAIR, following=BUSHING, seen=seen)
    with refused("stale"):
        on_piece(works, piece, Outcome.WITHDRAW, following=SCRAPPING, seen=seen)


def test_a_hold_point_stops_the_action_that_the_decision_is(works):
    from parts.holds import writers as holds

    piece = works.piece(State.CRACK_CHECKED)
    holds.add_hold(
        works.locomotive.open_overhaul(), works.people.engineer, name="survey", stops=["accept"], body="the owner",
        component=piece,
    )  # fmt: skip
    with refused("hold"):
        on_piece(works, piece, Outcome.ACCEPT, following=ACCEPTED)


# --- an empty place


def test_an_empty_place_is_left_empty_and_no_longer_required(works):
    place = an_empty_place(works)
    decide(works.people.engineer, position=place, outcome=Outcome.LEAVE, reason="fitted to the first two engines only")
    assert stands(place) == ("not required", "")


def test_until_somebody_decides_to_renew_it_after_all(works):
    place, engineer = an_empty_place(works), works.people.engineer
    first = decide(engineer, position=place, outcome=Outcome.LEAVE, reason="not needed")
    second = decide(engineer, position=place, outcome=Outcome.RENEW, reason="needed", following=BUYING)
    assert second.supersedes == first
    assert stands(place) == ("blocked", "await")


def test_a_place_that_never_was_required_stays_so(works):
    place = an_empty_place(works, required=False)
    engineer = works.people.engineer
    decide(engineer, position=place, outcome=Outcome.LEAVE, reason="not needed")
    decide(engineer, position=place, outcome=Outcome.RENEW, reason="nice to have", following=BUYING)
    assert stands(place) == ("not required", "")


def test_a_place_with_a_renewal_under_way_or_a_piece_in_it_is_not_left(works):
    place, filled = an_empty_place(works), works.piece(State.CLEANED).place
    a_renewal(works, place)
    with refused("already-open"):
        decide(works.people.engineer, position=place, outcome=Outcome.LEAVE, reason="not needed")
    with refused("not-empty", "filled"):
        decide(works.people.engineer, position=filled, outcome=Outcome.LEAVE, reason="not needed")


def test_a_provisional_decision_on_an_empty_place_is_told(works):
    place = an_empty_place(works)
    decide(works.people.manager, position=place, outcome=Outcome.LEAVE, reason="ask the owner", provisional=True)
    assert stands(place) == ("blocked", "source")
    assert any("only provisionally decided, to leave (Manager" in reason for reason in reasons(place))
