"""Patterns: entered with a tag, checked, sent out and fetched back; what is cast from them; what depends on them."""

from fractions import Fraction

import pytest
from django.db import IntegrityError, transaction

from core.domain.refusals import Refused
from core.models import Event
from parts.actions.tags import unused
from parts.foundry.writers import patterns
from parts.foundry.writers.castings import add_casting, remove_casting
from parts.foundry.writers.contractions import add_contraction, strike_out
from parts.models import Casting, Contraction, Movement, Pattern
from parts.queries.dependents import dependents
from parts.stores.writers import retire_location
from parts.tags.writers import tie
from parts.work.writers import renewals, steps
from tests.factories import days, events_of, fresh
from tests.parts.actions.standard import everything
from tests.parts.jobs import a_firm, a_renewal, steps_of


def a_pattern(works, **entered) -> Pattern:
    return patterns.add_pattern(works.people.fitter, **{"name": "axlebox", "location": works.crate} | entered)


def bring(works, pattern, to, actor=None, **entered) -> Pattern:
    patterns.change_state(fresh(pattern), actor or works.people.fitter, to=to, **{"remark": "looked over"} | entered)
    return fresh(pattern)


def refused(deed) -> list[str]:
    """The codes of what stands against it, and that nothing was written."""
    before = everything() | {"patterns": list(Pattern.objects.values())}
    with pytest.raises(Refused) as caught:
        deed()
    assert everything() | {"patterns": list(Pattern.objects.values())} == before
    return [refusal.code for refusal in caught.value.refusals]


def test_it_enters_as_found_with_a_tag_and_a_place(works):
    (tag,) = unused(1)
    pattern = a_pattern(works, code=tag.code, drawing="GW 114", positions=[works.plain_place()])
    assert (pattern.state, pattern.location, pattern.normal_location) == ("as found", works.crate, works.crate)
    assert pattern.tags.current_code() == tag.code
    event = events_of(pattern).get(action="enter pattern")
    assert (event.actor, event.movement.went_to, pattern.last_event) == (works.people.fitter, works.crate, event.pk)
    assert a_pattern(works).tags.current_code()


def test_who_may_and_what_it_must_say(works):
    assert refused(lambda: patterns.add_pattern(works.people.volunteer, name="axlebox")) == ["role"]
    assert refused(lambda: a_pattern(works, name=" ")) == ["name"]
    assert refused(lambda: a_pattern(works, allows="1/10")) == ["allows"]
    assert refused(lambda: a_pattern(works, name="x" * 161)) == ["name"]
    assert refused(lambda: a_pattern(works, code="not a tag")) == ["tag"]


def test_out_to_the_foundry_and_back(works):
    pattern, firm = a_pattern(works), a_firm(works)
    assert refused(lambda: bring(works, pattern, "at the foundry", firm=firm)) == ["not-checked"]
    assert refused(lambda: bring(works, pattern, "checked", remark="")) == ["remark"]
    bring(works, pattern, "checked")
    assert refused(lambda: bring(works, pattern, "at the foundry")) == ["firm"]
    gone = {"firm": firm, "promised_back": days(-1)}
    assert refused(lambda: bring(works, pattern, "at the foundry", **gone)) == ["promised"]
    bring(works, pattern, "at the foundry", firm=firm, promised_back=days(9))
    assert (pattern.firm, pattern.location, pattern.promised_back) == (firm, firm.location, days(9))
    assert refused(lambda: patterns.move_pattern(pattern, works.crate, works.people.volunteer)) == ["state"]
    assert refused(lambda: bring(works, pattern, "checked")) == ["state"]
    assert refused(lambda: bring(works, pattern, "back", location=firm.location)) == ["location"]
    bring(works, pattern, "back", location=works.crate)
    assert (pattern.firm, pattern.location, pattern.promised_back) == (None, works.crate, None)
    went = [str(move.went_to) for move in Movement.objects.filter(pattern=pattern).order_by("pk")]
    assert went == [works.crate.path, firm.location.path, works.crate.path]
    entered = [e.data for e in events_of(pattern).filter(action="pattern state").order_by("pk")]
    assert [(one["before"], one["after"]) for one in entered] == [
        ("as found", "checked"), ("checked", "at the foundry"), ("at the foundry", "back"),
    ]  # fmt: skip


