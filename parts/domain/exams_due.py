"""Whether somebody has looked: which examinations still count, and which of those called for are not there, and why."""

from collections.abc import Iterable
from dataclasses import dataclass

from .plain import listed, on_day
from .rows import Examination, InnerPlace, Piece, Place
from .words import Kind, Method, Result, State

LOOKS = frozenset({Kind.VISUAL, Kind.CRACK_CHECK})
"""Kinds that ask for a clean surface, so that a later cleaning undoes them. Cleaning changes no size."""

TOLD_APART = frozenset({Kind.CRACK_CHECK, Kind.DIMENSIONAL})
"""Kinds with a rule of their own. Each size that the place names is owed; where it names none, nothing is measured."""

PASSED = frozenset({State.ACCEPTED, State.RENEWED, State.REFITTED})
"""States that stand on everything the place calls for."""

EXCAVATION, WELD = "excavation", "finished weld"
LAST = ("finished weld, nothing follows", "after stress relief", "after final machining")
"""Stages of a weld repair that a crack check is made at: dug out before welding, welded, and at the very last."""

WORKED_ON = "The piece was worked on after it."

VOUCHES_FOR: dict[State | None, frozenset[Kind]] = {
    State.CRACK_CHECKED: LOOKS,
    **dict.fromkeys(PASSED, frozenset(Kind)),
}
"""What a state taken over on a works' word stands for."""


@dataclass(frozen=True, slots=True)
class MissingExam:
    """An examination that the place calls for and that is not there. `code` says which of the reasons applies."""

    kind: Kind
    code: str  # "never", "not signed", "superseded", "before", "not reached", "undecided", "not measured", "inside" …
    sentence: str


def counts(exam: Examination, piece: Piece) -> bool:
    """Signed, not superseded, and nothing has been done to the piece since that would undo it."""
    return exam.signed and not exam.superseded and exam.event > _undone_by(exam.kind, piece)


def vouched(piece: Piece, kind: Kind) -> bool:
    """A state that the works vouched for stands for its examinations until something is done to the piece."""
    return kind in VOUCHES_FOR.get(piece.vouched_state, ()) and piece.vouched_event > _undone_by(kind, piece)


def taken_over_as(piece: Piece) -> str:
    """The state that rests on a works' word alone, with no name put to it since; "" if nothing does."""
    stands = piece.state == piece.vouched_state and vouched(piece, Kind.CRACK_CHECK) and not piece.confirmed
    return piece.state.value if stands else ""


def missing_exams(place: Place, piece: Piece) -> list[MissingExam]:
    """Every examination called for that is not there, in the order in which they are done."""
    crack_check = place.crack_check_method
    missing = _missing_crack_check(place, piece, crack_check) if crack_check else _missing_kind(piece, Kind.VISUAL)
    for kind in Kind:
        if kind in place.calls_for and kind not in TOLD_APART and (crack_check or kind is not Kind.VISUAL):
            missing += _missing_kind(piece, kind)
    return missing + _missing_inside(place, piece) + _missing_after_weld(piece) + _missing_sizes(piece)


def is_whole_look(place: Place | None, exam: Examination) -> bool:
    """All of the piece, by the kind of look that its place asks for: nothing less answers a look-again date."""
    inside = {inner.words for inner in place.inside} if place else set()
    if exam.stage or exam.not_reached - inside:
        return False
    if place is None:
        return exam.kind == Kind.VISUAL
    if place.crack_check_method:
        by_method = place.crack_check_method in (Method.ANY, exam.method)
        return exam.kind == Kind.CRACK_CHECK and by_method and place.surfaces <= exam.reached
    return exam.kind == Kind.VISUAL or (exam.kind in place.calls_for and exam.kind not in TOLD_APART)


def measured(piece: Piece, event: int) -> bool:
    """A size taken before the last work says nothing about the piece as it is now."""
    return event > piece.bared_event


def unanswered(piece: Piece) -> list[Examination]:
    """Findings that no work and no superseding record has dealt with. Cleaning answers none: it mends no crack."""
    return [
        exam
        for exam in piece.examinations
        if exam.signed
        and not exam.superseded
        and exam.result != Result.SOUND
        and max(exam.event, exam.decided_event) > piece.bared_event
    ]


def is_condemned(piece: Piece | None, place: Place | None) -> bool:
    """A new piece is to take its place: by a decision on what was found, or since its renewal is under way."""
    if piece is None or place is None or piece.state in (State.IN_THE_MAKING, State.WITHDRAWN):
        return False
    renewal = place.renewal
    under_way = renewal is not None and renewal.id != 0 and piece.renewal != renewal.id
    return under_way or any(exam.decision == "renew" for exam in unanswered(piece))


def finding(exam: Examination) -> str:
    return f"the {exam.kind}{on_day(exam.on)} showed: {(exam.text or exam.result).rstrip('. ')}"


def open_decisions(piece: Piece) -> list[str]:
    """Findings that wait for the responsible engineer, in words."""
    return [finding(exam) for exam in unanswered(piece) if not exam.decision]


