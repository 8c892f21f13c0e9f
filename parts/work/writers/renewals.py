"""Writers of renewals: opened on a route, closed when a piece came of it, or given up. `steps.py` writes the steps."""

from django.db.models import Exists, OuterRef

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.common import jobs
from parts.domain.job_words import Ending, StepEnd
from parts.domain.jobs import Step, closing_troubles
from parts.domain.pattern_words import PatternState, is_casting
from parts.domain.plain import capital, day
from parts.domain.words import State
from parts.entering.writers import pieces
from parts.foundry.writers.castings import note_castings
from parts.models import Component, Location, Pattern, Position, Renewal, RenewalStep

from .routes import offered


def open_renewal(
    place: Position,
    actor,
    *,
    route: str,
    why: str = "",
    replaces: Component | None = None,
    quantity: int | None = None,
    decision=None,
) -> Renewal:
    """Set out on the way to a new piece for this place. The old one may still fill it."""
    with writing.one_transaction():
        return open_within(place, actor, route=route, why=why, replaces=replaces, quantity=quantity, decision=decision)


def open_within(place, actor, *, route, why="", replaces=None, quantity=None, decision=None) -> Renewal:
    """As `open_renewal`, inside a transaction that the caller has opened."""
    writing.allow(actor, "renew")
    place = Position.objects.select_for_update(of=("self",)).get(pk=place.pk)
    replaces = replaces or predecessor(place)
    under_way = sum(other.quantity for other in place.renewals.under_way())
    quantity = quantity or max(place.quantity - under_way, 1)
    chosen = offered().get(route)
    found = list(_may_be_opened(place, chosen, quantity, under_way, replaces))
    if found:
        raise Refused(*found)
    assert chosen is not None  # without a route it was refused
    renewal = Renewal.objects.create(
        position=place,
        replaces=replaces,
        decision=decision,
        route=chosen.name,
        quantity=quantity,
        why=why.strip(),
        opened=writing.today(),
    )
    RenewalStep.objects.bulk_create(
        RenewalStep(renewal=renewal, number=number, name=name, papers="", note=f"brings: {papers}" if papers else "")
        for number, (name, papers) in enumerate(chosen.steps, 1)
    )
    log(actor, "open renewal", renewal, remark=why, route=renewal.route, quantity=quantity)
    _adopt(renewal)
    renewal.save()
    refresh(place.pk)
    return renewal


def predecessor(place: Position) -> Component | None:
    """What a new piece for this place replaces: the piece that fills it, or else the last that was withdrawn from it.
    Where several lie or lay there, somebody has to say which; a blank that failed never filled it."""
    live = list(place.pieces.live().order_by("-id")[:2])
    if live:
        return live[0] if len(live) == 1 and place.quantity == 1 else None
    if place.quantity > 1:
        return None
    failed = Event.objects.about("piece", OuterRef("pk")).filter(
        action="withdraw", from_state=State.IN_THE_MAKING.value
    )
    gone = place.pieces.filter(~Exists(failed), state=State.WITHDRAWN.value)
    return gone.order_by("-last_event").first()


def _may_be_opened(place, chosen, quantity, under_way, replaces):
    if chosen is None:
        named = ", ".join(route.name for route in offered().values())
        yield Refusal("route", "Route: none chosen.", f"Choose one of: {named}.")
    if place.retired:
        yield Refusal("place-retired", f"{capital(place.words)} was taken away.", "Choose a place that is still there.")
    if under_way + quantity > place.quantity:
        sentence = f"A renewal of {place.words} is under way already."
        if place.quantity > 1:
            sentence = f"Renewals of {under_way} of {place.quantity} are under way, and {quantity} more are too many."
        yield Refusal("already-open", sentence, "Go on with that one, or close it first.")
    if quantity < 1:
        yield Refusal("quantity", "How many: it must be at least 1.", "Write a whole number.")
    if replaces is not None and place.pk not in (replaces.place_id, replaces.came_off_id, replaces.fitted_id):
        sentence = f"Replaces: {replaces.name} never belonged to {place.words}."
        yield Refusal("replaces", sentence, "Give the tag of the piece that was there.")


def _adopt(renewal):
    """New pieces that were begun for the place before anybody laid down a route belong to this one."""
    for blank in renewal.position.pieces.filter(state=State.IN_THE_MAKING.value, renewal__isnull=True):
        blank.renewal = renewal
        blank.replaces = blank.replaces or (renewal.replaces if renewal.replaces_id != blank.pk else None)
        blank.save(update_fields=["renewal", "replaces"])


def begin_piece(
    renewal: Renewal,
    actor,
    *,
    name: str,
    code: str = "",
    location: Location | None = None,
    quantity: int | None = None,
    promised=None,
    reason: str = "",
    seen=None,
    **described,
) -> Component:
    """The new piece has a tag from its casting or plate on: it belongs to the renewal, and names what it replaces."""
    with writing.one_transaction():
        renewal = locked(renewal, seen)
        still_open(renewal)
        piece = pieces.start_on(
            actor, place=renewal.position, name=name, code=code, location=location,
            quantity=quantity or renewal.quantity, promised=promised, reason=reason, renewal=renewal, **described,
        )  # fmt: skip
        note_castings(renewal, actor)
        return piece


