"""Which line of the page of words helps on a page, by the name of its address."""

from django.utils.text import slugify

from parts.domain.meanings import NEEDS, OTHERS, STATES

LINES = {slugify(word): str(word) for word in (*STATES, *NEEDS, *OTHERS)}
HELP = {
    "accept_group": "accept",
    "add_hold": "hold point",
    "begin_renewal": "renewal",
    "concede": "concession",
    "crack_check": "crack-check",
    "decide": "decide",
    "decide_on_piece": "decide",
    "decide_on_place": "decide",
    "decide_on_whole": "decide",
    "examinations": "examine",
    "examine": "examine",
    "holds": "hold point",
    "home": "holds up",
    "kit": "ready",
    "kits": "ready",
    "labels": "tag",
    "locomotive": "blocked",
    "measure": "measure",
    "next": "holds up",
    "order": "order of assembly",
    "overhauls": "overhaul",
    "position": "place",
    "release_hold": "hold point",
    "renewal": "renewal",
    "renewals": "renewal",
    "routes": "renewal",
    "scan": "tag",
    "split": "lot",
    "stop_piece": "stop",
    "stop_place": "stop",
    "strip": "strip",
    "structure": "place",
    "subassembly": "clear to assemble",
    "tie": "tag",
}


def help_line(request) -> tuple[str, str]:
    """The line's address on that page and its word; on the page of an action the word of the action."""
    match = request.resolver_match
    name = match.url_name if match else ""
    key = slugify(match.kwargs["slug"] if name == "do" else HELP.get(name, ""))
    return (key, LINES[key]) if key in LINES else ("", "")
