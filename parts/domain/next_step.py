"""The one thing that a piece needs next, and what one does about it. Pure: rows and a day in, one value out."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from core.domain.catalogue import CATALOGUE

from .exams_due import finding, missing_exams, unanswered
from .fastening import Fastening
from .needs import RANK, fits_against, renewal_in_words
from .piece_needs import LOOK_NEED, Reason, awaits_a_name, doubts_about, findings, holding, reasons_against, subject
from .plain import capital, day, overdue
from .rows import ActionContext, Hold, Piece, Place
from .words import Kind, Need, State, Whereabouts

S = State


@dataclass(frozen=True, slots=True, kw_only=True)
class NextStep:
    """`deed` is a word of the catalogue; without one there is nothing for anybody to do now."""

    need: Need | None = None
    sentence: str
    deed: str = ""
    kind: Kind | None = None  # of the examination to sign
    finding: int = 0  # the event of the record to decide on
    target: int = 0  # the open repair or renewal to go on with, or the fit to look at
    further: tuple[str, ...] = ()
    label: str = ""  # of its button, where the deed's own says too little


PLAIN = {
    Need.FIND: "move",
    Need.FETCH: "move",
    Need.RELEASE: "hold",
    Need.REPAIR: "repair",
    Need.STRIP: "strip",
    Need.CLEAN: "clean",
    Need.RECHECK: "examine",
    Need.EXAMINE: "examine",
    Need.MEASURE: "examine",
}
LOOK_OF = {Need.CRACK_CHECK: Kind.CRACK_CHECK, Need.EXAMINE: Kind.VISUAL, Need.MEASURE: Kind.DIMENSIONAL}
KIND_LABELS = {
    Kind.CRACK_CHECK: "Sign the crack check",
    Kind.VISUAL: "Sign the visual examination",
    Kind.DIMENSIONAL: "Sign the measurements",
    Kind.THICKNESS: "Sign the thickness survey",
    Kind.HYDRAULIC_TEST: "Sign the hydraulic test",
    Kind.CALIBRATION: "Sign the calibration",
    Kind.SET_PRESSURE: "Sign the set pressure",
    Kind.SPRING_TEST: "Sign the spring test",
    Kind.PRESSURE_TEST: "Sign the pressure test",
}
WHERE_LABELS = {
    Need.FIND: "Say where it lies",
    Need.FETCH: "It is back: record its place",
    Need.AWAIT: "It is back: record its place",
}
LINKS = {
    "fit": "See what to make for the pair",
    "renewal": "Go on with the renewal",
    "decide": "Decide what was found",
}
"""Next steps that are a page to read and no action on the piece."""


def next_step(
    place: Place | None,
    piece: Piece,
    holds: tuple[Hold, ...],
    waits: tuple[str, ...],
    today: date,
    held: Fastening | None = None,
) -> NextStep:
    """What the piece needs next. `holds` are all that reach it, `waits` what its place goes on after, in sentences,
    `held` how a refitted one is held, where that is asked."""
    if piece.state is S.WITHDRAWN:
        return NextStep(sentence="It is not part of this overhaul.")
    if place is None:
        return _stopped(holds, today) or _without_a_place(piece)
    place = replace(place, holds=holds)
    if piece.state is S.IN_THE_MAKING:
        return _in_the_making(place, piece, today)
    against = [*reasons_against(place, piece, today)]
    if piece.state in (S.ACCEPTED, S.RENEWED):
        against += fits_against(place)
    elif piece.state is S.REFITTED:
        against += _doubts_once_refitted(place, piece, today)
    reasons = sorted(against, key=lambda reason: RANK[reason.need])
    if not reasons:
        return _nothing_against(piece, waits, held)
    lead = reasons[0]
    further = tuple(dict.fromkeys(r.sentence for r in reasons[1:] if r.sentence != lead.sentence))
    step, who = _about(lead, place, piece), subject(place, piece)
    return replace(step, sentence=_of_it(step.sentence, who), further=tuple(_of_it(each, who) for each in further))


def _of_it(sentence: str, who: str) -> str:
    """On the piece's own page, which names it at the top."""
    return capital(sentence.replace(who, "it"))


