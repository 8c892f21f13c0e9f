"""Writers of hold points. A release names who gave it and on what paper; whether one is needed the local code says."""

from datetime import date

from django.core.files import File

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions.refresh import refresh

from ..actions import writing
from ..domain.hold_templates import BOILERS, CLADDING, OLD_JOINTS, Regime, Template, templates
from ..domain.hold_words import CLOSE_OVERHAUL, FINISH_STEP, LIFTS, Body
from ..domain.plain import capital, day, mentions, says_enough
from ..domain.states import stoppable as actions_that_stop
from ..drawings.writers import papers
from ..models import Component, HoldPoint, HoldRelease, Overhaul, Position, RenewalStep, Subassembly
from ..queries.measured import measured

SURVEYOR = "the asbestos surveyor"
BOILER_INSPECTOR = "the competent person or inspecting body"


def stoppable() -> list[str]:
    """Every action that a hold point may stop."""
    return [*actions_that_stop(), FINISH_STEP, CLOSE_OVERHAUL]


def add_hold(
    overhaul: Overhaul,
    actor,
    *,
    name: str,
    stops,
    body: str,
    body_kind: str = "",
    must_show: str = "",
    lapses: bool = False,
    behind: Subassembly | None = None,
    asked_on=None,
    subassembly=None,
    position=None,
    component=None,
    step: RenewalStep | None = None,
    number: int = 0,
) -> HoldPoint:
    """Stop the named actions on a piece, a position, a step of a renewal, a subassembly, or (none of these) the whole
    overhaul. `lapses`: its release holds only until what lies behind it (`behind`, else what it is on) is reworked."""
    writing.allow(actor, "hold")
    with writing.one_transaction():
        hold = _add(
            overhaul, actor, name=name, stops=stops, body=body, body_kind=body_kind, must_show=must_show, lapses=lapses,
            behind=behind, asked_on=asked_on, subassembly=subassembly, position=position, component=component,
            step=step, number=number,
        )  # fmt: skip
        refresh_around(hold)
        return hold


def _add(overhaul, actor, *, name, stops, body, asked_on=None, **more) -> HoldPoint:
    """Check, write and log one; the caller works out anew what the places need."""
    stops = [action for action in stoppable() if action in stops]
    trouble = list(_hold_troubles(name, stops, body, asked_on, **more))
    if trouble:
        raise Refused(*trouble)
    kind = more.pop("body_kind", "") or _kind_of(body)
    fields = {"name": name.strip(), "body": body.strip(), "must_show": more.pop("must_show", "").strip()}
    hold = HoldPoint.objects.create(
        overhaul=overhaul, stops=stops, body_kind=kind, asked_on=asked_on, **fields, **more
    )  # fmt: skip
    log_hold(actor, "add hold point", hold)
    return hold


EDITED = ("name", "stops", "body", "body_kind", "must_show", "lapses")


def edits_of(hold: HoldPoint):
    """The events that change what its form shows."""
    return Event.objects.filter(action="edit hold point", data__hold=hold.pk)


def edit_hold(
    hold: HoldPoint, actor, *, name, stops, body, body_kind="", must_show="", lapses=False, seen=None
) -> None:
    """Say anew what a hold point stops, until whom and what for; not once it is released, nor a stop."""
    writing.allow(actor, "hold")
    stops = [action for action in stoppable() if action in stops]
    with writing.one_transaction():
        hold = _locked(hold)
        writing.not_overtaken(edits_of(hold), seen)
        before = {field: getattr(hold, field) for field in EDITED}
        on = {name: getattr(hold, name) for name in ("subassembly", "position", "component", "step")}
        trouble = list(_hold_troubles(name, stops, body, None, **on))
        if hold.released_on or hold.stopped_by_id:
            trouble = [Refusal("released", "It is released, or somebody's stop.", "Set another hold point.")]
        if trouble:
            raise Refused(*trouble)
        hold.name, hold.stops, hold.body, hold.must_show = name.strip(), stops, body.strip(), must_show.strip()
        hold.body_kind, hold.lapses = body_kind or _kind_of(body), lapses
        hold.save()
        changed = {field: [was, now] for field, was in before.items() if was != (now := getattr(hold, field))}
        log_hold(actor, "edit hold point", hold, changed=changed)
        refresh_around(hold)


