"""What the special words mean, in the words of the bench: one sentence each, for the page of words."""

from .words import Need, State

STATES = {
    State.IN_PLACE: "On the locomotive, and nobody has dealt with it in this overhaul.",
    State.STRIPPED: "Off the locomotive, and nothing is done to it yet.",
    State.CLEANED: "Clean enough for somebody to look at it properly.",
    State.CRACK_CHECKED: "An examiner has looked for cracks and signed for it.",
    State.ACCEPTED: "An old piece that somebody with the right to has signed as good for its place.",
    State.REFITTED: "Back in its place.",
    State.IN_THE_MAKING: "A new piece that has its tag and is not finished.",
    State.RENEWED: "A new piece that is finished and passed.",
    State.WITHDRAWN: "Out of this overhaul. The register says where it went.",
}

NEEDS = {
    Need.FIND: "Nobody knows where the piece lies. Look for it.",
    Need.FETCH: "The piece lies at a firm or is lent out. Get it back.",
    Need.RELEASE: "A hold point or a stop is on it. The person named there must release it first.",
    Need.DECIDE: "Something was found. The responsible engineer decides what to do.",
    Need.REPAIR: "A repair is decided. Do it.",
    Need.RECHECK: "A look is out of date or in doubt. Look again.",
    Need.STRIP: "The piece is still in its place and has to come off.",
    Need.SOURCE: "There is no piece for this place. Say where one comes from.",
    Need.AWAIT: "Somebody has promised the piece or the work. Wait, and ring when the day has passed.",
    Need.CLEAN: "Clean it before anybody looks at it.",
    Need.CRACK_CHECK: "An examiner looks for cracks by the method that the place calls for.",
    Need.EXAMINE: "An examiner looks at it and signs.",
    Need.MEASURE: "Measure it and compare with the limits of its place.",
    Need.SIGN: "Every look is signed. The responsible engineer accepts it.",
    Need.FIT: "Its fit with the piece beside it has to be proved.",
    Need.AFTER: "Something else goes on first.",
}

OTHERS = {
    "accept": "Sign that an old piece may be used again in one place.",
    "blocked": "A place whose piece cannot go on today. Its need says why.",
    "bolt bag": "A bag or tin of fasteners with a tag of its own: a place where pieces lie, such as a crate.",
    "built-up piece": "A piece that has others inside it, such as a wheelset with its axle and tyres.",
    "clear to assemble": "Every place of a subassembly has a piece that is ready.",
    "concession": "Leave to use a piece beyond a limit. It says for how long, and who signed it.",
    "hold point": "Work that may not pass until a named person or body releases it.",
    "holds up": "How many subassemblies cannot be complete before this is done.",
    "in doubt": "What was signed no longer holds, for example because its date has passed.",
    "lot": "Several small pieces under one tag, such as eight bolts.",
    "order of assembly": "What goes on after what.",
    "overhaul": "One time that the locomotive is taken apart and put together again.",
    "piece": "One thing that you can hold or lift, with one tag.",
    "place": "Where a piece belongs on the locomotive, with its side and axle.",
    "ready": "A piece that is accepted or renewed: it may go on when its turn comes.",
    "renewal": "The way to a new piece, step by step.",
    "stop": "All work on a piece or a place stops at once, because somebody saw danger.",
    "subassembly": "Pieces that go together as one job, such as the frames or the spring gear.",
    "tag": "The label with a code on a piece. The code never changes and is never used twice.",
}

PATH = (
    (State.STRIPPED, "clean", State.CLEANED),
    (State.CLEANED, "crack-check", State.CRACK_CHECKED),
    (State.CRACK_CHECKED, "accept", State.ACCEPTED),
    (State.ACCEPTED, "refit", State.REFITTED),
    (State.STRIPPED, "withdraw", State.WITHDRAWN),
    (State.IN_THE_MAKING, "pass", State.RENEWED),
    (State.RENEWED, "refit", State.REFITTED),
)
"""The way that a piece goes when all is well, as the picture draws it: from, by what, to."""
