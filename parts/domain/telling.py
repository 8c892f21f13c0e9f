"""Events in words, as the history of a thing tells them. An action unknown here still reads as itself."""

from datetime import date

from .deciding import in_words
from .plain import capital, day
from .words import Action

PAST = {
    Action.STRIP: "Stripped",
    Action.BREAK_DOWN: "Broken down",
    Action.CLEAN: "Cleaned",
    Action.CRACK_CHECK: "Looked at as its place calls for",
    Action.ACCEPT: "Accepted",
    Action.START_ON: "Begun",
    Action.PASS: "Passed",
    Action.FINISH_REPAIR: "Repair finished",
    Action.REFIT: "Refitted",
    Action.OFFER_UP: "Offered up",
    Action.TAKE_OFF: "Taken off again",
    Action.LEAVE_ALONE: "Left alone this time",
    Action.SEND_BACK: "Sent back",
    Action.WITHDRAW: "Withdrawn",
    Action.BRING_BACK: "Brought back",
    Action.CHANGE_PLACES: "Changed places",
    Action.CONFIRM: "Confirmed by name",
    "move": "Moved",
    "normal place": "Its normal place is from now on",
    "describe": "Described",
    "choose place": "Place chosen",
    "earmark": "Earmarked",
    "split lot": "Lot split",
    "tie tag": "Tag tied",
    "photograph": "Photographed",
    "take over": "Taken over from the works' own list",
    "sign examination": "Examination signed",
    "decide": "Decided",
    "concede": "Accepted under concession",
    "add dimension": "A size to be measured was added",
    "edit dimension": "A size to be measured was described anew",
    "retire dimension": "A size is measured no longer",
    "set limits": "Limits set",
    "add fit": "Fit added",
    "set fit limits": "Limits of a fit set",
    "retire fit": "A fit is judged no longer",
    "begin stock-take": "A count was begun",
    "stock-take": "Counted",
    "give up stock-take": "A count was given up",
    "missed": "Not there at the stock-take",
    "found again": "Found again",
    "enter drawing": "Drawing entered",
    "describe drawing": "Drawing described anew",
    "scan drawing": "Drawing scanned",
    "drawing shows": "A drawing shows it",
    "drawing shows not": "A drawing does not show it after all",
    "drawing good for": "A drawing is good for it",
    "drawing not good for": "A drawing is not good for it after all",
    "drawings disagree": "Drawings disagree",
    "settle drawings": "Settled between drawings",
    "add location": "Added",
    "edit location": "Renamed or described anew",
    "retire location": "Taken out of use",
    "use location again": "Taken into use again",
    "promise anew": "Promised back on another day",
    "open repair": "Repair begun",
    "edit repair": "Repair put right",
    "give up repair": "Repair given up",
    "open renewal": "Renewal begun",
    "edit renewal": "Renewal put right",
    "close renewal": "Renewal closed",
    "give up renewal": "Renewal given up",
    "add step": "Step added",
    "edit step": "Step put right",
    "finish step": "Step done",
    "drop step": "Step not needed",
    "fail step": "Step failed",
    "evidence": "Evidence written down",
    "replaces": "What it replaces written down",
    "take size": "Size taken that its successor must match",
    "no sizes to take": "No size is taken for its successor",
    "add firm": "Firm entered",
    "edit firm": "Firm put right",
    "retire firm": "Firm no longer used",
    "use firm again": "Firm used again",
    "enter pattern": "Entered the register",
    "choose pattern": "What it is cast from chosen",
}

SIGNED = frozenset(
    {"sign examination", "decide", "decision", "concede", Action.ACCEPT, Action.PASS, Action.CONFIRM, Action.REFIT}
)
"""Events that stand for a signature; the page draws them filled."""

FIELDS = {
    "name": "what it is",
    "side": "its own side",
    "marks": "marks",
    "works_number": "the works' own tag number",
    "owner": "owner",
    "origin": "origin",
    "origin_evidence": "evidence of its origin",
    "cast_number": "cast or plate number",
    "papers": "material papers",
    "way_round": "which way round",
    "packing": "packing and shims",
    "mass_kg": "mass",
    "notes": "notes",
}


OF_A_PATTERN = {
    "name": "what it makes",
    "marks": "marks",
    "owner": "owner",
    "kind": "what it is",
    "drawing": "drawing number",
    "condition": "condition",
    "allows": "contraction it was made with",
    "allows_said": "contraction it was made with",
    "allows_known": "how its contraction is known",
    "made_before": "castings before our time",
    "made_before_note": "castings before our time",
    "goes_with": "what it goes with",
    "reference": "the piece that it was made after",
    "positions": "places it is for",
}


