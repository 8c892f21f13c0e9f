"""A cracked cylinder casting: renewed from an old pattern at a foundry that is late and spoils one."""

from inspections.models import Dimension
from parts.models import Component
from tests.ways.scenery import LOCOMOTIVE, place_and_tag, state
from tests.ways.steps import (
    cleaned,
    crack_checked,
    days,
    done,
    found_good,
    measured,
    needs,
    refitted,
    refused,
)


def test_a_cracked_cylinder_is_renewed_from_an_old_pattern(works, people):
    place, old = place_and_tag("cylinder")
    cleaned(people("volunteer"), old)
    crack_checked(people("examiner"), old, "indication", "A crack of 180 mm from the steam port, through the wall.")
    needs(people("manager"), place, "cylinders", "decide", "crack", way="Decide")
    decided(people("engineer"), old)
    needs(people("manager"), place, "cylinders", "await", "find the pattern and check it", way="Go on with the renewal")
    found_and_late(people("manager"))
    needs(
        people("manager"), place, "cylinders", "await", "Invented Foundry", "8 days", "slipped once",
        way="Go on with the renewal",
    )  # fmt: skip
    patterned(people("manager"))
    new = cast(people("manager"), people("engineer"))
    machined(people("manager"))
    crack_checked(people("examiner"), new, "sound")
    bore = Dimension.objects.get(name="bore").pk
    measured(people("examiner"), new, bore, "B 1", "15.001 in", "as new")
    never_in_a_ring(people("engineer"), old, new)
    withdrawn(people("engineer"), old)
    found_good(people("engineer"), new, "pass", "Pass the new piece")
    assert state(new) == "renewed"
    refitted(people("fitter"), new, "Checker")
    linked(people("trustee"), old, new)
    in_the_ledger(people("trustee"))
    money(people("trustee"))


def decided(engineer, old) -> None:
    engineer.open(f"/t/{old}")
    engineer.unfold("What else you can do")
    engineer.follow("Decide on it")
    engineer.unfold("Weigh the ways side by side")
    engineer.fill(
        option1__what="stitch the crack cold", option1__estimate="3500", option1__takes="6",
        option1__who="Invented Metal Stitching", option1__risk="It may run on from the port.",
        option1__keeps="all of it", option1__keeps_percent="100",
        option2__what="cast it anew from the old pattern", option2__estimate="-9000", option2__takes="7",
        option2__who="Invented Foundry", option2__risk="The pattern may have shrunk.",
        option2__keeps="covers and studs", option2__keeps_percent="5", option2__comes_to="a new piece",
        reason="Cracked through into the steam port; a stitch there is not to be relied on.",
        route="Casting from an existing pattern",
    )  # fmt: skip
    engineer.choose("option2-chosen")
    engineer.choose("outcome", "renew")
    refused(engineer, "Decide", "Way 2")
    engineer.fill(option2__estimate="9000")
    done(engineer, "Decide", "Decided: renew.", "Now: find the pattern and check it")


def found_and_late(manager) -> None:
    """The foundry comes into the register of firms; a day before the order is refused, and a slip stays on record."""
    place = manager.here
    manager.open("/firms/")
    manager.follow("Enter a firm")
    manager.fill(name="Invented Foundry", does="Iron castings")
    done(manager, "Save firm")
    manager.open(place)
    manager.follow("Go on with the renewal")
    manager.follow("Who, when, how much")
    manager.fill(firm="Invented Foundry", ordered=days(-40), estimate="400")
    done(manager, "Save")
    manager.follow("Note the promised day")
    manager.fill(promised=days(-50))
    refused(manager, "Save day", "before the order")
    manager.fill(promised=days(-20))
    done(manager, "Save day")
    manager.follow("Note the promised day")
    manager.fill(promised=days(-8), why="Their pattern store is being moved.")
    done(manager, "Save day", "8 days overdue", "slipped 1 time")


def patterned(manager) -> None:
    """The old pattern comes into the register, and the renewal names it."""
    manager.follow("Go on with the renewal")
    renewal = manager.here
    manager.open("/patterns/")
    manager.follow("Enter one")
    manager.choose("kind", "pattern")
    manager.fill(name="cylinder, LH", location="Crate of three-ways", condition="Two loose core prints.")
    done(manager, "Save pattern", "It is in the register")
    manager.open(renewal)
    manager.follow("Name its pattern")
    manager.fill(pattern="cylinder")
    done(manager, "Save", "To be cast from")