def _undone_by(kind: Kind, piece: Piece) -> int:
    return max(piece.bared_event, piece.cleaned_event) if kind in LOOKS else piece.bared_event


def undone_in_words(piece: Piece, kind: Kind) -> str:
    """What was last done to the piece after which an earlier look of this kind counts no longer."""
    if kind in LOOKS and piece.cleaned_event > piece.bared_event:
        return "The piece was cleaned after it."
    return f"{piece.sent_back_by} sent the piece back after it." if piece.sent_back_by else WORKED_ON


def _missing_kind(piece: Piece, kind: Kind) -> list[MissingExam]:
    exams = [exam for exam in piece.examinations if exam.kind == kind]
    if vouched(piece, kind) or any(counts(exam, piece) for exam in exams):
        return []
    return [_why_not(piece, kind, exams, f"{kind} examination")]


def _missing_crack_check(place: Place, piece: Piece, method: str) -> list[MissingExam]:
    if vouched(piece, Kind.CRACK_CHECK):
        return []
    named = "crack check" if method == Method.ANY else f"{method} crack check"
    exams = [
        x  # a piece with a hole dug in it is not whole, so that check says nothing of the piece as it will go on
        for x in piece.examinations
        if x.kind == Kind.CRACK_CHECK and method in (Method.ANY, x.method) and x.stage != EXCAVATION
    ]
    counting = [exam for exam in exams if counts(exam, piece)]
    if not counting:
        return [_why_not(piece, Kind.CRACK_CHECK, exams, named)]
    return _surfaces_missed(place, counting, named)


def _surfaces_missed(place: Place, counting: list[Examination], named: str) -> list[MissingExam]:
    """A surface is examined where a sound record reached it, or one whose finding has been decided. A check of one
    weld counts for the surfaces that it says it reached, and never for the whole piece."""
    settled = [exam for exam in counting if _settled(exam)]
    undecided = [exam for exam in counting if exam.result != Result.SOUND and not exam.decision]
    unseen = place.surfaces.difference(*(exam.reached for exam in settled))
    whole = bool(place.surfaces) or any(not exam.stage for exam in settled)
    if settled and whole and not unseen:
        return []
    if undecided and unseen <= frozenset().union(*(exam.reached for exam in undecided)):
        sentence = f"Decide on what the {named}{on_day(undecided[-1].on)} showed."
        return [MissingExam(Kind.CRACK_CHECK, "undecided", sentence)]
    if not unseen and settled:
        sentence = f"Only a weld was checked for cracks, not the whole piece: no {named} of it is signed."
        return [MissingExam(Kind.CRACK_CHECK, "not reached", sentence)]
    if not unseen:
        return [MissingExam(Kind.CRACK_CHECK, "never", f"Do the {named} again.")]
    sentence = f"Not examined: {listed(sorted(unseen))}; no {named} that counts reached there."
    return [MissingExam(Kind.CRACK_CHECK, "not reached", sentence)]


def _missing_inside(place: Place, piece: Piece) -> list[MissingExam]:
    """What is in a piece that was not broken down owes the look that its own place calls for, reached on the whole
    piece. What is noted there as not reachable is owed another method that reaches it, or the piece is opened."""
    if piece.broken_down:
        return []
    looks = _looks_inside(piece)
    found: dict[tuple[Kind, str], list[str]] = {}
    for inner in place.inside:
        kind = Kind.CRACK_CHECK if inner.crack_check else Kind.VISUAL
        code = _inside_code(inner, looks)
        if code and not vouched(piece, kind):
            found.setdefault((kind, code), []).append(inner.words)
    return [MissingExam(kind, code, _inside_sentence(kind, code, names)) for (kind, code), names in found.items()]


INSIDE = {
    "": "examined on the whole piece",
    "inside": "not examined yet on the whole piece",
    "inside shut": "out of reach on the whole piece",
    "undecided": "what a look at it showed is not decided",
}


def inside_told(place: Place, piece: Piece) -> dict[str, str]:
    """How each place that a piece left whole owes a look of stands, by its words."""
    if piece.broken_down:
        return {}
    looks = _looks_inside(piece)
    return {inner.words: INSIDE[_inside_code(inner, looks)] for inner in place.inside}


def _looks_inside(piece: Piece) -> list[Examination]:
    return [x for x in piece.examinations if x.kind in LOOKS and not x.stage and counts(x, piece)]


def _inside_code(inner: InnerPlace, looks: list[Examination]) -> str:
    """Why the look of one inner place is not there; "" if it is."""
    checks = [x for x in looks if x.kind == Kind.CRACK_CHECK or not inner.crack_check]
    suited = [x for x in checks if inner.crack_check in ("", Method.ANY, x.method)]
    shut = any(inner.words in x.not_reached for x in suited)
    reaching = [x for x in (checks if shut else suited) if inner.words in x.reached]
    if any(_settled(x) for x in reaching):
        return ""
    if any(x.result != Result.SOUND and not x.decision for x in reaching):
        return "undecided"
    return "inside shut" if shut else "inside"


