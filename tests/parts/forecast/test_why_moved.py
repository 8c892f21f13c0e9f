"""Why the forecast moved between two that were kept, from what was really done in an invented works."""

from contextlib import contextmanager
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from core.models import Event
from parts.actions.undo import correct, undo
from parts.domain.forecast_words import Kept
from parts.domain.words import State
from parts.forecast import writers
from parts.forecast.forecast_context import moved_rows
from parts.work.writers.steps import promise_step
from tests.factories import a_works, days
from tests.parts.jobs import a_firm, a_renewal, steps_of

pytestmark = pytest.mark.django_db
EARLY, LATE = days(-1), days(3)


def kept(moved_by: int) -> list[Kept]:
    half = date(2031, 3, 3)
    later = date.fromordinal(half.toordinal() + moved_by)
    return [Kept(EARLY, half, None, {"frames": (half, None)}), Kept(LATE, later, None, {"frames": (later, None)})]


@contextmanager
def a_month_ago(monkeypatch):
    then = timezone.now() - timedelta(days=30)
    with monkeypatch.context() as patched:
        patched.setattr(timezone, "now", lambda: then)
        patched.setattr(Event._meta.get_field("at"), "_get_default", lambda: then)
        yield


def why_of(works, moved_by: int) -> str:
    (latest, *_) = moved_rows(works.locomotive, kept(moved_by), days(3))
    return " ".join(latest.why)


def test_a_firm_that_moved_its_promise_is_named_with_what_and_by_how_much(works):
    """Promised for the 30th day from today, moved to the 51st and then to the 79th: 49 days, which are 7 weeks."""
    step = steps_of(a_renewal(works))[0]
    step.firm, step.promised = a_firm(works, name="Invented Foundry"), days(30)
    step.save()
    for new in (days(51), days(79)):
        promise_step(step, works.people.manager, new=new, why="the pattern cracked (invented)")
        step.refresh_from_db()
    told = why_of(works, 40)
    assert told.startswith(f"Invented Foundry moved the {step.renewal.position.words} from ")
    assert told.partition(".")[0].endswith(": +7 weeks")


def test_what_was_accepted_speaks_against_a_later_date_and_for_an_earlier_one(works):
    for side in ("LH", "RH"):
        works.piece(State.ACCEPTED, place=works.place(name="axlebox", side=side))
    assert "Two axleboxes were accepted." in why_of(works, -21)
    assert "Against that: two axleboxes were accepted." in why_of(works, 21)
    assert "nothing was accepted" not in why_of(works, 21)


def test_what_comes_off_again_is_told_as_that_and_not_as_accepted(works, monkeypatch):
    """It was accepted and refitted before the earlier forecast, and nothing but this came after."""
    with a_month_ago(monkeypatch):
        piece = works.piece(State.ACCEPTED, place=works.place(name="axlebox"))
        works.refit(piece)
    works.do("take off", piece, works.people.fitter, reason="a bolt was wanted behind it")
    told = why_of(works, 21)
    assert "One axlebox was taken off again." in told
    assert "was accepted" not in told.replace("Nothing was accepted", "")
    assert "Nothing was accepted" in told


def test_a_refit_that_is_undone_is_no_cause_and_one_of_an_earlier_time_speaks_for_later(works, monkeypatch):
    with a_month_ago(monkeypatch):
        piece, other = (works.piece(State.ACCEPTED, place=works.place(name=name)) for name in ("axlebox", "horn stay"))
        earlier = works.do("refit", other, works.people.fitter)
    refit = works.do("refit", piece, works.people.fitter)
    assert "One axlebox was refitted." in why_of(works, -21)
    undo(refit.pk, works.people.fitter)
    told = why_of(works, 21)
    assert "axlebox" not in told
    assert "Nothing was accepted" in told
    correct(earlier.pk, works.people.manager, reason="it was the other side")
    assert "One horn stay was not refitted after all." in why_of(works, 21)


def test_a_piece_refitted_twice_is_one_piece_and_one_left_alone_is_not_refitted(works):
    piece = works.piece(State.REFITTED, place=works.place(name="axlebox"))
    works.do("take off", piece, works.people.fitter, reason="a bolt was wanted behind it")
    works.refit(piece)
    assert "One axlebox was refitted." in why_of(works, -21)
    left = works.piece(State.IN_PLACE, place=works.place(name="brake hanger"))
    works.do("leave alone", left, works.people.engineer, reason="good for this time")
    told = why_of(works, -21)
    assert "One brake hanger was left as it is." in told
    assert "hanger was refitted" not in told


def test_where_nothing_was_done_and_it_is_later_that_is_said_with_the_subassembly(works):
    told = why_of(works, 21)
    assert "Nothing was accepted, renewed or refitted in between." in told
    assert f"Most: {works.frames.name}." in told
    assert why_of(works, 0) == ""


def test_a_guess_is_told_from_the_first_to_the_last_of_the_time(works):
    guess = {"least": Decimal(1), "most": Decimal(90), "hands": 2, "steps": 9}
    for likely in (20, 25, 32):
        writers.guess_work_left(works.people.manager, works.frames, likely=Decimal(likely), **guess)
    assert "Frames was guessed at 32 open days." in why_of(works, 21)
    other = a_works(people=works.people)
    writers.guess_work_left(works.people.manager, other.frames, likely=Decimal(70), **guess)
    assert "70" not in why_of(works, 21)  # what is of another locomotive moves nothing here


def test_faults_that_a_look_found_push_it_later(works):
    piece = works.piece(State.CLEANED, place=works.place(name="brake hanger"))
    works.find_fault(piece)
    assert "One brake hanger was found faulty." in why_of(works, 21)


def test_the_queries_do_not_grow_with_what_happened(works, django_assert_max_num_queries):
    works.piece(State.ACCEPTED)
    with django_assert_max_num_queries(9):
        moved_rows(works.locomotive, kept(21), days(3))
    for _ in range(4):
        works.piece(State.ACCEPTED)
    with django_assert_max_num_queries(9):
        moved_rows(works.locomotive, kept(21), days(3))
