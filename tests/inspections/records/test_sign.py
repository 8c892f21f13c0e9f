"""Signing an examination: who may, what it must say, and the step that the last signature makes by itself."""

import pytest

from core.models import Authorisation
from inspections.records.writers.signing import sign
from parts.domain.words import Kind, Method, State
from tests.factories import days, events_of, fresh, how_checked
from tests.parts.actions.standard import refused, standing

CHECK = {
    "kind": Kind.CRACK_CHECK, "method": Method.MAGNETIC_PARTICLE,
    "check": how_checked(Method.MAGNETIC_PARTICLE),
}  # fmt: skip
BOTH = ["journal", "wheel seat"]


def signed(works, piece, actor=None, **entered):
    record = sign(piece, actor or works.people.examiner, **{"kind": Kind.VISUAL, "result": "sound"} | entered)
    fresh(piece)
    return record


def test_a_record_says_who_when_what_and_how(works):
    piece = works.piece(State.CLEANED, place=works.critical_place())
    record = signed(
        piece=piece, works=works, **CHECK, reached=["wheel seat", "journal"], not_reached=["bore"], remarks="by yoke",
        on=days(-1),
    )  # fmt: skip
    assert (record.signed_by, record.on, record.position) == (works.people.examiner, days(-1), piece.place)
    assert (record.reached, record.not_reached, record.remarks) == (BOTH, ["bore"], "by yoke")
    assert record.signed_at is not None
    assert record.event.data == {"kind": "crack check", "method": "magnetic particle", "result": "sound"}


def test_signing_the_last_record_that_it_needs_makes_the_piece_crack_checked(works):
    piece = works.piece(State.CLEANED, place=works.critical_place())
    signed(works, piece, **CHECK, reached=["journal"])
    assert piece.state == State.CLEANED
    assert standing(piece.place) == ("blocked", "crack-check")
    signed(works, piece, **CHECK, reached=["wheel seat"])
    assert piece.state == State.CRACK_CHECKED
    step = events_of(piece).get(pk=piece.last_event)
    assert (step.action, step.actor) == ("crack-check", works.people.examiner)


def test_a_look_at_a_piece_whose_place_calls_for_no_crack_check_leaves_it_cleaned_and_to_be_accepted(works):
    piece = works.piece(State.CLEANED)
    signed(works, piece)
    assert piece.state == State.CLEANED
    assert not events_of(piece).filter(action="crack-check").exists()
    assert standing(piece.place) == ("blocked", "sign")


def test_sizes_do_not_make_it_crack_checked(works):
    piece = works.piece(State.CLEANED, place=works.critical_place())
    works.measure(piece, {works.dimension(piece.place): "124.96"})
    assert piece.state == State.CLEANED


def test_an_indication_makes_no_step_and_waits_for_a_decision(works):
    piece = works.piece(State.CLEANED, place=works.critical_place())
    signed(works, piece, **CHECK, reached=BOTH, result="indication", found="12 mm in the fillet")
    assert (piece.state, piece.quarantined) == (State.CLEANED, True)
    assert standing(piece.place) == ("blocked", "decide")


@pytest.mark.parametrize("person", ["volunteer", "storekeeper", "fitter", "manager", "trustee"])
def test_others_sign_nothing(works, person):
    piece = works.piece(State.CLEANED)
    with refused("role"):
        signed(works, piece, getattr(works.people, person))


def test_an_examiner_signs_only_what_he_is_authorised_to_sign_and_only_while_it_lasts(works):
    piece, examiner = works.piece(State.CLEANED), works.people.examiner
    mine = Authorisation.objects.filter(person=examiner, kind=Kind.VISUAL)
    mine.update(until=days(-1))
    with refused("not-authorised"):
        signed(works, piece)
    mine.update(until=days(0))
    signed(works, piece)


def test_the_responsible_engineer_too_signs_only_within_an_authorisation(works):
    piece = works.piece(State.CLEANED)
    with refused("not-authorised"):
        signed(works, piece, works.people.engineer)
    signed(works, piece, works.people.second_engineer)


def test_one_method_is_not_another(works):
    piece = works.piece(State.CLEANED)
    Authorisation.objects.filter(person=works.people.examiner, method=Method.PENETRANT).delete()
    with refused("not-authorised"):
        signed(works, piece, kind=Kind.CRACK_CHECK, method=Method.PENETRANT, check=how_checked(Method.PENETRANT))


def test_behind_a_record_stands_the_certificate_of_its_own_method(works):
    held = {Method.MAGNETIC_PARTICLE: ("MT 2 (invented)", days(9)), Method.PENETRANT: ("PT 1 (invented)", days(5))}
    for method, (level, until) in held.items():
        mine = Authorisation.objects.filter(person=works.people.examiner, method=method)
        mine.update(level=level, until=until)
    for method, (level, until) in held.items():
        piece = works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.ANY))
        record = signed(works, piece, kind=Kind.CRACK_CHECK, method=method, check=how_checked(method))
        assert (record.crack_check.examiner_level, record.crack_check.examiner_until) == (level, until)
        assert (record.subject["level"], record.subject["good until"]) == (level, until.isoformat())


