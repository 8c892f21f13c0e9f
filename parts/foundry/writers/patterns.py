"""Writers of patterns, core boxes and jigs: entered, described, moved from state to state and from place to place.
What they have made, and what hangs on them, is written in `castings.py`."""

from datetime import date
from fractions import Fraction

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.actions.tags import free_tag, issue
from parts.common import jobs
from parts.domain.pattern_words import PatternKind, PatternState, move_troubles, withdrawal_troubles
from parts.domain.plain import capital
from parts.models import Firm, Location, Movement, Pattern
from parts.stores.writers import may_be_promised, may_take_things

from .castings import dependents

DESCRIBED = (
    "kind", "name", "drawing", "owner", "marks", "condition", "allows", "allows_as_written", "allows_known",
    "made_before", "made_before_note", "goes_with", "reference",
)  # fmt: skip


def add_pattern(
    actor, *, name: str, code: str = "", location: Location | None = None, positions=(), **entered
) -> Pattern:
    """It enters the register as found, with a tag: the one given, or a new one."""
    writing.allow(actor, "edit patterns")
    with writing.one_transaction():
        tag = free_tag(code) if code.strip() else None
        may_take_things(location)
        pattern = Pattern(since=writing.today())
        jobs.fill(pattern, {"name": name, **entered}, DESCRIBED)
        _well_written(pattern)
        pattern.normal_location = None if location is None or location.away else location
        pattern.save()
        pattern.positions.set(positions)
        event = _log(actor, "enter pattern", pattern, remark=pattern.condition)
        _went(event, pattern, location)
        if tag:
            tag.pattern, tag.current, tag.tied_by = pattern, True, actor
            tag.save()
        else:
            issue(pattern, actor)
        pattern.save()
        return pattern


def describe_pattern(pattern: Pattern, actor, *, positions=None, seen=None, **entered) -> None:
    """What it makes, its marks, drawing and owner; for which places; with what contraction it was made."""
    writing.allow(actor, "edit patterns")
    with writing.one_transaction():
        pattern = locked(pattern, seen)
        changed = jobs.fill(pattern, entered, DESCRIBED)
        _well_written(pattern)
        if positions is not None and set(positions) != set(pattern.positions.all()):
            pattern.positions.set(positions)
            changed["positions"] = sorted(place.pk for place in positions)
        if changed:
            _log(actor, "describe pattern", pattern, fields=sorted(changed), changed=changed)
            pattern.save()


def change_state(
    pattern: Pattern, actor, *, to: PatternState | str, remark: str = "", condition: str | None = None,
    firm: Firm | None = None, promised_back: date | None = None, location: Location | None = None,
    confirmed: bool = False, override: str = "", seen=None,
) -> None:  # fmt: skip
    """It is checked, mended, sent to a foundry, back, found wanting, withdrawn or brought back: one recorded event."""
    writing.allow(actor, "edit patterns")
    to = PatternState(to)
    with writing.one_transaction():
        pattern = locked(pattern, seen)
        before = PatternState(pattern.state)
        found = move_troubles(str(pattern), before, to, PatternKind(pattern.kind))
        passed, found = pass_over(found, actor, override)
        if not found:
            found = [*_must_say(pattern, to, remark, firm, location, confirmed)]
        if found:
            raise Refused(*found)
        event = _log(
            actor, "pattern state", pattern, remark=remark, before=before.value, after=to.value,
            **({"override": override.strip(), "passed_over": passed} if passed else {}),
            **({"firm": str(firm)} if to is PatternState.AT_FOUNDRY else {}),
            **({"promised_back": promised_back.isoformat()} if promised_back else {}),
        )  # fmt: skip
        pattern.state, pattern.since = to.value, writing.today()
        if condition is not None:
            pattern.condition = condition.strip()
        pattern.firm = firm if to is PatternState.AT_FOUNDRY else None
        if to is PatternState.AT_FOUNDRY and firm is not None:
            may_be_promised(firm.location, promised_back)
            pattern.sent_event, location = event.pk, firm.location
        pattern.promised_back = promised_back if to is PatternState.AT_FOUNDRY else None
        if to is PatternState.WITHDRAWN:
            _went(event, pattern, location)
        elif location is not None:
            may_take_things(location)
            _went(event, pattern, location)
        _well_written(pattern)
        pattern.save()


def _must_say(pattern, to, remark, firm, location, confirmed):
    """What each move asks for, besides that it may follow."""
    if to in (PatternState.CHECKED, PatternState.MENDED, PatternState.AS_FOUND, PatternState.WITHDRAWN):
        if not remark.strip():
            cure = {
                PatternState.CHECKED: "Say what was looked at and measured.",
                PatternState.MENDED: "Say what was done to it.",
                PatternState.AS_FOUND: "Say what is wrong with it.",
                PatternState.WITHDRAWN: "Say why, and where it went.",
            }[to]
            yield Refusal("remark", "Remark: nothing was written.", cure)
    if to is PatternState.AT_FOUNDRY and firm is None:
        yield Refusal("firm", "Foundry: none chosen.", "Choose the firm; a new one is entered under Firms.")
    if to is PatternState.BACK:
        if location is None:
            yield Refusal("location", "Where it lies: nothing was written.", "Say where it was put.")
        elif location.away:
            sentence = f"Where it lies: {location} is away from the works."
            yield Refusal("location", sentence, "Say where in our own works it was put.")
    if to is PatternState.WITHDRAWN:
        yield from withdrawal_troubles(dependents(pattern), confirmed=confirmed)