def test_only_the_engineer_sends_out_one_that_nobody_looked_over_and_says_why(works):
    pattern, entered = a_pattern(works), {"firm": a_firm(works), "override": "the foundry mends it"}
    assert refused(lambda: bring(works, pattern, "at the foundry", **entered)) == ["not-checked"]
    bring(works, pattern, "at the foundry", works.people.engineer, **entered)
    event = Event.objects.get(pk=pattern.last_event)
    assert event.data["override"] == "the foundry mends it"
    assert event.data["passed_over"] == ["Axlebox pattern has not been looked over since it was found."]


def test_the_foundry_names_another_day(works):
    pattern = bring(works, a_pattern(works), "checked")
    assert refused(lambda: patterns.promise_pattern(pattern, works.people.fitter, new=days(5))) == ["state"]
    bring(works, pattern, "at the foundry", firm=a_firm(works), promised_back=days(9))
    assert refused(lambda: patterns.promise_pattern(pattern, works.people.fitter, new=days(20))) == ["why"]
    patterns.promise_pattern(pattern, works.people.fitter, new=days(20), why="their furnace is down")
    event = Event.objects.get(pk=fresh(pattern).last_event)
    assert (event.data["old"], event.data["new"]) == (days(9).isoformat(), days(20).isoformat())


def test_somebody_was_quicker(works):
    pattern = a_pattern(works)
    seen = pattern.last_event
    bring(works, pattern, "checked")
    assert refused(lambda: bring(works, pattern, "mended", seen=seen)) == ["stale"]


def test_moves_and_a_crate_that_is_not_empty(works):
    pattern = a_pattern(works)
    assert refused(lambda: retire_location(works.crate, works.people.storekeeper)) == ["not-empty"]
    patterns.move_pattern(pattern, works.locomotive.location, works.people.volunteer)
    assert fresh(pattern).location == works.locomotive.location
    retire_location(works.crate, works.people.storekeeper)


def test_a_torn_tag_is_replaced_and_still_leads_there(works):
    pattern, (tag,) = a_pattern(works), unused(1)
    old = pattern.tags.get()
    tie(tag.code, pattern, works.people.volunteer)
    assert pattern.tags.current_code() == tag.code
    assert fresh(old).pattern == pattern
    assert refused(lambda: tie(tag.code, works.crate, works.people.volunteer)) == ["tag-tied"]