def tell(action: str, said: dict, *, remark: str = "", before: str = "", after: str = "", went: str = "") -> str:
    """One event as a sentence or two. `went` says from where to where, if the piece was moved by it."""
    parts = [_lead(action, said, before, after, went), *_details(action, said)]
    if remark and action not in ("photograph",):
        parts.append(_sentence(remark))
    if went and action != "move":
        parts.append(_sentence(f"it went {went}"))
    return " ".join(parts)


def is_signed(action: str) -> bool:
    return action in SIGNED


def _lead(action, said, before, after, went):
    word = PAST.get(action, capital(action))
    if action == "move":
        return f"Moved {went}." if went else "Moved."
    if action == "normal place":
        return f"{word} {said.get('place', 'where it lies')}."
    if action == "sign examination":
        return f"{capital(said.get('kind', 'examination'))}{_in(said.get('method'))} signed: {said.get('result', '')}."
    if action == "decide":
        return f"Decided on what was found: {said.get('decision', '')}."
    if action == "decision":
        return in_words(said.get("outcome", ""), provisional=bool(said.get("provisional")))
    if action == "promise":
        return _promised(said)
    if action == "describe":
        return f"Written down: {', '.join(FIELDS.get(field, field) for field in said)}."
    if action == "describe pattern":
        names = dict.fromkeys(OF_A_PATTERN.get(field, field) for field in said.get("fields", ()))
        return f"Written down: {', '.join(names)}."
    if action == "pattern state":
        return _of_state(said)
    if action in ("cast from", "not cast from"):
        made = "not made" if action == "not cast from" else "made"
        return f"{capital(said.get('piece', ''))}: {made} from {said.get('pattern', '')}."
    if action == "tie tag":
        return f"Tag {said.get('tag', '')} tied to it."
    if action == "split lot":
        if "split_off" in said:
            return f"{said['split_off']} split off, with a tag of their own."
        return f"Split from a lot: {said.get('quantity', '')} of it."
    if action in (Action.SEND_BACK, "take over") and after:
        return f"{word}, {'to' if action == Action.SEND_BACK else 'as'} {after}."
    if action == Action.STRIP and not before:
        return "Came off, and entered the register."
    return f"{word}{_in(said.get('method'))}."


def _of_state(said):
    """A pattern's state. Brought back from withdrawn and found wanting both end at as found."""
    before, after = said.get("before", ""), said.get("after", "")
    if after == "as found":
        return (
            "Brought back into use, as found." if before == "withdrawn" else "Found wanting: to be looked over again."
        )
    if after == "at the foundry":
        return f"Gone to {said.get('firm') or 'the foundry'} to be cast from."
    return f"{capital(after)} from the foundry." if after == "back" else f"{capital(after)}."


def _in(method: str | None) -> str:
    return f" ({method})" if method else ""


def _promised(said):
    old, new = (date.fromisoformat(said[name]) if said.get(name) else None for name in ("old", "new"))
    what = f"{said.get('step') or said.get('what') or 'it'}"
    if new is None:
        return f"{capital(what)}: promised for no day any more."
    return f"{capital(what)}: promised for {day(new)}{f', and before that for {day(old)}' if old else ''}."


def _details(action, said):
    if said.get("step") and action != "promise":
        yield _sentence(said["step"])
    if said.get("repair") and said.get("what") and action != "promise":
        yield _sentence(f"{said.get('method', '')}: {said['what']}".removeprefix(": "))
    if action == "open renewal" and said.get("route"):
        yield _sentence(said["route"])
    if action == "choose pattern" and said.get("what"):
        yield _sentence(said["what"])
    if action == "fail step" and said.get("back_to"):
        yield f"The route goes back to “{said['back_to']}”."
    if action == "decision" and said.get("chosen"):
        yield _sentence(f"of {said['weighed']} ways weighed, chosen: {said['chosen']}")
    if action == Action.WITHDRAW and said.get("destination"):
        yield _sentence(said["destination"])
    if said.get("protection"):
        yield _sentence(f"protected: {said['protection']}")
    if action == Action.FINISH_REPAIR and said.get("who"):
        yield f"Work by {said['who']}."
    if said.get("procedure") or said.get("welder"):
        yield f"Weld procedure {said.get('procedure') or 'not said'}, welder {said.get('welder') or 'not said'}."
    if said.get("promised_back"):
        yield f"Promised back {day(date.fromisoformat(said['promised_back']))}."
    if said.get("override"):
        passed = " ".join(said.get("passed_over", ()))
        yield f"Passed over, for this reason: {_sentence(said['override'])} {passed}".strip()


def _sentence(text: str) -> str:
    text = capital(text.strip())
    return text if text[-1:] in ".!?" else f"{text}."
