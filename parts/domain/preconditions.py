"""The preconditions of the life cycle: each looks at a context and answers None or a refusal; none asks clock or
database."""

from collections.abc import Callable

from core.domain.refusals import Refusal

from .conceding import never_conceded
from .exams_due import PASSED, MissingExam, missing_exams, out_of_reach, vouched
from .piece_needs import awaits_a_name, doubts_about, findings
from .plain import capital
from .rows import ActionContext, Piece, Place
from .words import LIVE, Kind, Side, State, Whereabouts

S = State

DONE_OR_SHUT = frozenset({S.IN_PLACE, S.REFITTED, S.ACCEPTED, S.RENEWED, S.WITHDRAWN})


# --- the piece and its place


def has_a_place(context: ActionContext) -> Refusal | None:
    if context.place is None:
        return Refusal("no-place", "It has no place yet.", "Choose the place it is for.")
    return None


def outer_is_open(context: ActionContext) -> Refusal | None:
    """A piece inside a built-up piece comes out only while that one is being worked on."""
    if context.place and context.piece and context.place.outer in DONE_OR_SHUT and not context.piece.on_trial:
        return Refusal(
            "outer-shut",
            f"It is part of {context.place.outer_words}, which is {context.place.outer.value}.",
            "Strip or send back that one first.",
        )
    return None


def outer_takes_it(context: ActionContext) -> Refusal | None:
    place = context.place
    if place is None or place.part_of is None:
        return None
    if not place.part_of_there or place.outer in DONE_OR_SHUT:
        return Refusal(
            "outer-not-open",
            f"The piece it is part of ({place.outer_words or 'built-up piece'}) is not in hand and broken down.",
            "Break that one down first, or find it a piece.",
        )
    return None


def is_built_up(context: ActionContext) -> Refusal | None:
    if context.place is None or context.place.inner == 0:
        return Refusal(
            "not-built-up", "It is one piece: nothing in it comes apart.", "Only a built-up piece is broken down."
        )
    if context.this_piece.broken_down and not context.this_piece.inner_fitted:
        return Refusal("already-apart", "It is in pieces already.", "Nothing is fitted in it.")
    return None


def own_places_filled(context: ActionContext) -> Refusal | None:
    if context.place and context.place.inner_open:
        named = ", ".join(context.place.inner_open[:3])
        return Refusal(
            "inner-open",
            f"{len(context.place.inner_open)} of the places inside it have no piece: {named}.",
            "Refit the pieces inside it first.",
        )
    return None


def nothing_fitted_in_it(context: ActionContext) -> Refusal | None:
    if context.this_piece.inner_fitted:
        tags = ", ".join(context.this_piece.inner_fitted[:3])
        return Refusal(
            "pieces-inside", f"Pieces are fitted in it: {tags}.", "Break it down first; they keep their lives."
        )
    return None


def is_here(context: ActionContext) -> Refusal | None:
    piece = context.this_piece
    if piece.whereabouts in (Whereabouts.UNKNOWN, Whereabouts.MISSED):
        return Refusal("not-found", "Nobody knows where it lies.", "Find it and say where it is.")
    if piece.whereabouts is Whereabouts.ELSEWHERE:
        return Refusal("away", f"It is away: {piece.where}.", "Fetch it back first.")
    return None


def not_begun_already(context: ActionContext) -> Refusal | None:
    if context.place and context.place.renewal and context.place.renewal.tag and context.place.quantity == 1:
        return Refusal("already-begun", "A new piece for this place is in the making.", "Pass or withdraw that one.")
    return None


def place_is_free(context: ActionContext) -> Refusal | None:
    place, piece = context.place, context.this_piece
    if place is None:
        return None
    filled = sum(p.quantity for p in place.pieces if p.state in LIVE and p.id != piece.id)
    if filled + piece.quantity > place.quantity:
        return Refusal("place-taken", "An old piece still fills its place.", "Withdraw the old piece first.")
    return None


def cracked_goes_up_by_the_engineers_word(context: ActionContext) -> Refusal | None:
    """To mark it off or to see how it lies, a cracked piece may have to go up; that is not for everybody to say."""
    if not context.this_piece.cracked:
        return None
    return Refusal(
        "cracked-trial",
        "It is cracked, or may be: it could part while it is lifted or held.",
        "Repair it first; or the responsible engineer gives a reason to offer it up as it is, never under load.",
        True,
    )


def not_on_trial(context: ActionContext) -> Refusal | None:
    if context.this_piece.on_trial:
        return Refusal("on-trial", "It is offered up.", "Take it off first.")
    return None


def was_put_up(context: ActionContext) -> Refusal | None:
    piece = context.this_piece
    if piece.on_trial or (piece.state is S.REFITTED and piece.before_refit):
        return None
    if piece.state is S.REFITTED:
        return Refusal("left-alone", "It was left alone, never refitted in this overhaul.", "Strip it instead.")
    return Refusal("not-up", "It is not offered up.", "Only a piece that was put up can be taken off.")


