"""Concessions: the responsible engineer accepts a size or a fit outside its shop limit; never a scrapped size."""

from datetime import date

from core.domain.refusals import Refusal, Refused
from inspections.fits.judging import judged
from parts import facts
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.domain.conceding import never_conceded
from parts.models import Component

from ..models import Concession, FindingDecision, Fit, Measurement


def concede(
    measurement: Measurement,
    actor,
    *,
    reason: str,
    look_again: date | None,
    paper: str = "",
    seen: int | None = None,
) -> Concession:
    """Let a size outside its shop limit go back in service, as measured in this record and until a day."""
    writing.allow(actor, "decide")
    with writing.one_transaction():
        component = writing.locked(measurement.examination.component_id)
        writing.not_stale(component, seen)
        trouble = list(trouble_with_size(measurement, component, actor)) + list(
            _unsaid(component, reason, look_again, paper)
        )
        if trouble:
            raise Refused(*trouble)
        made = _grant(actor, component, reason, look_again, paper, about=measurement.sentence, measurement=measurement)
        _settle_record(measurement.examination, actor, made)
        component.save(update_fields=["last_event"])
        refresh(component.place_id)
        return made


def trouble_with_size(measurement: Measurement, component: Component, actor):
    """Why no concession can be had on it: the same for greying the button and for stopping the form."""
    if not measurement.outside:
        yield Refusal("within", "The size is within its limits.", "It needs no concession.")
    if never_conceded(measurement.dimension.position.name):
        sentence = "Repair or renew the piece: no concession is given on an axle, a crank pin or a tyre."
        yield Refusal("never", sentence, "A size outside its limits there never goes back in service.")
    if measurement.beyond_scrapping:
        yield Refusal("scrapping", f"Beyond the scrapping limit: {measurement.sentence}.", "Repair or renew the piece.")
    if measurement.pk not in latest_of(component):
        yield Refusal("measured-again", "It has been measured again since, or worked on.", "Look at the latest record.")
    yield from _own_work(component, actor)


def latest_of(component: Component) -> set[int]:
    """The measurements of the piece that still count: the latest of each dimension since the last work on it."""
    taken = Measurement.objects.of_piece(component).filter(examination__event__gt=component.bared_event)
    return set({one.dimension_id: one.pk for one in taken}.values())


def _own_work(component, actor):
    case = facts.context(component, actor, order=False)
    if actor.pk in case.this_piece.workers:
        yield Refusal("own-work", "You recorded work on this piece.", "Another responsible engineer decides.")


def _unsaid(component, reason, look_again, paper):
    if not reason.strip():
        yield Refusal("reason", "Reason: nothing was written.", "Say why it may run as it is.")
    if look_again is None or look_again <= writing.today():
        yield Refusal("look-again", "Look again on: no day to come.", "Give the day by which it is looked at again.")
    if component.place and component.place.pressure_part and not paper.strip():
        yield Refusal(
            "paper", "On a pressure part a concession needs the inspecting body's paper.", "Give its reference."
        )


def _grant(actor, component, reason, look_again, paper, *, about: str, **on) -> Concession:
    event = writing.log(
        actor,
        "concede",
        component=component,
        position_id=component.place_id,
        remark=reason,
        data={"about": about, "look_again": look_again.isoformat(), "paper": paper.strip()},
    )
    return Concession.objects.create(
        reason=reason.strip(),
        look_again=look_again,
        paper=paper.strip(),
        event=event,
        granted_by=actor,
        granted_at=event.at,
        **on,
    )


def _settle_record(examination, actor, concession: Concession):
    """With every size under a concession, a record that found nothing else is decided: it stands as it is. What the
    examiner wrote in other words may be more than the sizes say, and is decided by itself."""
    outside = list(examination.measurements.filter(outside=True).order_by("id"))
    conceded = not examination.measurements.filter(outside=True, concessions__isnull=True).exists()
    if not conceded or examination.found != "; ".join(size.sentence for size in outside):
        return
    FindingDecision.objects.create(
        examination=examination,
        decision=FindingDecision.Decision.ACCEPT,
        reason=f"Under concession: {concession.reason}",
        event=concession.event,
        decided_by=actor,
        decided_at=concession.granted_at,
    )


def concede_fit(
    fit: Fit,
    component: Component,
    actor,
    *,
    hole: Measurement,
    shaft: Measurement,
    reason: str,
    look_again: date | None,
    paper: str = "",
    seen: int | None = None,
) -> Concession:
    """Let a pair run outside its limits, as both were last measured. `component` is the piece it was asked from."""
    writing.allow(actor, "decide")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        trouble = list(_unsaid(component, reason, look_again, paper)) + list(_own_work(component, actor))
        if hole.dimension_id != fit.hole_id or shaft.dimension_id != fit.shaft_id:
            trouble.append(Refusal("fit", "These are not the two sizes of the fit.", "Open the page again."))
        else:
            trouble += _fit_trouble(fit, hole, shaft)
        if trouble:
            raise Refused(*trouble)
        made = _grant(actor, component, reason, look_again, paper, about=fit.name, fit=fit, hole=hole, shaft=shaft)
        component.save(update_fields=["last_event"])
        refresh(fit.hole.position_id, fit.shaft.position_id)
        return made


def _fit_trouble(fit: Fit, hole: Measurement, shaft: Measurement):
    [pair] = judged(Fit.objects.filter(pk=fit.pk).with_limits())
    if pair.verdict is None or hole not in pair.hole or shaft not in pair.shaft:
        yield Refusal("measured-again", "These are not what was last measured on the pair.", "Look at the fit again.")
    elif not pair.verdict.outside:
        yield Refusal("within", "The fit is within its limits.", "It needs no concession.")
    elif pair.verdict.beyond_scrapping:
        yield Refusal(
            "scrapping", f"Repair or renew one of the two: {pair.verdict.sentence}.", "No concession is given."
        )