def _hold_troubles(name, stops, body, asked_on, *, subassembly=None, position=None, component=None, step=None, **_):
    """Why a hold point may not be set like this."""
    yield from [
        Refusal(code, sentence, cure)
        for bad, code, sentence, cure in (
            (not name.strip(), "name", "Name: nothing was written.", "Say what must be shown or released."),
            (not stops, "stops", "Stops: no action chosen.", "Choose at least one action that it stops."),
            (not body.strip(), "body", "Released by: nobody named.", "Name the body or person who releases it."),
            (
                asked_on and asked_on > writing.today(),
                "asked",
                "Asked on: the day is still to come.",
                "Leave it blank.",
            ),
            (
                FINISH_STEP in stops and step is None,
                "stops",
                f"Stops: “{FINISH_STEP}” is for a step of a renewal.",
                "Set it on the step, or choose other actions.",
            ),
            (
                CLOSE_OVERHAUL in stops and any((subassembly, position, component, step)),
                "stops",
                f"Stops: “{CLOSE_OVERHAUL}” is for the whole overhaul.",
                "Set it on the whole overhaul, or choose other actions.",
            ),
        )
        if bad
    ]


def _kind_of(body: str) -> str:
    words = body.lower()
    return next((kind.value for kind in Body if kind.value in words), Body.OTHER.value)


def add_from_template(
    overhaul: Overhaul,
    actor,
    template: Template,
    *,
    body: str,
    subassembly: Subassembly,
    after: Subassembly | None = None,
    leave_out=(),
) -> list[HoldPoint]:
    """Every hold point of a template at once: on the subassembly, on what may only go on after its tests, and on the
    return to service. A test's release lapses when the subassembly is taken apart or reworked."""
    writing.allow(actor, "hold")
    with writing.one_transaction():
        return _from_template(
            overhaul, actor, template, body=body, subassembly=subassembly, after=after, leave_out=leave_out
        )


def _from_template(overhaul, actor, template, *, body, subassembly, after=None, leave_out=()) -> list[HoldPoint]:
    made = []
    for line in template.lines:
        if line.number in leave_out:
            continue
        on, stops = {"subassembly": subassembly}, line.stops
        if line.on == "overhaul" or (line.on == "after" and after is None):
            on, stops = {}, (CLOSE_OVERHAUL,)
        elif line.on == "after":
            on = {"subassembly": after}
        made.append(
            _add(
                overhaul,
                actor,
                name=line.name,
                stops=stops,
                body=body,
                body_kind=line.body_kind,
                must_show=line.must_show,
                lapses=line.lapses,
                behind=subassembly,
                number=line.number,
                **on,
            )  # fmt: skip
        )
    return made


def add_starting(overhaul: Overhaul, actor, regime: Regime) -> list[HoldPoint]:
    """What a new locomotive with a boiler starts with: a survey over its cladding and old joints, and the hold points
    of its boiler. A starting list: what applies, the competent person decides. Without a boiler there are none."""
    subs = {sub.code: sub for sub in overhaul.locomotive.subassemblies.all()}
    boiler = next((subs[code] for code in BOILERS if code in subs), None)
    if boiler is None:
        return []
    (survey,), cladding = templates()["asbestos"].lines, subs.get(CLADDING)
    over: list[dict] = [{"subassembly": cladding}] if cladding else []
    joints = overhaul.locomotive.positions.exclude(subassembly=cladding).order_by("id")
    over += [{"position": place} for place in joints if mentions(place.name, OLD_JOINTS, last=True)]
    fields = {"name": survey.name, "stops": survey.stops, "body": SURVEYOR, "body_kind": survey.body_kind}
    made = [_add(overhaul, actor, must_show=survey.must_show, **fields, **on) for on in over]
    if regime.template:
        made += _from_template(
            overhaul, actor, regime.template, body=BOILER_INSPECTOR, subassembly=boiler, after=cladding
        )
    return made