@pytest.mark.parametrize(
    ("entered", "code"),
    [
        ({"kind": "smell"}, "kind"),
        ({"method": "penetrant"}, "method"),
        ({"result": "fine", "found": "nothing"}, "result"),
        ({"result": "indication", "found": "12 mm"}, "result"),  # only a crack check shows indications
        ({"result": "defect", "found": " "}, "found"),
        ({"on": days(1)}, "on"),
        ({"look_again": days(0)}, "look-again"),
    ],
)
def test_each_bad_answer_is_refused_by_name(works, entered, code):
    piece = works.piece(State.CLEANED)
    with refused(code):
        signed(works, piece, **entered)


@pytest.mark.parametrize("method", ["", "any", "dowsing"])
def test_a_crack_check_says_its_method(works, method):
    piece = works.piece(State.CLEANED)
    with refused("method"):
        signed(works, piece, kind=Kind.CRACK_CHECK, method=method)


@pytest.mark.parametrize("state", [State.IN_PLACE, State.STRIPPED, State.WITHDRAWN])
def test_a_dirty_piece_or_one_that_is_out_of_the_overhaul_is_not_examined(works, state):
    piece = works.piece(state)
    with refused("state"):
        signed(works, piece)


def test_a_stale_form_is_refused(works):
    piece = works.piece(State.CLEANED)
    seen = piece.last_event
    signed(works, piece)
    with refused("stale"):
        signed(works, piece, seen=seen)


def test_a_new_record_supersedes_an_old_one_of_the_same_piece_and_kind_once(works):
    piece, other = works.examined(), works.examined()
    first = piece.examinations.get()
    with refused("supersedes"):
        signed(works, other, supersedes=first)
    with refused("supersedes"):
        signed(works, piece, supersedes=first, **CHECK)
    signed(works, piece, supersedes=first)
    with refused("superseded"):
        signed(works, piece, supersedes=first)


def test_a_refitted_piece_whose_record_is_superseded_by_a_bad_one_is_in_doubt(works):
    piece = works.piece(State.REFITTED)
    signed(works, piece, supersedes=piece.examinations.get(), result="defect", found="worn hollow")
    assert piece.state == State.REFITTED
    assert standing(piece.place) == ("refitted", "recheck")


def test_a_sound_look_answers_the_look_again_date_that_has_come_and_may_set_the_next(works):
    piece = works.piece(State.REFITTED)
    type(piece).objects.filter(pk=piece.pk).update(look_again=days(-1))
    signed(works, fresh(piece), look_again=days(200))
    assert piece.look_again == days(200)


def due_again(works, place=None, on=None):
    piece = works.piece(State.REFITTED, place=place)
    type(piece).objects.filter(pk=piece.pk).update(look_again=on or days(-1))
    return fresh(piece)


def test_a_look_that_found_a_fault_answers_no_look_again_date_and_sets_none(works):
    piece = due_again(works)
    with refused("look-again"):
        signed(works, piece, result="defect", found="worn hollow", look_again=days(200))
    signed(works, piece, result="defect", found="worn hollow")
    assert piece.look_again == days(-1)


def test_another_look_than_the_one_asked_or_a_part_of_it_may_only_bring_the_day_nearer(works):
    piece = due_again(works, works.critical_place())
    signed(works, piece, look_again=days(200))
    signed(works, piece, **CHECK, reached=["journal"], look_again=days(200))
    assert piece.look_again == days(-1)
    later = due_again(works, works.critical_place(), on=days(300))
    signed(works, later, look_again=days(200))
    assert later.look_again == days(200)
    signed(works, piece, **CHECK, reached=BOTH, look_again=days(200))
    assert piece.look_again == days(200)


def test_a_look_from_before_the_day_it_was_due_does_not_answer_it(works):
    piece = due_again(works)
    signed(works, piece, on=days(-2), remarks="seen at the fitting")
    assert piece.look_again == days(-1)


def test_a_look_dated_before_the_last_cleaning_says_in_the_remarks_why_it_holds(works):
    piece = works.piece(State.CLEANED)
    with refused("on"):
        signed(works, piece, on=days(-1))
    assert signed(works, piece, on=days(-1), remarks="washed again for the photo only").on == days(-1)


def test_a_sound_crack_check_that_reached_no_surface_named_is_refused(works):
    piece = works.piece(State.CLEANED, place=works.critical_place())
    with refused("reached"):
        signed(works, piece, **CHECK, reached=["bore"])
    weld = {"check": how_checked(Method.MAGNETIC_PARTICLE, stage="finished weld", reasons={})}
    record = signed(works, piece, **CHECK | weld)
    assert (record.not_reached, record.crack_check.answers) == ([], [])


def test_a_sound_look_before_the_day_leaves_the_day_as_it_is(works):
    piece = works.piece(State.REFITTED)
    before = piece.look_again
    signed(works, piece)
    assert piece.look_again == before


def test_cleaning_it_anew_undoes_the_look_but_not_the_sizes(works):
    piece = works.examined(works.plain_place(calls_for=[Kind.DIMENSIONAL]))
    works.do("send back", piece, works.people.fitter, reason="rust bloom", to=State.STRIPPED)
    works.clean(piece)
    assert standing(piece.place) == ("blocked", "examine")