def looked_over(manager) -> None:
    """Nothing is cast from a pattern that nobody has looked over."""
    renewal = manager.here
    manager.follow("Mark done")
    manager.sees("as found")
    manager.open(renewal)
    manager.follow("cylinder, LH pattern")
    manager.follow("It is checked")
    manager.fill(remark="Core prints glued, bore and port sizes right.")
    done(manager, "It is checked", "is checked now.")
    manager.open(renewal)


def cast(manager, engineer) -> str:
    """The first casting is spoilt; the second one is the new piece."""
    renewal = manager.here
    for _ in range(2):  # the pattern is found, and mended
        manager.follow("Mark done")
        manager.fill(actual="380.00")
        done(manager, "Mark done")
    manager.follow("Who, when, how much")
    manager.fill(firm="Invented Foundry", ordered=days(-5), estimate="6000", committed="-1")
    refused(manager, "Save", "Cost ordered")
    manager.fill(committed="6200")
    done(manager, "Save")
    begun(manager, "K 101")
    manager.open(renewal)
    spoilt(engineer, renewal)
    manager.open(renewal)
    new = begun(manager, "K 102", papers="Certificate 77 (invented)")
    manager.open(renewal)
    looked_over(manager)
    manager.follow("Mark done")
    manager.fill(actual="6200", papers="Certificate 77 (invented)")
    done(manager, "Mark done")
    assert Component.objects.get(cast_number="K 102").tags.current_code() == new
    return new


def begun(manager, number: str, **more) -> str:
    manager.follow("The new piece is begun")
    manager.fill(cast_number=number, location="Crate of three-ways", **more)
    done(manager, "Begin new piece", "Begun. Its tag, ")
    return manager.here.rsplit("/", 1)[1]


def spoilt(engineer, renewal) -> None:
    engineer.open(renewal)
    engineer.follow("Mark failed")
    engineer.fill(reason="Blow-holes in the bore, found on the first cut.", actual="1500")
    engineer.fill(back_to="cast it", blank="K 101")
    done(engineer, "Mark failed", "failed. Next, again: cast it.", "Blow-holes in the bore")


def machined(manager) -> None:
    """A route is not closed while a step of it is open."""
    renewal = manager.here
    manager.open(renewal + "close")
    refused(manager, "Close it", "weather")
    manager.open(renewal)
    for _ in range(2):
        manager.follow("Mark done")
        done(manager, "Mark done")


def never_in_a_ring(engineer, old, new) -> None:
    engineer.open(f"/t/{new}")
    engineer.unfold("About it")
    engineer.follow("Another one")
    engineer.fill(replaces=new)
    refused(engineer, "Save", "itself")
    engineer.open(f"/t/{old}/replaces")
    engineer.fill(replaces=new)
    refused(engineer, "Save", "replaces")


def withdrawn(engineer, old) -> None:
    engineer.open(f"/t/{old}")
    engineer.unfold("What else you can do")
    engineer.follow("Withdraw it")
    engineer.choose("destination", "set aside for display")
    engineer.fill(reason="Cracked through; its successor is cast.")
    refused(engineer, "Withdraw it", "nobody has taken the sizes of this one")
    engineer.fill(override="The pattern gives them all.")
    done(engineer, "Withdraw it")


def linked(trustee, old, new) -> None:
    trustee.open(f"/t/{old}")
    trustee.unfold("About it")
    trustee.sees("Replaced by")
    trustee.sees("", at=f"a[href='/t/{new}']")
    trustee.open(f"/t/{new}")
    trustee.unfold("About it")
    trustee.sees("", at=f"a[href='/t/{old}']")


def in_the_ledger(trustee) -> None:
    trustee.open(f"/l/{LOCOMOTIVE}/ledger/")
    trustee.unfold("Where the old ones went")
    trustee.sees("Cracked through; its successor is cast.")


def money(trustee) -> None:
    """What was ordered and what the spoilt casting cost stays."""
    trustee.open(f"/l/{LOCOMOTIVE}/money/")
    trustee.sees("Cylinders")
    trustee.sees("8,460.00")
