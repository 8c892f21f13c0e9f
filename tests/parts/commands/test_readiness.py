"""manage.py readiness: the JSON that was promised, and a table for people."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from parts.domain.words import State
from parts.models import Component, GoesOnAfter
from parts.structure.writers.structure import add_subassembly, set_known_empty
from tests.factories import days
from tests.parts.a_half_done_works import half_done

pytestmark = pytest.mark.django_db

BLOCKER = {"position", "side", "axle", "end", "tag", "need", "reasons", "since", "due", "holds_up"}
SUB = {"code", "name", "parent", "goes_on_after", "required", "refitted", "ready", "blocked", "branch"}


def printed(*words) -> str:
    out = StringIO()
    call_command("readiness", *words, stdout=out)
    return out.getvalue()


def told(works) -> dict:
    return json.loads(printed(works.locomotive.slug, "--json"))


def test_the_shape_of_every_subassembly_and_blocker(works):
    half_done(works)
    found = told(works)
    assert set(found) == {"locomotive", "as_of", "subassemblies"}
    assert (found["locomotive"], found["as_of"]) == (works.locomotive.slug, days(0).isoformat())
    for sub in found["subassemblies"]:
        assert set(sub) == SUB | {"clear_to_assemble", "complete", "blockers"}
        assert sub["refitted"] + sub["ready"] + sub["blocked"] == sub["required"]
        assert set(sub["branch"]) == {"required", "refitted", "ready", "blocked"}
        for blocker in sub["blockers"]:
            assert set(blocker) == BLOCKER
            assert blocker["reasons"]


def test_a_small_locomotive_by_hand(works):
    """A plate refitted, a pin at a firm until tomorrow, a known gap; and the motion, which goes on after the frames."""
    motion = add_subassembly(works.locomotive, "Motion", works.people.manager, after=[works.frames])
    works.taken_over(State.REFITTED, works.place(name="plate"))
    pin = works.taken_over(State.ACCEPTED, works.place(name="pin", side="LH", axle="leading", end="front"))
    Component.objects.filter(pk=pin.pk).update(location=works.firm(), away_since=days(-9), promised_back=days(1))
    set_known_empty(works.place(name="gap", subassembly=motion), works.people.engineer, "bare holes")
    frames, motion = told(works)["subassemblies"]
    assert (frames["code"], frames["parent"], frames["goes_on_after"]) == ("frames", None, [])
    assert (frames["required"], frames["refitted"], frames["ready"], frames["blocked"]) == (2, 1, 0, 1)
    assert (frames["clear_to_assemble"], frames["complete"]) == (False, False)
    (away,) = frames["blockers"]
    assert away["position"] == "pin"
    assert (away["side"], away["axle"], away["end"]) == ("LH", "leading", "front")
    assert away["tag"] == pin.tags.get(current=True).code
    assert (away["need"], away["since"], away["due"], away["holds_up"]) == (
        "fetch", days(-9).isoformat(), days(1).isoformat(), 2,
    )  # fmt: skip
    assert motion["goes_on_after"] == ["frames"]
    gap, after = sorted(motion["blockers"], key=lambda blocker: blocker["position"] or "z")
    assert (gap["position"], gap["need"], gap["holds_up"]) == ("gap", "source", 1)
    assert (after["position"], after["need"], after["tag"], after["due"]) == (None, "after", "", None)


def test_people_get_a_table(works):
    half_done(works)
    lines = printed(works.locomotive.slug).splitlines()
    assert any(line.startswith("  Springs") for line in lines)
    assert [line for line in lines if line.startswith("Lamps")][0].endswith("complete")


def test_an_unknown_locomotive_is_refused_and_the_known_ones_named(works):
    with pytest.raises(CommandError, match=works.locomotive.slug):
        printed("no-such")


def test_where_there_is_none_the_command_that_makes_one_is_named(db):
    with pytest.raises(CommandError, match="new_locomotive"):
        printed("no-such")


def test_a_loop_is_named(works):
    motion = add_subassembly(works.locomotive, "Motion", works.people.manager, after=[works.frames])
    GoesOnAfter.objects.create(subassembly=works.frames, after=motion)
    with pytest.raises(CommandError, match="Frames goes on after Motion|Motion goes on after Frames"):
        printed(works.locomotive.slug)