def ask(hold: HoldPoint, actor, *, asked_on: date | None = None) -> None:
    """Note that the body was asked."""
    writing.allow(actor, "hold")
    asked_on = asked_on or writing.today()
    if asked_on > writing.today():
        raise Refused(Refusal("asked", "Asked on: the day is still to come.", "Give the day on which it was asked."))
    with writing.one_transaction():
        hold = _locked(hold)
        if hold.released_on and asked_on > hold.released_on:
            raise Refused(Refusal("asked", "Asked on: after its release.", "Give the day on which it was asked."))
        hold.asked_on = asked_on
        hold.save(update_fields=["asked_on"])
        log_hold(actor, "ask for release", hold)
        refresh_around(hold)


def release(
    hold: HoldPoint,
    actor,
    *,
    reference: str,
    on: date | None = None,
    who: str = "",
    filed: str = "",
    paper: File | None = None,
    conditions: str = "",
    expires: date | None = None,
    with_alike: bool = False,
) -> None:
    """Record that the body released it, on what paper. Where the body is from outside, its paper is wanted: the scan,
    or where it is filed. `with_alike`: the same paper releases the same hold point wherever else it stands."""
    writing.allow(actor, "hold")
    on = on or writing.today()
    with writing.one_transaction():
        hold = _locked(hold)
        alike = list(HoldPoint.objects.alike(hold).select_for_update(of=("self",))) if with_alike else []
        trouble = [*_release_troubles(hold, reference, on, filed, paper, expires), *_support_trouble(hold)]
        if trouble:
            raise Refused(*trouble)
        for each in (hold, *alike):
            each.released_on, each.released_by, each.lapsed_by = on, actor, None
            each.reference, each.conditions, each.expires = reference.strip(), conditions.strip(), expires
            each.save()
            _note_release(each, actor, who=who.strip(), filed=filed.strip())
        if paper:
            papers.keep(paper, actor, title=f"{hold.name}: {hold.reference}", hold=hold)
        refresh(*(pk for each in (hold, *alike) for pk in _places_of(each)))


def _note_release(hold: HoldPoint, actor, *, who: str, filed: str = "", word: str = "release hold point") -> None:
    assert hold.released_on is not None  # whoever released or lifted it wrote the day
    event = log_hold(actor, word, hold, remark=hold.reference if word == "lift stop" else "")
    HoldRelease.objects.create(
        hold=hold, on=hold.released_on, by=actor, reference=hold.reference, who=who, filed=filed,
        conditions=hold.conditions, expires=hold.expires, event=event,
    )  # fmt: skip


def _support_trouble(hold: HoldPoint):
    """A release never rests on a test that failed or does not count."""
    newest = next(iter(measured.supports([hold.pk]).get(hold.pk, ())), None)
    if newest and not newest.good:
        yield Refusal("support", f"{newest.words}.", "Have it tested again: the release rests on that test.")


def _release_troubles(hold: HoldPoint, reference, on, filed, paper, expires):
    if hold.stopped_by_id:
        yield Refusal("stop", "Somebody stopped this work.", f"{capital(hold.body)} lifts it, with a reason.")
    if not reference.strip():
        yield Refusal(
            "reference", "Reference: nothing was written.", "Give the number or date of the paper that releases it."
        )
    if hold.is_outside and not paper and not filed.strip():
        yield Refusal(
            "paper",
            f"Paper: {hold.body} is from outside the works, and neither a scan nor a place is given.",
            "Add the scan, or say where the paper is filed.",
        )
    if on > writing.today():
        yield Refusal("on", "Released on: the day is still to come.", "Give the day of the paper.")
    if hold.asked_on and on < hold.asked_on:
        yield Refusal(
            "on", f"Released on: before it was asked for, on {day(hold.asked_on)}.", "Correct one of the two days."
        )
    if expires and expires < writing.today():
        yield Refusal("expires", "Expires: the day has passed.", "Give today or a later day, or leave it blank.")
    if hold.released_on and not hold.stops_on(writing.today()):
        yield Refusal(
            "released", f"It was released on {day(hold.released_on)} already.", "There is nothing to release."
        )