def other_can_change(context: ActionContext) -> Refusal | None:
    other = context.other
    if other is None:
        return Refusal("no-other", "Nothing to change places with was named.", "Give the tag of the other piece.")
    if other.id == context.this_piece.id:
        return Refusal("same-piece", "Both tags are the same piece.", "Give the tag of the other piece.")
    if other.state not in (S.STRIPPED, S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED) or other.on_trial:
        return Refusal("other-state", f"{other.tag} is {other.state.value}.", "Both must be in hand, neither fitted.")
    if context.place is None or context.other_place is None:
        return Refusal("no-place", "One of the two has no place.", "Choose places for both first.")
    return _places_can_change(context.place, context.other_place, context.this_piece, other)


def _places_can_change(place: Place, other_place: Place, piece: Piece, other: Piece) -> Refusal | None:
    if place.id == other_place.id:
        return Refusal("same-place", "Both have the same place.", "Give the tag of a piece for another place.")
    if other_place.id == place.part_of or place.id == other_place.part_of:
        return Refusal("same-piece", "One is part of the other.", "Give the tag of a piece of another built-up piece.")
    mine = place.quantity - sum(p.quantity for p in place.pieces if p.id != piece.id)
    theirs = other_place.quantity - sum(p.quantity for p in other_place.pieces if p.id != other.id)
    if other.quantity > mine or piece.quantity > theirs:
        return Refusal("quantity", "The places do not take as many.", "Split the lot first.")
    return None


SIZES_TAKEN = ("take size", "no sizes to take")
"""Events that answer the question what a successor must match."""


def sizes_are_taken(context: ActionContext) -> Refusal | None:
    """What a condemned piece still tells of its successor is lost with it."""
    if not context.this_piece.sizes_wanted:
        return None
    return Refusal(
        "sizes-not-taken",
        "A new piece will be made for its place, and nobody has taken the sizes of this one.",
        "Take the sizes that its successor must match, or say why none are needed.",
        True,
    )


# --- what was looked at, and by whom


def calls_for_a_crack_check(context: ActionContext) -> Refusal | None:
    if context.place and not context.place.crack_check_method:
        return Refusal("no-crack-check", "Its place calls for no crack check.", "Examine it, then accept it.")
    return None


def crack_looks_are_signed(context: ActionContext) -> Refusal | None:
    return _first_missing(context, lambda look: look.kind is Kind.CRACK_CHECK)


def crack_checked_where_called_for(context: ActionContext) -> Refusal | None:
    """Cleaned is enough only where the place calls for no crack check; what else it calls for is asked by itself."""
    if context.place and context.place.crack_check_method and context.this_piece.state is S.CLEANED:
        looks = (one for one in missing_exams(context.place, context.this_piece) if one.kind is Kind.CRACK_CHECK)
        if all(one.code == "undecided" for one in looks):
            return Refusal("not-crack-checked", "Its crack check is signed.", "Mark it crack-checked first.")
        cure = "Have it crack-checked and signed first."
        return Refusal("not-crack-checked", "Its place calls for a crack check.", cure)
    return None


def looks_are_signed(context: ActionContext) -> Refusal | None:
    return _first_missing(context, lambda look: True)


def _first_missing(context: ActionContext, wanted: Callable[[MissingExam], bool]) -> Refusal | None:
    if context.place is None or context.piece is None:
        return None
    missing = [look for look in missing_exams(context.place, context.piece) if wanted(look)]
    if not missing:
        return None
    undecided = all(look.code == "undecided" for look in missing)
    cure = "The responsible engineer decides what was found." if undecided else "Have it examined and signed."
    return Refusal("look-missing", " ".join(look.sentence for look in missing), cure)


def sizes_are_within(context: ActionContext) -> Refusal | None:
    for size in context.this_piece.dimensions:
        if size.event == 0 and size.name in out_of_reach(context.this_piece):
            continue
        if size.event == 0 and not vouched(context.this_piece, Kind.DIMENSIONAL):
            return Refusal("not-measured", f"{capital(size.name)} is not measured.", "Measure and sign it.")
        if size.beyond_scrapping:
            sentence = size.sentence or f"{size.name} is beyond its scrapping limit"  # the sentence ends in its verdict
            return Refusal("scrapping", f"{capital(sentence)}.", "Repair or renew it.")
        if size.outside and not size.concession:
            sentence = size.sentence or f"{size.name} is not within its shop limit"
            never = context.place is not None and never_conceded(size.inner or context.place.name)
            cure = "Repair or renew it: no concession is given on it." if never else "Repair it, or a concession."
            return Refusal("limit", f"{capital(sentence)}.", cure)
    return None


def taken_sizes_are_judged(context: ActionContext) -> Refusal | None:
    """A size that is only measured says nothing of whether the new piece matches the old one."""
    for size in context.this_piece.dimensions:
        if size.unjudged:
            sentence = f"{capital(size.name)} was taken from the piece it replaces, and no limit was set for it."
            cure = "Set its limits and measure it again, or the responsible engineer says why it is right."
            return Refusal("unjudged", sentence, cure, True)
    return None