def promise_pattern(pattern: Pattern, actor, *, new: date | None, why: str = "", seen=None) -> None:
    """The foundry names another day; what was promised before stays in the history."""
    writing.allow(actor, "edit patterns")
    with writing.one_transaction():
        pattern = locked(pattern, seen)
        if not pattern.is_out:
            raise Refused(
                Refusal("state", f"{capital(str(pattern))} is at no foundry.", "Note first that it goes there.")
            )
        found = jobs.promise_words(pattern.promised_back, new, why)
        if found:
            raise Refused(*found)
        assert pattern.firm is not None  # the table has it: what is out is with a firm
        may_be_promised(pattern.firm.location, new)
        old = pattern.promised_back
        _log(
            actor, "promise", pattern, remark=why, what="back from the foundry", old=jobs.plain(old),
            new=jobs.plain(new),
        )  # fmt: skip
        pattern.promised_back = new
        pattern.save()


def move_pattern(pattern: Pattern, to: Location, actor, *, remark: str = "", seen=None) -> None:
    """Put it somewhere else. To a foundry, and back, it goes by its state."""
    writing.allow(actor, "move")
    with writing.one_transaction():
        pattern = locked(pattern, seen)
        if pattern.is_out:
            sentence = f"{capital(str(pattern))} is at {pattern.firm}."
            raise Refused(Refusal("state", sentence, "Note that it is back, and where it was put."))
        if pattern.state == PatternState.WITHDRAWN:
            sentence = f"{capital(str(pattern))} is withdrawn."
            raise Refused(Refusal("state", sentence, "Bring it back first."))
        may_take_things(to)
        if pattern.location_id == to.pk:
            return
        event = _log(actor, "move", pattern, remark=remark)
        _went(event, pattern, to)
        if pattern.normal_location_id is None and not to.away:
            pattern.normal_location = to
        pattern.save()


# --- what others use too


def locked(pattern: Pattern, seen=None) -> Pattern:
    """The pattern, held against other writers until the transaction ends."""
    pattern = Pattern.objects.select_for_update(of=("self",)).select_related("location", "firm__location").get(
        pk=pattern.pk
    )  # fmt: skip
    jobs.not_stale(pattern, seen)
    return pattern


def pass_over(found: list[Refusal], actor, override: str) -> tuple[list[str], list[Refusal]]:
    """What the responsible engineer answers for, with a reason; and what stands all the same."""
    if not (override.strip() and actor.is_engineer):
        return [], found
    return [one.sentence for one in found if one.passable], [one for one in found if not one.passable]


def _log(actor, action, pattern, *, remark="", **data):
    event = writing.log(actor, action, pattern=pattern, remark=remark.strip(), data=data)
    pattern.last_event = event.pk
    return event


def _went(event, pattern, to: Location | None) -> None:
    """Keep a movement where it really went somewhere else."""
    if pattern.location_id == (to and to.pk):
        return
    Movement.objects.create(
        event=event, pattern=pattern, came_from=pattern.location, went_to=to,
        by=event.actor, at=event.at,
    )  # fmt: skip
    pattern.location = to


def _well_written(pattern) -> None:
    found = jobs.too_long(pattern)
    if not pattern.name:
        found.append(Refusal("name", "What it makes: nothing was written.", "Name it in a few words."))
    if pattern.kind not in list(PatternKind):
        found.append(Refusal("kind", "What it is: nothing of the list was chosen.", "Choose one from the list."))
    if pattern.allows and not 0 <= Fraction(pattern.allows) <= Fraction(1, 20):
        found.append(Refusal("allows", "Contraction: more than any metal contracts.", "Write it as 1/8 in per foot."))
    if pattern.goes_with_id:
        found += _goes_with_troubles(pattern)
    if found:
        raise Refused(*found)


def _goes_with_troubles(pattern):
    head = pattern.goes_with
    if pattern.pk and head.pk == pattern.pk:
        yield Refusal("goes_with", "Goes with: it does not go with itself.", "Choose its pattern, or none.")
    elif head.goes_with_id:
        yield Refusal(
            "goes_with", f"Goes with: {head} is itself a part of {head.goes_with}.", "Choose the pattern itself."
        )
    elif pattern.pk and pattern.parts.exists():
        yield Refusal("goes_with", "Goes with: others go with this one.", "Let those go with the other pattern first.")