def lift(hold: HoldPoint, actor, *, reason: str) -> None:
    """Let work that somebody stopped go on. The reason stays on record."""
    writing.allow(actor, "lift stop")
    with writing.one_transaction():
        hold = _locked(hold)
        if hold.released_on:
            raise Refused(
                Refusal("lifted", f"It was lifted on {day(hold.released_on)} already.", "There is nothing to lift.")
            )
        if not says_enough(reason):
            raise Refused(
                Refusal(
                    "reason",
                    "Say what was found and what was done about it, in three words or more.",
                    "Somebody who reads the record later must see why work was safe again.",
                )
            )
        hold.released_on, hold.released_by, hold.reference = writing.today(), actor, reason.strip()
        hold.save()
        _note_release(hold, actor, who=str(actor), word="lift stop")
        refresh_around(hold)


def stop(thing: Component | Position, actor, *, why: str) -> HoldPoint:
    """Stop everything that a hold point may stop on a piece or a place, at once, because something is wrong. Raises
    Refused for a role that may not, without a sentence, and where the same was said of it already."""
    writing.allow(actor, "stop")
    why = " ".join(why.split()).rstrip(".")
    if not why:
        raise Refused(Refusal("why", "Nothing was written.", "Say in a sentence what is wrong."))
    with writing.one_transaction():
        if HoldPoint.objects.stopping(thing).filter(name=why).exists():
            raise Refused(Refusal("why", "It is stopped for that already.", "Keep away from it until it is lifted."))
        locomotive = thing.locomotive
        hold = HoldPoint.objects.create(
            overhaul=locomotive.open_overhaul() if locomotive else None,
            **{"component" if isinstance(thing, Component) else "position": thing},
            name=why, stops=[*actions_that_stop(), CLOSE_OVERHAUL], body=LIFTS, body_kind=Body.ENGINEER.value,
            stopped_by=actor, stopped_on=writing.today(),
        )  # fmt: skip
        log_hold(actor, "stop", hold)
        refresh_around(hold)
        return hold


def strike_release(hold: HoldPoint, actor, *, reason: str, with_alike: bool = False) -> None:
    """A release that was entered by mistake counts no longer, and the hold point stands again. The release stays on
    record, and so does the reason. `with_alike`: wherever else the same paper released the same hold point."""
    writing.allow(actor, "strike release")
    with writing.one_transaction():
        hold = _locked(hold)
        if hold.released_on is None or hold.stopped_by_id:
            raise Refused(Refusal("not-released", "It is not released.", "There is no release to strike."))
        if not reason.strip():
            raise Refused(Refusal("reason", "Reason: nothing was written.", "Say why the release does not count."))
        alike = list(HoldPoint.objects.released_with(hold).select_for_update(of=("self",))) if with_alike else []
        for each in (hold, *alike):
            stands_again(each, log_hold(actor, "strike release", each, remark=reason.strip()))


def stands_again(hold: HoldPoint, because: Event) -> None:
    hold.released_on = hold.released_by = hold.expires = None
    hold.reference = hold.conditions = ""
    hold.lapsed_by, hold.asked_on = because, None
    hold.save()
    refresh_around(hold)


def _locked(hold: HoldPoint) -> HoldPoint:
    return HoldPoint.objects.select_for_update(of=("self",)).get(pk=hold.pk)


def log_hold(actor, action, hold, remark="", **more):
    position = hold.position or (hold.component and hold.component.place) or (hold.step and hold.step.renewal.position)
    return writing.log(
        actor,
        action,
        locomotive=hold.locomotive,
        overhaul=hold.overhaul,
        subassembly=hold.subassembly,
        position=position,
        component=hold.component,
        touches=False,
        remark=remark or hold.name,
        data={"hold": hold.pk, "stops": hold.stops, "reference": hold.reference, **more},
    )


def refresh_around(hold):
    refresh(*_places_of(hold))


def _places_of(hold):
    """The place that it is on, or whose piece or renewal it is on."""
    return hold.position_id, hold.component and hold.component.place_id, hold.step and hold.step.renewal.position_id