def steps_to_go(state: State) -> list[str]:
    """The deeds that lead from this state to the piece being on, in their order.

    >>> steps_to_go(State.CLEANED)
    ['examine', 'accept', 'refit']
    >>> steps_to_go(State.RENEWED), steps_to_go(State.WITHDRAWN)
    (['refit'], ['bring back'])
    """
    if state is S.WITHDRAWN:
        return ["bring back"]
    if state is S.IN_THE_MAKING:
        return ["examine", "pass", "refit"]
    way = ["strip", "clean", "examine", "accept", "refit"]
    done = {S.IN_PLACE: 0, S.STRIPPED: 1, S.CLEANED: 2, S.CRACK_CHECKED: 3, S.ACCEPTED: 4, S.RENEWED: 4}
    return way[done.get(state, len(way)) :]


def _doubts_once_refitted(place: Place, piece: Piece, today: date) -> list[Reason]:
    """A finding as what it asks for, and not again as the doubt that it makes."""
    found = [*findings(place, piece)]
    told = {f"In doubt. {reason.sentence}" for reason in found}
    return found + [doubt for doubt in doubts_about(place, piece, today) if doubt.sentence not in told]


def _about(lead: Reason, place: Place, piece: Piece) -> NextStep:
    step = NextStep(need=lead.need, sentence=lead.sentence, deed=PLAIN.get(lead.need, ""))
    if lead.need is Need.DECIDE or (lead.need is Need.AWAIT and lead.target):
        return _decision(step, place, piece)
    if lead.need is Need.RELEASE and any(h.id == lead.target and h.stopped_by for h in (*place.holds, *piece.holds)):
        return replace(step, deed="lift stop", target=lead.target)
    if lead.need is Need.REPAIR:
        return replace(step, target=lead.target, sentence=" ".join([lead.sentence, *_why_repaired(lead, piece)]))
    if lead.need is Need.FIT and lead.target:
        return replace(step, deed="fit", target=lead.target)
    if lead.need is Need.SIGN:
        return replace(step, deed=_signature(place, piece))
    if lead.need in LOOK_OF or lead.need is Need.RECHECK:
        return _look(step, place, piece)
    return step


def _why_repaired(lead: Reason, piece: Piece) -> Iterator[str]:
    """What was found, what was decided of it, and what comes after; the finding once."""
    for exam in unanswered(piece):
        if exam.decision == "repair":
            found = "" if finding(exam) in lead.sentence else f"{capital(finding(exam))}. "
            yield f"{found}Repair was decided. Once it is repaired, clean it and do the {exam.kind} again."


def _decision(step: NextStep, place: Place, piece: Piece) -> NextStep:
    """A finding is decided on its own page; what follows from it, and a size outside its limits, on the piece's."""
    undecided = [exam for exam in unanswered(piece) if not exam.decision]
    if undecided:
        return replace(step, deed="decide", finding=undecided[0].event)
    rejected = any(exam.decision in ("renew", "withdraw") for exam in unanswered(piece))
    if rejected and place.renewal and piece.sizes_wanted:
        return replace(step, deed="reproduce")
    if rejected and place.renewal:
        return replace(step, deed="withdraw")
    return replace(step, deed="decide on", label="Begin the renewal" if rejected else "")


def _signature(place: Place, piece: Piece) -> str:
    """Its own inner places come before its acceptance; nothing on this page fills those."""
    if awaits_a_name(place, piece):
        return "confirm"
    return "" if place.inner_open else "accept"


def _look(step: NextStep, place: Place, piece: Piece) -> NextStep:
    missing = missing_exams(place, piece)
    kind = next((look.kind for look in missing if LOOK_NEED[look.kind] is step.need), None)
    if kind is None and step.need is Need.CRACK_CHECK:
        again = [e for e in unanswered(piece) if e.decision == "re-examine"]
        if not again:
            return replace(step, deed="crack-check")
    fallback = (LOOK_OF.get(step.need) if step.need else None) or (missing[0].kind if missing else Kind.VISUAL)
    return replace(step, deed="examine", kind=kind or fallback)


