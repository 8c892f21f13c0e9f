"""A locomotive half way through its overhaul, for tests of the readiness pages: every sort of thing that can stand in
the way, a place with an order of its own, and what only the calendar brings."""

from django.db import connection
from django.test.utils import CaptureQueriesContext

from core.log.writing import one_transaction
from parts.actions.refresh import put_off, refresh
from parts.domain.words import State
from parts.holds.writers import add_hold, release
from parts.models import Component, HoldPoint, Subassembly
from parts.structure.writers.structure import add_subassembly, remove_position, set_known_empty
from tests.factories import Works, days
from tests.remembered import remembered

STATES = (State.REFITTED, State.ACCEPTED, State.CLEANED, State.STRIPPED, State.IN_PLACE, State.RENEWED)


@remembered
def half_done(works: Works, rounds: int = 1) -> dict[str, Subassembly]:
    """Frames with springs as a part; wheels after the frames; motion after both. Each round adds as much again."""
    with one_transaction(), put_off():  # as a list is taken over: how all places stand is worked out together
        return _half_done(works, rounds)


def _half_done(works: Works, rounds: int) -> dict[str, Subassembly]:
    manager = works.people.manager
    subs = {"frames": works.frames}
    subs["springs"] = add_subassembly(works.locomotive, "Springs", manager, parent=works.frames)
    subs["wheels"] = add_subassembly(works.locomotive, "Wheels", manager, after=[works.frames])
    subs["motion"] = add_subassembly(works.locomotive, "Motion", manager, after=[works.frames, subs["wheels"]])
    subs["lamps"] = add_subassembly(works.locomotive, "Lamps", manager)
    for _ in range(rounds):
        _fill(works, subs)
    _hold(works, subs)
    return subs


def _fill(works: Works, subs: dict[str, Subassembly]) -> None:
    for sub in ("frames", "springs", "wheels", "motion"):
        for state in STATES:
            works.taken_over(state, works.plain_place(subassembly=subs[sub], needed_first=state is not State.CLEANED))
        works.plain_place(subassembly=subs[sub])
    works.taken_over(State.REFITTED, works.plain_place(subassembly=subs["lamps"]))
    stay = works.plain_place(name="horn stay", after=[subs["wheels"]])
    works.taken_over(State.CLEANED, stay)
    set_known_empty(works.plain_place(name="bracket"), works.people.engineer, "bare holes")
    works.built_up()
    works.taken_over(State.STRIPPED, works.plain_place(name="rod", required=False, subassembly=subs["motion"]))
    _gone_by(works, subs)
    gone = works.plain_place(name="taken away")
    works.withdraw(works.taken_over(State.CLEANED, gone))
    assert remove_position(gone, works.people.manager) == "retired"


def _gone_by(works, subs) -> None:
    """Days have passed since: a look-again date, the day that a late piece was good until, and a release."""
    for place in (
        works.plain_place(name="pin", subassembly=subs["motion"]),
        works.plain_place(name="late pin", after=[subs["wheels"]]),
    ):
        piece = works.taken_over(State.ACCEPTED, place)
        Component.objects.filter(pk=piece.pk).update(look_again=days(-1))
        refresh(place.pk)
    place = works.plain_place(name="stud", subassembly=subs["springs"])
    works.taken_over(State.ACCEPTED, place)
    hold = add_hold(
        works.locomotive.open_overhaul(), works.people.engineer, name="approval", stops=["refit"], body="the board",
        position=place,
    )  # fmt: skip
    release(hold, works.people.engineer, reference="letter 4", filed="boiler file", expires=days(1))
    HoldPoint.objects.filter(pk=hold.pk).update(expires=days(-1))
    refresh(place.pk)


def _hold(works, subs) -> None:
    overhaul, engineer = works.locomotive.open_overhaul(), works.people.engineer
    add_hold(overhaul, engineer, name="survey", stops=["strip"], body="the surveyor", subassembly=subs["springs"])
    add_hold(overhaul, engineer, name="design", stops=["refit"], body="the board", subassembly=subs["motion"])


def counted(client, address) -> int:
    """How many queries a page takes."""
    client.get(address)  # the session remembers the locomotive from now on
    with CaptureQueriesContext(connection) as found:
        client.get(address)
    return len(found)