def findings_are_decided(context: ActionContext) -> Refusal | None:
    if context.place is None:
        return None
    for reason in findings(context.place, context.this_piece):
        cure = "The responsible engineer decides what was found; act on it first."
        return Refusal("undecided", reason.sentence, cure)
    return None


def findings_of_signed_looks_are_decided(context: ActionContext) -> Refusal | None:
    """A look that is missing is told by itself."""
    return None if crack_looks_are_signed(context) else findings_are_decided(context)


def no_repair_open(context: ActionContext) -> Refusal | None:
    if context.this_piece.repairs:
        return Refusal(
            "repair-open", f"A repair is open: {context.this_piece.repairs[0].what}.", "Finish the repair first."
        )
    return None


def not_cracked(context: ActionContext) -> Refusal | None:
    if context.this_piece.cracked and context.place and context.place.safety_critical:
        return Refusal(
            "cracked",
            "A crack in a safety-critical piece is never accepted as it is.",
            "Repair it and examine it again, or renew it.",
        )
    return None


def independent(context: ActionContext) -> Refusal | None:
    """The acceptor of a safety-critical piece did no work on it and signed none of the records relied on."""
    if context.place is None or not context.place.safety_critical:
        return None
    if context.actor.id in context.this_piece.workers:
        return Refusal(
            "own-work", "You recorded work on this safety-critical piece.", "Another responsible engineer accepts it."
        )
    signed = any(
        e.by == context.actor.id and e.signed and e.event > context.this_piece.bared_event
        for e in context.this_piece.examinations
    )
    if signed:
        return Refusal(
            "own-record",
            "You signed an examination of this safety-critical piece.",
            "Another responsible engineer accepts it.",
        )
    return None


def papers_are_there(context: ActionContext) -> Refusal | None:
    if context.place and context.place.material_papers and not context.this_piece.papers:
        return Refusal(
            "papers", "Its place calls for material papers and none are recorded.", "Record the certificate first."
        )
    return None


def not_in_doubt(context: ActionContext) -> Refusal | None:
    if context.place is None:
        return None
    found = list(doubts_about(context.place, context.this_piece, context.today))
    if found:
        return Refusal("in-doubt", found[0].sentence, "Have a signed look find it sound, or send it back.")
    return None


def name_is_there(context: ActionContext) -> Refusal | None:
    if context.place and awaits_a_name(context.place, context.this_piece):
        cure = "The responsible engineer confirms it first."
        return Refusal("unconfirmed", "Its state was imported, and nobody here has confirmed it.", cure)
    return None


def is_vouched_only(context: ActionContext) -> Refusal | None:
    piece = context.this_piece
    if piece.vouched_state in PASSED and vouched(piece, Kind.DIMENSIONAL) and not piece.confirmed:
        return None
    return Refusal("not-vouched", "Nothing here waits to be confirmed.", "")


# --- going together


def side_agrees(context: ActionContext) -> Refusal | None:
    place, piece = context.place, context.this_piece
    if place and Side.NONE not in (place.side, piece.side) and place.side != piece.side:
        return Refusal(
            "side", f"It is {piece.side}, its place is {place.side}.", "The responsible engineer may say why.", True
        )
    return None


def marks_agree(context: ActionContext) -> Refusal | None:
    place, piece = context.place, context.this_piece
    if place and piece.marks and piece.came_off is not None and piece.came_off != place.id:
        return Refusal(
            "marks",
            f"It is marked “{piece.marks}” and came off {piece.came_off_words or 'another place'}.",
            "The responsible engineer may say why it goes here.",
            True,
        )
    return None


def set_is_together(context: ActionContext) -> Refusal | None:
    place, piece = context.place, context.this_piece
    if place and place.matched and (piece.matched != place.matched or not place.set_together):
        return Refusal(
            "set",
            "The pieces machined together with it are not all there.",
            "The responsible engineer may say why.",
            True,
        )
    return None


def nothing_only_provisional(context: ActionContext) -> Refusal | None:
    """What was noted after a piece was found good is decided before it goes on."""
    noted = context.this_piece.provisional
    if noted is None:
        return None
    sentence = f"Since then “{noted.outcome}” was noted provisionally: {noted.reason.rstrip('. ')}."
    return Refusal("provisional", sentence, "Decide it for good first.")


def order_is_kept(context: ActionContext) -> Refusal | None:
    if context.waits:
        return Refusal(
            "order", " ".join(context.waits), "Refit those first; the responsible engineer may pass the order.", True
        )
    return None


def fits_are_within(context: ActionContext) -> Refusal | None:
    for fit in context.place.fits if context.place else ():
        if fit.mate_settled and fit.outside and not fit.concession:
            return Refusal(
                "fit",
                fit.sentence or f"Its fit with {fit.mate} is outside limits.",
                "Bring the pair back to size, or a concession.",
            )
    return None


FOUND_GOOD = (
    has_a_place,
    looks_are_signed,
    sizes_are_within,
    findings_are_decided,
    no_repair_open,
    own_places_filled,
    independent,
    not_cracked,
)
"""What accepting an old piece and passing a new one ask alike."""
