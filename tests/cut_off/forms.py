"""The forms a shed uses, each with how it is come to, filled in and sent, and how the database shows what was done."""

from collections.abc import Callable
from dataclasses import dataclass

from tests.browser.watching import Person
from tests.cut_off.done import (
    boxed_up,
    carried,
    counted,
    decided,
    decided_of_what_was_found,
    events,
    in_hand,
    lifted,
    moves_of_code,
    photos_of_code,
    pieces_named,
    read_of_survey,
    signed_by,
    stays_found,
    tests_of_boiler,
    ticked,
)
from tests.cut_off.filling import (
    A_CRACK_CHECK,
    a_boiler_test,
    a_code,
    a_decision,
    a_look,
    a_loose_piece,
    a_measurement,
    a_picture,
    another_way,
    found_of_stays,
    how_held,
    nothing,
    readings,
    the_checker_proves,
    what_becomes_of_it,
    what_both_saw,
    what_is_seen,
    what_is_wrong,
    where_it_stands,
    where_to,
    why_it_goes_on,
)
from tests.cut_off.scene import (
    LYING,
    PLAIN,
    TO_CRACK_CHECK,
    TO_MEASURE,
    TO_STOP,
    Scene,
    a_crate,
    a_job_of_the_day,
    a_survey,
    at_piece,
    closing,
    collecting,
    counting,
    found_by_crack_check,
    into_a_crate,
    locking,
    loose,
    refitting,
    stays,
    stopped,
    testing,
)
from tests.demo_copy import Register
from tests.hands import Hands


@dataclass(frozen=True)
class Form:
    """`done` counts, before and after. What `signs` is never sent by itself; `then` is pressed on the page of signing
    that follows, if one does; what a checker `proves` is typed again each time. `fill` may be in steps; `button` is its
    name, or how it is found in what the address ends in."""

    name: str
    who: str
    begin: Callable[[Scene, Hands], str]
    fill: Callable[[Person, str], None] | tuple[Callable[[Person, str], None], ...]
    button: str
    done: Callable[[Register, str], int]
    signs: bool = False
    then: str = ""
    proves: Callable[[Person], None] | None = None


READ_OVER = "Read it over, then sign"
FORMS = (
    Form("clean", "pim", at_piece(LYING, "do/clean"), another_way, "Cleaned this way", events("clean")),
    Form("move", "pim", at_piece(LYING, "move"), where_to, "Save place", events("move")),
    Form("note", "pim", at_piece(LYING, "describe"), what_is_seen, "Save", events("describe")),
    Form("photo", "pim", at_piece(LYING, "photos"), a_picture, "Save photos", photos_of_code),
    Form("strip", "pim", loose, a_loose_piece, "Save piece", pieces_named),
    Form("put away", "nell", into_a_crate, a_code, "Put it in", moves_of_code),
    Form("count", "nell", counting, a_code, "Seen", counted),
    Form("kit", "nell", collecting, a_code, "In hand", in_hand),
    Form("day sheet", "ada", a_job_of_the_day, nothing, "button[value=done]", ticked),
    Form("stop", "pim", at_piece(TO_STOP, "stop"), what_is_wrong, "Stop work on it", events("stop")),
    Form("refit", "bram", refitting, how_held, "Refit it", events("refit")),
    Form("lock", "bram", locking, how_held, "Say how it is locked", events("lock")),
    Form("survey", "petra", a_survey, readings, "Save readings", read_of_survey),
    Form("stay map", "petra", stays, found_of_stays, "Save stays", stays_found),
    Form("look", "petra", at_piece(PLAIN, "examine"), a_look, READ_OVER, signed_by("visual"), True, "Sign it"),
    Form(
        "crack check", "petra", at_piece(TO_CRACK_CHECK, "crack-check"), A_CRACK_CHECK, READ_OVER,
        signed_by("crack check"), True, "Sign it",
    ),
    Form(
        "measure", "petra", at_piece(TO_MEASURE, "measure"), a_measurement, READ_OVER, signed_by("dimensional"), True,
        "Sign it",
    ),
    Form("decide", "maud", at_piece(LYING, "decide"), a_decision, "Decide", decided, True),
    Form(
        "decide what was found", "maud", found_by_crack_check, what_becomes_of_it, "Decide", decided_of_what_was_found,
        True,
    ),
    Form("lift", "maud", stopped, why_it_goes_on, "Lift the stop", lifted, True),
    Form("carry", "nell", a_crate, where_it_stands, "It stands there now", carried),
    Form("hydraulic test", "petra", testing("hydraulic"), a_boiler_test, "Save test", tests_of_boiler),
    Form("steam test", "petra", testing("steam"), a_boiler_test, "Save test", tests_of_boiler),
    Form(
        "box up", "bram", closing, what_both_saw, "Sign and box up", boxed_up, True, proves=the_checker_proves,
    ),
)  # fmt: skip