def _nothing_against(piece: Piece, waits: tuple[str, ...], held: Fastening | None) -> NextStep:
    if piece.state is S.REFITTED:
        if held and held.outside:
            told = "; ".join(figure.words for figure in held.outside)
            return NextStep(sentence=f"{told}. Put it right and measure again.", deed="lock")
        if held and not held.locked:
            return NextStep(sentence="It is refitted, and not locked yet.", deed="lock")
        return NextStep(sentence="It is refitted, and there are no problems with it.")
    if waits:
        return NextStep(
            need=Need.AFTER, sentence="It is ready, but its turn has not come.", deed="refit", further=waits
        )
    return NextStep(sentence="It is ready to be refitted.", deed="refit")


def _stopped(holds: tuple[Hold, ...], today: date) -> NextStep | None:
    """A piece without a place waits for nothing but what somebody stopped."""
    reason = next(holding(tuple(hold for hold in holds if hold.stopped_by), set(), today), None)
    if reason is None:
        return None
    return NextStep(need=reason.need, sentence=reason.sentence, deed="lift stop", target=reason.target)


STOCK = "Stock: cut pieces from it, or weld it up with others."


def _without_a_place(piece: Piece) -> NextStep:
    if piece.state is S.IN_THE_MAKING:
        return NextStep(sentence=STOCK, deed="cut")
    if piece.whereabouts in (Whereabouts.UNKNOWN, Whereabouts.MISSED):
        return NextStep(need=Need.FIND, sentence="Record where it lies.", deed="move")
    if piece.whereabouts is Whereabouts.ELSEWHERE:
        return NextStep(need=Need.FETCH, sentence=f"It is away: {piece.where}.", deed="move")
    if piece.state is S.STRIPPED:
        return NextStep(need=Need.CLEAN, sentence="It has not been cleaned.", deed="clean", further=(HOMELESS,))
    return NextStep(sentence=HOMELESS, deed="earmark")


HOMELESS = "Choose where it belongs. Until then it can only be stripped and cleaned."


def _in_the_making(place: Place, piece: Piece, today: date) -> NextStep:
    found = list(findings(place, piece))
    if found:
        return _about(found[0], place, piece)
    renewal = place.renewal
    if renewal and renewal.steps_open and renewal.tag == piece.tag:
        sentence = f"It is being made: {renewal_in_words(renewal, today)}."
        return NextStep(need=Need.AWAIT, sentence=sentence, deed="renewal", target=renewal.id)
    if piece.whereabouts is Whereabouts.ELSEWHERE:
        back = piece.promised_back
        promised = f", promised back {day(back)}{overdue(back, today)}" if back else ", with no date promised"
        return NextStep(need=Need.AWAIT, sentence=f"It is being made: {piece.where}{promised}.", deed="move")
    missing = missing_exams(place, piece)
    if missing:
        sentence = f"It is being made. Examine it, then pass it. {capital(missing[0].sentence)}"
        further = tuple(look.sentence for look in missing[1:])
        return NextStep(
            need=LOOK_NEED[missing[0].kind], sentence=sentence, deed="examine", kind=missing[0].kind, further=further
        )
    if place.material_papers and not piece.papers:
        return NextStep(need=Need.SIGN, sentence="Its material papers are not recorded yet.", deed="describe")
    return NextStep(
        need=Need.SIGN,
        sentence="It has every examination that its place asks for. It can be passed.",
        deed="pass",
    )


# --- in words


def label_of(step: NextStep) -> str:
    """What the button of the next thing says."""
    if step.label:
        return step.label
    if step.deed == "examine" and step.kind:
        return KIND_LABELS.get(step.kind, "Sign an examination")
    if step.deed == "move" and step.need in WHERE_LABELS:
        return WHERE_LABELS[step.need]
    if step.deed == "repair" and step.target:
        return "Go on with the repair"
    return LINKS.get(step.deed) or CATALOGUE.action(step.deed).label


def then(context: ActionContext) -> str:
    """What follows something that was done, in one sentence: the next thing, or that nothing can be done yet."""
    step = next_step(context.place, context.this_piece, context.holds, context.waits, context.today)
    if not step.deed or step.need is Need.AFTER:
        return step.sentence
    label = label_of(step)
    return f"Next: {label[0].lower()}{label[1:]}."
