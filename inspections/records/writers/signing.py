"""Signing an examination: checked, judged, written and frozen in one transaction."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Event
from inspections.models import Examination
from inspections.records.actions import LOOKED_AT
from parts import facts
from parts.actions import writing
from parts.actions.crack_check import CRACK_CHECK
from parts.actions.perform import perform
from parts.actions.refresh import refresh
from parts.domain import rows
from parts.domain.exams_due import EXCAVATION, LOOKS, is_whole_look
from parts.domain.plain import day, listed
from parts.domain.rows import ActionInput
from parts.domain.states import refusals
from parts.domain.words import Kind, Method, Result, State
from parts.models import Component
from parts.queries.loading import bare_place, inside_of

from .. import digests
from ..sheet import TypedSize
from .crack_checks import CheckDetails, Mark, authorisation_behind, marks_of, write_crack_check
from .measurements import trouble_with, write_measurements
from .piece_tests import outside_in, stored, trouble_with_figures


def sign(
    component: Component, actor, *, kind: str, method: str = "", result: str, found: str = "", remarks: str = "",
    reached=(), not_reached=(), on: date | None = None, look_again: date | None = None,
    supersedes: Examination | None = None, lines: Sequence[TypedSize] = (), check: CheckDetails | None = None,
    marks: Sequence[Mark] = (), figures: Mapping[str, str] | None = None, seen: int | None = None,
    report: Mapping[str, Any] | None = None,
) -> Examination:  # fmt: skip
    """Sign an examination of a piece. Signing the last crack check that its place calls for makes that step itself.

    `lines` are the sizes measured, `check` how a crack check was done, `marks` each thing that it showed, `figures`
    those of a test of the piece. A size or figure outside its limits makes the result a defect, and a mark an
    indication, whatever was ticked. `report` is what the record says of the report over like pieces that it is part of.
    """
    writing.allow(actor, "examine")
    on = on or writing.today()
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        lines = [line for line in lines if not line.is_blank]
        whole = inside_of(component) if kind in LOOKS else ()
        inside = {inner.words for inner in whole}
        result, found = _came_to(result, found, [*_outside(lines), *outside_in(kind, figures, on)], marks)
        stage = check.stage if check else ""
        trouble = [
            *_troubles(component, actor, kind, method, result, found, on, look_again, supersedes, stage),
            *_too_early(component, kind, on, remarks),
            *_nothing_reached(component, kind, result, stage, reached, inside),
            *_both_ways(inside, reached, not_reached),
            *trouble_with(component, kind, lines),
            *trouble_with_figures(kind, result, figures, on),
        ]
        not_reached = _missed(component, kind, stage, reached, not_reached)
        shown, wrong_marks = marks_of(component, kind, method, check, marks, not_reached - inside)
        if trouble := [*trouble, *_unexplained(kind, not_reached - inside, remarks), *wrong_marks]:
            raise Refused(*trouble)
        said = {"kind": kind, "method": method, "result": result}
        examination = Examination.objects.create(
            **said, component=component, position_id=component.place_id, found=found.strip(), remarks=remarks.strip(),
            reached=sorted(reached), not_reached=sorted(not_reached), figures=stored(kind, figures), on=on,
            event=_logged(component, actor, said, found or remarks, report), supersedes=supersedes,
            subject={**subject_of(component, actor), **qualification_of(actor, kind, method), **(report or {})},
            form=digests.FORM,
        )  # fmt: skip
        write_measurements(examination, lines)
        write_crack_check(examination, actor, check, shown, not_reached - inside)
        _freeze(examination, actor)
        _answer_look_again(examination, component, stage, look_again, whole)
        _quarantine_if_cracked(component, result, shown)
        component.save()
        refresh(component.place_id)
        _step_if_last(component, actor)
        return examination


def _logged(component, actor, said: dict[str, str], remark: str, report) -> Event:
    return writing.log(
        actor,
        "sign examination",
        component=component,
        position_id=component.place_id,
        from_state=component.state,
        to_state=component.state,
        remark=remark,
        data=said | ({"report": report["report"]} if report else {}),
    )


def _quarantine_if_cracked(component, result, shown) -> None:
    if result == Result.INDICATION and (not shown or any(mark.crack for mark in shown)):
        component.quarantined = True


def _outside(lines) -> list[str]:
    return [line.measured.sentence for line in lines if line.measured and line.measured.outside]


def _came_to(result, found, outside, marks) -> tuple[str, str]:
    """What is outside its limits is a defect and a mark is an indication, in their own words if none were written."""
    if outside and result == Result.SOUND:
        result = Result.DEFECT.value
    if marks and result == Result.SOUND:
        result = Result.INDICATION.value
    if not found.strip():
        found = "; ".join([*outside, *(mark.in_words() for mark in marks)])
    return result, found


def _missed(component, kind, stage, reached, not_reached) -> set[str]:
    """Surfaces said not to be reached; of a crack check, each that its place names and the record does not. A check of
    one weld misses none: it is no check of the rest."""
    surfaces = component.place.surfaces if component.place and kind == Kind.CRACK_CHECK and not stage else ()
    return set(not_reached) | set(surfaces).difference(reached)


def _both_ways(inside, reached, not_reached):
    if twice := inside & set(reached) & set(not_reached):
        sentence = f"Say of {listed(sorted(twice))} either that it was reached or that it is out of reach."
        yield Refusal("inside_not_reached", sentence, "Untick one of the two.")


def _nothing_reached(component, kind, result, stage, reached, inside):
    surfaces = component.place.surfaces if component.place and kind == Kind.CRACK_CHECK and not stage else ()
    if result == Result.SOUND and surfaces and not ({*surfaces} | inside) & set(reached):
        yield Refusal(
            "reached",
            f"Tick each surface that was reached: {listed(sorted(surfaces))}. A check that reached none shows nothing.",
            "Or sign a check of the weld repair, if it was one.",
        )


def _too_early(component, kind, on, remarks):
    """A look from before the last cleaning or work saw another surface; the examiner may know why it still holds."""
    last = max(component.bared_event, component.cleaned_event if kind in LOOKS else 0)
    done = Event.objects.filter(pk=last).first() if on < writing.today() and not remarks.strip() else None
    if done and on < timezone.localdate(done.at):
        what = (
            f"{done.actor} sent the piece back" if done.action == "send back" else "the piece was cleaned or worked on"
        )
        yield Refusal(
            "on",
            f"Correct the day, or say in the remarks why the look still holds: {what} after it, "
            f"on {day(timezone.localdate(done.at))}.",
            "Or sign what is seen today.",
        )


def _unexplained(kind, not_reached, remarks):
    """A crack check asks for the reason itself (crack_evidence)."""
    if not_reached and kind != Kind.CRACK_CHECK and not remarks.strip():
        sentence = f"Write in the remarks why these were not reached: {listed(sorted(not_reached))}."
        yield Refusal("not-reached", sentence, "Or tick them, if they were.")


def subject_of(component, actor) -> dict:
    """The piece and the signer as they are named today: a record goes on saying so when they are renamed."""
    place = component.place
    return {
        "piece": component.name,
        "tag": component.tags.current_code() or "",
        "marks": component.marks,
        "cast number": component.cast_number,
        "quantity": component.quantity,
        "place": place.words if place else "",
        "subassembly": str(place.subassembly) if place else "",
        "drawing": place.drawing if place else "",
        "material": place.material if place else "",
        "locomotive": str(component.locomotive) if component.locomotive else "",
        "signed by": str(actor),
    }


def qualification_of(actor, kind: str, method: str) -> dict:
    """The authorisation that stands behind the signature, as it is today."""
    behind = authorisation_behind(actor, kind, method)
    until = behind.until if behind else None
    return {"level": behind.level if behind else "", "good until": until.isoformat() if until else ""}


def _freeze(examination, actor):
    """Everything is there: the signature closes it, and the database refuses any change from then on."""
    examination.signed_by, examination.signed_at = actor, timezone.now()
    examination.digest = digests.signed_now(examination)
    examination.save(update_fields=["signed_by", "signed_at", "digest"])


def _troubles(component, actor, kind, method, result, found, on, look_again, supersedes, stage):
    if kind not in list(Kind):
        yield Refusal("kind", f"Kind: “{kind}” is not known.", f"Choose one of: {', '.join(Kind)}.")
        return
    methods = [m.value for m in Method if m is not Method.ANY]
    word = f"{kind}: {method}" if method else kind
    if kind == Kind.CRACK_CHECK and method not in methods:
        yield Refusal("method", "Method: none chosen.", f"Choose one of: {', '.join(methods)}.")
    elif kind != Kind.CRACK_CHECK and method:
        yield Refusal("method", f"Method: a {kind} examination has none.", "Leave it blank.")
    elif word not in actor.as_actor(writing.today()).authorised:
        yield Refusal("not-authorised", f"You are not authorised to sign “{word}”.", "Ask an examiner who is.")
    if result not in list(Result) or (result == Result.INDICATION and kind != Kind.CRACK_CHECK):
        yield Refusal("result", "Result: none chosen that fits the examination.", "Choose sound, or what was found.")
    if result != Result.SOUND and not found.strip():
        yield Refusal("found", "What was found: nothing was written.", "Say where, what shape and how long.")
    if on > writing.today():
        yield Refusal("on", "Examined on: the day is still to come.", "Give the day of the examination.")
    if look_again and result != Result.SOUND:
        cure = "Leave it blank: what is decided of the finding says when it is looked at again."
        yield Refusal("look-again", "Look again on: something was found.", cure)
    elif look_again and look_again <= writing.today():
        yield Refusal("look-again", "Look again on: the day has passed.", "Give a later day, or leave it blank.")
    if component.state not in LOOKED_AT and not (stage == EXCAVATION and component.state == State.STRIPPED):
        yield Refusal("state", f"It is {component.state}, so it cannot be examined.", "Clean it first.")
    if supersedes is not None and (supersedes.component_id != component.pk or supersedes.kind != kind):
        yield Refusal("supersedes", "Supersedes: that is not an earlier record of the same kind.", "Choose another.")
    if supersedes is not None and hasattr(supersedes, "superseded_by"):
        yield Refusal("superseded", "Supersedes: that record was superseded already.", "Supersede the latest one.")


def _answer_look_again(examination, component, stage, look_again, inside):
    """A sound look at the whole piece, of the kind its place asks for, answers a look-again date that had come by then,
    and may set the next. Any other may only bring the date nearer."""
    if examination.result != Result.SOUND:
        return
    due, place = component.look_again, component.place
    row = rows.Examination(
        kind=Kind(examination.kind), method=examination.method, event=0, by=0, reached=frozenset(examination.reached),
        not_reached=frozenset(examination.not_reached), stage=stage,
    )  # fmt: skip
    if is_whole_look(replace(bare_place(place), inside=inside) if place else None, row):
        if look_again or (due and due <= examination.on):
            component.look_again = look_again
    elif look_again and (due is None or look_again < due):
        component.look_again = look_again


def _step_if_last(component, actor):
    place = component.place
    if component.state != State.CLEANED or place is None or not bare_place(place).crack_check_method:
        return
    case = facts.context(component, actor, given=ActionInput(), order=False)
    if not refusals(CRACK_CHECK, case):
        perform("crack-check", component, actor, ActionInput())