def test_the_database_refuses_half_truths(works):
    pattern = a_pattern(works)
    for wrong in ({"state": "at the foundry"}, {"goes_with": pattern}, {"name": ""}, {"state": "lost"}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Pattern.objects.filter(pk=pattern.pk).update(**wrong)
    with pytest.raises(IntegrityError), transaction.atomic():
        pattern.tags.update(component=works.piece())


# --- what is cast from it


def cast_step(renewal):
    return next(step for step in steps_of(renewal) if step.name == "cast it")


def test_the_casting_waits_until_the_pattern_and_its_core_box_are_looked_over(works):
    renewal, pattern = a_renewal(works), a_pattern(works)
    box = a_pattern(works, kind="core box", goes_with=pattern)
    renewals.choose_pattern(renewal, pattern, works.people.manager)
    step = cast_step(renewal)
    assert refused(lambda: steps.finish_step(step, works.people.manager)) == ["pattern", "pattern"]
    bring(works, pattern, "mended")
    assert refused(lambda: steps.finish_step(step, works.people.manager, override="in a hurry")) == ["pattern"]
    bring(works, box, "checked")
    steps.finish_step(step, works.people.manager)
    assert fresh(step).ended == "done"


def test_back_from_an_earlier_casting_is_not_looked_over_for_this_one(works):
    pattern, firm = bring(works, a_pattern(works), "checked"), a_firm(works)
    bring(works, pattern, "at the foundry", firm=firm)
    bring(works, pattern, "back", location=works.crate)
    renewal = a_renewal(works)
    renewals.choose_pattern(renewal, pattern, works.people.manager)
    step = cast_step(renewal)
    assert refused(lambda: steps.finish_step(step, works.people.manager)) == ["pattern"]
    bring(works, pattern, "checked")
    bring(works, pattern, "at the foundry", firm=firm)
    bring(works, pattern, "back", location=works.crate)
    steps.finish_step(step, works.people.manager)


def test_the_engineer_passes_over_it_with_a_reason_that_is_kept(works):
    renewal = a_renewal(works)
    renewals.choose_pattern(renewal, a_pattern(works), works.people.manager)
    steps.finish_step(cast_step(renewal), works.people.engineer, override="a trial casting, to be cut up")
    event = Event.objects.get(action="finish step")
    assert event.data["override"] == "a trial casting, to be cut up"
    assert event.data["passed_over"] == ["Axlebox pattern is as found: nobody has checked it or mended it."]


@pytest.mark.engine
def test_the_new_piece_is_its_casting(works):
    renewal, pattern = a_renewal(works), bring(works, a_pattern(works), "checked")
    renewals.choose_pattern(renewal, pattern, works.people.manager)
    piece = renewals.begin_piece(renewal, works.people.manager, name="axlebox casting")
    steps.finish_step(cast_step(renewal), works.people.manager)
    assert [casting.component for casting in pattern.castings.all()] == [piece]


@pytest.mark.engine
def test_a_casting_is_added_by_hand_once_and_taken_off_with_a_reason(works):
    pattern, piece = a_pattern(works), works.piece()
    casting = add_casting(pattern, piece, works.people.fitter)
    assert refused(lambda: add_casting(pattern, piece, works.people.fitter)) == ["piece"]
    assert refused(lambda: remove_casting(casting, works.people.fitter, reason=" ")) == ["reason"]
    remove_casting(casting, works.people.fitter, reason="it has another foundry's mark")
    assert not Casting.objects.exists()
    assert [event.action for event in events_of(pattern).order_by("-pk")[:2]] == [
        "not cast from", "cast from",
    ]  # fmt: skip


# --- what depends on it


def test_withdrawing_says_first_what_depends_on_it(works):
    pattern, renewal = bring(works, a_pattern(works), "checked"), a_renewal(works)
    a_pattern(works, kind="core box", goes_with=pattern)
    renewals.choose_pattern(renewal, pattern, works.people.manager)
    with pytest.raises(Refused) as caught:
        bring(works, pattern, "withdrawn")
    assert [refusal.code for refusal in caught.value.refusals] == ["depended-on"]
    assert f"The renewal of {renewal.position.words} will be cast from it." in str(caught.value)
    assert "1 core box or other part goes with it." in str(caught.value)
    bring(works, pattern, "withdrawn", confirmed=True)
    other = a_renewal(works)
    assert refused(lambda: renewals.choose_pattern(other, pattern, works.people.manager)) == ["pattern"]
    assert bring(works, pattern, "as found").state == "as found"


def test_withdrawing_the_piece_it_was_made_after_says_so(works):
    piece = works.piece()
    pattern = a_pattern(works, reference=piece)
    assert dependents(piece) == ("Axlebox pattern was made after it, and is checked against it.",)
    assert refused(lambda: add_casting(pattern, piece, works.people.fitter)) == ["piece"]


def test_what_goes_with_what_is_one_deep(works):
    pattern = a_pattern(works)
    box = a_pattern(works, kind="core box", goes_with=pattern)
    assert refused(lambda: a_pattern(works, kind="core box", goes_with=box)) == ["goes_with"]
    fitter, other = works.people.fitter, a_pattern(works)
    for head in (pattern, other):
        assert refused(lambda head=head: patterns.describe_pattern(pattern, fitter, goes_with=head)) == ["goes_with"]


# --- the figures


def test_a_figure_has_a_source_and_is_bettered_not_edited(works):
    engineer, shipped = works.people.engineer, Contraction.objects.in_force().count()
    entered = {"metal": "Cast Iron", "ratio": Fraction(1, 120), "as_written": "1/10 in per foot"}
    assert refused(lambda: add_contraction(engineer, source=" ", **entered)) == ["source"]
    assert refused(lambda: add_contraction(works.people.fitter, source="trial bars", **entered)) == ["role"]
    first = add_contraction(engineer, source="trial bars", **entered)
    assert (first.metal, first.exact) == ("cast iron", Fraction(1, 120))
    better = add_contraction(engineer, source="more trial bars", replaces=first, **entered)
    assert Contraction.objects.in_force().count() == shipped + 1
    assert refused(lambda: strike_out(first, engineer, why="again")) == ["stale"]
    assert refused(lambda: strike_out(better, engineer, why=" ")) == ["why"]
    strike_out(better, engineer, why="the bars were of another iron")
    assert Contraction.objects.in_force().count() == shipped
    assert set(Contraction.objects.past()) == {first, better}


def test_the_shipped_figures_are_there_with_their_sources(db):
    iron = [str(row.exact) for row in Contraction.objects.in_force().filter(metal="cast iron") if row.exact]
    assert iron == ["1/96", "1/128", "1/96"]
    assert all(row.source for row in Contraction.objects.all())