def choose_pattern(renewal: Renewal, pattern: Pattern | None, actor, *, seen=None) -> None:
    """What the new piece is cast from. If the casting is done already, what came of it is its casting."""
    writing.allow(actor, "renew")
    with writing.one_transaction():
        renewal = locked(renewal, seen)
        still_open(renewal)
        if pattern is not None and pattern.state == PatternState.WITHDRAWN:
            sentence = f"Pattern: {pattern} is withdrawn."
            raise Refused(Refusal("pattern", sentence, "Choose another one, or bring it back first."))
        if renewal.pattern_id == (pattern and pattern.pk):
            return
        renewal.pattern = pattern
        log(actor, "choose pattern", renewal, pattern=pattern and pattern.pk, what=str(pattern or "none"))
        renewal.save()
        if any(is_casting(step.name) for step in renewal.steps.filter(ended=StepEnd.DONE.value)):
            note_castings(renewal, actor)


def close_renewal(renewal: Renewal, actor, *, remark: str = "", seen=None) -> None:
    """The route is done: no step of it is open, and a piece came of it."""
    writing.allow(actor, "renew")
    with writing.one_transaction():
        renewal = locked(renewal, seen)
        still_open(renewal)
        came = [piece for piece in renewal.position.pieces.live() if piece.pk != renewal.replaces_id]
        own = renewal.pieces.exclude(state=State.WITHDRAWN.value)
        found = closing_troubles(rows_of(renewal), len(came) + own.count())
        if found:
            raise Refused(*found)
        for piece in came:
            _link(piece, renewal)
        log(actor, "close renewal", renewal, remark=remark)
        end(renewal, Ending.DONE, remark)
        refresh(renewal.position_id)


def _link(piece, renewal):
    """A piece from another locomotive was entered as stripped; now it is known that this renewal brought it."""
    if piece.renewal_id is None and renewal.quantity == 1:
        piece.renewal = renewal
        piece.replaces = piece.replaces or renewal.replaces
        piece.save(update_fields=["renewal", "replaces"])


def give_up_renewal(renewal: Renewal, actor, *, reason: str, seen=None) -> None:
    """It is not gone on with. Its open steps are not needed any more; what it cost stays."""
    writing.allow(actor, "renew")
    with writing.one_transaction():
        renewal = locked(renewal, seen)
        still_open(renewal)
        if not reason.strip():
            raise Refused(Refusal("reason", "Reason: nothing was written.", "Say why it is given up."))
        making = renewal.pieces.filter(state=State.IN_THE_MAKING.value).first()
        if making:
            sentence = f"{capital(making.name)} is still in the making for it."
            raise Refused(Refusal("in-the-making", sentence, "Withdraw that piece first."))
        renewal.steps.under_way().update(
            ended=StepEnd.DROPPED.value, ended_on=writing.today(), why_ended="the renewal was given up"
        )
        log(actor, "give up renewal", renewal, remark=reason)
        end(renewal, Ending.GIVEN_UP, reason)
        refresh(renewal.position_id)


# --- what the writers of steps use too


def locked(renewal: Renewal, seen=None) -> Renewal:
    """The renewal, held against other writers until the transaction ends."""
    renewal = Renewal.objects.select_for_update(of=("self",)).select_related("position").get(pk=renewal.pk)
    jobs.not_stale(renewal, seen)
    return renewal


def still_open(renewal: Renewal) -> None:
    if renewal.ended != Ending.OPEN:
        assert renewal.ended_on is not None  # the table has it: ended on a day
        sentence = (
            f"This renewal was {'closed' if renewal.ended == Ending.DONE else 'given up'} on {day(renewal.ended_on)}."
        )
        raise Refused(Refusal("ended", sentence, "Open another one for the place."))


def rows_of(renewal: Renewal) -> list[Step]:
    """Its steps as the rules see them."""
    return [
        Step(id=step.pk, number=step.number, name=step.name, ended=StepEnd(step.ended)) for step in renewal.steps.all()
    ]


def settle(renewal: Renewal, actor) -> None:
    """A route of which nothing is open, and whose pieces are all passed, closes by itself."""
    passed = renewal.pieces.exclude(state__in=(State.IN_THE_MAKING.value, State.WITHDRAWN.value))
    enough = sum(piece.quantity for piece in passed) >= renewal.quantity
    if renewal.ended == Ending.OPEN and enough and not renewal.steps.under_way().exists():
        log(actor, "close renewal", renewal)
        end(renewal, Ending.DONE, "")


def end(renewal: Renewal, how: Ending, why: str) -> None:
    renewal.ended, renewal.ended_on, renewal.why_ended = how.value, writing.today(), why.strip()[:300]
    renewal.save(update_fields=["ended", "ended_on", "why_ended", "last_event"])


def log(actor, action: str, renewal: Renewal, *, remark: str = "", step: str = "", **data):
    """One event about the place; the renewal remembers its number."""
    about_it = {"renewal": renewal.pk} | ({"step": step} if step else {}) | data
    event = writing.log(
        actor,
        action,
        locomotive_id=renewal.position.locomotive_id,
        position=renewal.position,
        remark=remark,
        data=about_it,
    )
    renewal.last_event = event.pk
    return event