def _inside_sentence(kind: Kind, code: str, names: list[str]) -> str:
    told = "; ".join(names)  # the words of a place have commas in them
    if code == "undecided":
        return f"Decide on what the look at {told} showed."
    if code == "inside shut":
        how = "by another method that reaches there, such as ultrasonic from the end"
        return f"Out of reach on the whole piece: {told}. Check {how}, or break the piece down."
    done = "checked for cracks" if kind is Kind.CRACK_CHECK else "looked at"
    return f"Inside it and not {done}: {told}. Say of each that it was reached, or that it is out of reach."


def _settled(exam: Examination) -> bool:
    return exam.result == Result.SOUND or exam.decision not in ("", "re-examine")


def _why_not(piece: Piece, kind: Kind, exams: list[Examination], named: str) -> MissingExam:
    """Of several records that don't count, the one nearest to counting explains it."""
    undone = [x for x in exams if x.signed and not x.superseded]
    superseded = [x for x in exams if x.signed and x.superseded and x.event > _undone_by(kind, piece)]
    drafts = [x for x in exams if not x.signed]
    if drafts:
        return MissingExam(kind, "not signed", f"The {named}{on_day(drafts[-1].on)} is not signed.")
    if superseded:
        return MissingExam(kind, "superseded", f"The {named}{on_day(superseded[-1].on)} was superseded.")
    if undone:
        sentence = f"The {named}{on_day(undone[-1].on)} no longer counts. {undone_in_words(piece, kind)}"
        return MissingExam(kind, "before", sentence)
    return MissingExam(kind, "never", f"No {named} is signed.")


def _missing_after_weld(piece: Piece) -> list[MissingExam]:
    """A weld repair is looked at when it is finished, and again after stress relief or final machining."""
    if not piece.welded_event or vouched(piece, Kind.CRACK_CHECK):
        return []
    since = [x for x in piece.examinations if x.signed and not x.superseded and x.event > piece.welded_event]
    if not any(x.stage in (WELD, *LAST) for x in since):
        sentence = "The finished weld was not checked for cracks after the wait that its procedure gives."
    elif not any(x.stage in LAST and counts(x, piece) for x in since):
        sentence = "The weld was not checked for cracks again after stress relief or final machining."
    else:
        return []
    return [MissingExam(Kind.CRACK_CHECK, "weld", sentence)]


def combined(indications: Iterable[int], decisions: Iterable[tuple[int | None, str, int]]) -> tuple[str, int]:
    """What was decided of all that one record found: the gravest of what was decided of each indication, "" while one
    is undecided; and the last event of deciding. `decisions` are (indication or None for all, decision, event), oldest
    first."""
    latest: dict[int, str] = {}
    of_all, last = "", 0
    for indication, decision, event in decisions:
        last = max(last, event)
        if indication is None:
            of_all, latest = decision, {}
        else:
            latest[indication] = decision
    each = [latest.get(number, of_all) for number in indications] or [of_all]
    return ("" if "" in each else max(each, key=GRAVITY.index)), last


GRAVITY = ("accept as it is", "re-examine", "repair", "renew")


def _missing_sizes(piece: Piece) -> list[MissingExam]:
    if vouched(piece, Kind.DIMENSIONAL):
        return []
    shut = out_of_reach(piece)
    names = [one.name for one in piece.dimensions if not measured(piece, one.event) and one.name not in shut]
    if not names:
        return []
    since = f"{piece.sent_back_by} sent the piece back" if piece.sent_back_by else "the last work"
    return [MissingExam(Kind.DIMENSIONAL, "not measured", f"Not measured since {since}: {listed(names)}.")]


def out_of_reach(piece: Piece) -> frozenset[str]:
    """Sizes of places inside it that a record of the whole piece says could not be got at."""
    inner = frozenset(size.name for size in piece.dimensions if size.inner)
    looks = [x for x in piece.examinations if x.kind == Kind.DIMENSIONAL and counts(x, piece)]
    return inner & frozenset().union(*(x.not_reached for x in looks))


def cracked(quarantined: bool, examinations: Iterable[Examination], bared_event: int) -> bool:
    """Does the piece carry a crack that nothing has answered? Work on it, a superseding record, or a sound check after
    it was dressed out answers an indication; a quarantined piece stays one until a crack check since then is sound."""
    checks = [x for x in examinations if x.kind == Kind.CRACK_CHECK and x.signed and not x.superseded]
    since = [x for x in checks if x.event > bared_event]
    sound = max((x.event for x in since if x.result == Result.SOUND), default=0)
    shown = [x for x in since if x.result != Result.SOUND and x.crack]
    unanswered = [x for x in shown if not (x.decision == "re-examine" and sound > max(x.event, x.decided_event))]
    return bool(unanswered) or (quarantined and not sound)
