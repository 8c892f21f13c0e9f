"""A cracked cylinder casting: renewed from an old pattern at a foundry that is late and spoils one."""

from playwright.sync_api import expect

from tests.browser.ways_walked import (
    LOCOMOTIVE,
    cleaned,
    crack_checked,
    days,
    done,
    fills,
    follows,
    found_good,
    measured,
    needs,
    refitted,
    refused,
)

NAME = "cylinder"
BORE = "SELECT id FROM inspections_dimension WHERE name = 'bore'"
NEW = "SELECT code FROM parts_tag WHERE component_id = (SELECT id FROM parts_component WHERE cast_number = ?)"


def walk(works, people) -> None:
    place, old = works.place(NAME), works.piece_of(NAME)
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
    new = cast(people("manager"), people("engineer"), works)
    machined(people("manager"))
    crack_checked(people("examiner"), new, "sound")
    measured(people("examiner"), new, "measure", works.one(BORE), "B 1", "15.001 in", "as new")
    never_in_a_ring(people("engineer"), old, new)
    withdrawn(people("engineer"), old)
    found_good(people("engineer"), new, "pass", "Pass the new piece")
    assert works.state(new) == "renewed"
    refitted(people("fitter"), new, "Checker")
    linked(people("trustee"), old, new)
    in_the_ledger(people("trustee"))
    money(people("trustee"))


def decided(engineer, old) -> None:
    page = engineer.page
    engineer.open(f"/t/{old}")
    follows(engineer, "Decide on it")
    page.get_by_text("Weigh the ways side by side").click()
    fills(
        engineer, option1__what="stitch the crack cold", option1__estimate="3500", option1__takes="6",
        option1__who="Invented Metal Stitching", option1__risk="It may run on from the port.",
        option1__keeps="all of it", option1__keeps_percent="100",
        option2__what="cast it anew from the old pattern", option2__estimate="-9000", option2__takes="7",
        option2__who="Invented Foundry", option2__risk="The pattern may have shrunk.",
        option2__keeps="covers and studs", option2__keeps_percent="5",
    )  # fmt: skip
    page.locator("[name=option2-comes_to]").select_option("renew")
    page.locator("[name=option2-chosen]").check()
    engineer.choose("outcome", "renew")
    fills(engineer, reason="Cracked through into the steam port; a stitch there is not to be relied on.")
    fills(engineer, route="Casting from an existing pattern")
    engineer.fits()
    refused(engineer, "Decide", "Way 2")
    fills(engineer, option2__estimate="9000")
    done(engineer, "Decide", "Decided: renew.", "Now: find the pattern and check it")


def found_and_late(manager) -> None:
    """The foundry comes into the register of firms; a day before the order is refused, and a slip stays on record."""
    page = manager.page
    renewal = page.url
    manager.open("/firms/add")
    fills(manager, name="Invented Foundry", does="Iron castings")
    done(manager, "Save firm")
    page.goto(renewal)
    follows(manager, "Go on with the renewal")
    follows(manager, "Who, when, how much")
    fills(manager, firm="Invented Foundry", ordered=days(-40), estimate="400")
    done(manager, "Save")
    follows(manager, "Note the promised day")
    fills(manager, promised=days(-50))
    refused(manager, "Save day", "before the order")
    fills(manager, promised=days(-20))
    done(manager, "Save day")
    follows(manager, "Note the promised day")
    fills(manager, promised=days(-8), why="Their pattern store is being moved.")
    done(manager, "Save day", "8 days overdue", "slipped 1 time")


def patterned(manager) -> None:
    """The old pattern comes into the register, and the renewal names it."""
    page = manager.page
    follows(manager, "Go on with the renewal")
    renewal = page.url
    manager.open("/patterns/add")
    manager.choose("kind", "pattern")
    fills(manager, name="cylinder, LH", location="Crate of three-ways", condition="Two loose core prints.")
    manager.fits()
    done(manager, "Save pattern", "It is in the register")
    page.goto(renewal)
    follows(manager, "Name its pattern")
    page.locator("[name=pattern]").select_option(index=1)
    done(manager, "Save", "To be cast from")


def looked_over(manager) -> None:
    """Nothing is cast from a pattern that nobody has looked over."""
    page = manager.page
    renewal = page.url
    follows(manager, "Mark done")
    manager.sees("as found")
    page.goto(renewal)
    page.locator("a[href^='/patterns/']").first.click()
    manager.open(page.url.removeprefix(manager.address) + "to/checked")
    fills(manager, remark="Core prints glued, bore and port sizes right.")
    page.locator("main form .button-main").click()
    manager.sees("is checked now.")
    page.goto(renewal)


def cast(manager, engineer, works) -> str:
    """The first casting is spoilt; the second one is the new piece."""
    page = manager.page
    renewal = page.url
    for _ in range(2):  # the pattern is found, and mended
        follows(manager, "Mark done")
        fills(manager, actual="380.00")
        done(manager, "Mark done")
    follows(manager, "Who, when, how much")
    fills(manager, firm="Invented Foundry", ordered=days(-5), estimate="6000", committed="-1")
    refused(manager, "Save", "Cost ordered")
    fills(manager, committed="6200")
    done(manager, "Save")
    begun(manager, "K 101")
    manager.page.goto(renewal)
    spoilt(engineer, renewal)
    manager.page.goto(renewal)
    new = begun(manager, "K 102", papers="Certificate 77 (invented)")
    manager.page.goto(renewal)
    looked_over(manager)
    follows(manager, "Mark done")
    fills(manager, actual="6200", papers="Certificate 77 (invented)")
    done(manager, "Mark done")
    assert works.one(NEW, "K 102") == new
    return new


def begun(manager, number: str, **more) -> str:
    follows(manager, "The new piece is begun")
    fills(manager, cast_number=number, location="Crate of three-ways", **more)
    done(manager, "Begin new piece", "Begun. Its tag, ")
    return manager.page.url.rsplit("/", 1)[1]


def spoilt(engineer, renewal) -> None:
    engineer.page.goto(renewal)
    follows(engineer, "Mark failed")
    fills(engineer, reason="Blow-holes in the bore, found on the first cut.", actual="1500")
    engineer.page.locator("[name=back_to]").select_option(index=3)
    engineer.page.locator("[name=blank]").select_option(index=1)
    engineer.fits()
    done(engineer, "Mark failed", "failed. Next, again: cast it.", "Blow-holes in the bore")


def machined(manager) -> None:
    """A route is not closed while a step of it is open."""
    page = manager.page
    renewal = page.url
    page.goto(renewal + "close")
    refused(manager, "Close it", "weather")
    page.goto(renewal)
    for _ in range(2):
        follows(manager, "Mark done")
        done(manager, "Mark done")


def never_in_a_ring(engineer, old, new) -> None:
    engineer.open(f"/t/{new}/replaces")
    fills(engineer, replaces=new)
    refused(engineer, "Save", "itself")
    engineer.open(f"/t/{old}/replaces")
    fills(engineer, replaces=new)
    refused(engineer, "Save", "replaces")


def withdrawn(engineer, old) -> None:
    engineer.open(f"/t/{old}/do/withdraw")
    engineer.choose("destination", "set aside for display")
    fills(engineer, reason="Cracked through; its successor is cast.")
    refused(engineer, "Withdraw it", "nobody has taken the sizes of this one")
    fills(engineer, override="The pattern gives them all.")
    done(engineer, "Withdraw it")


def linked(trustee, old, new) -> None:
    trustee.open(f"/t/{old}")
    trustee.sees("Replaced by")
    expect(trustee.page.locator(f"a[href='/t/{new}']").first).to_be_visible()
    trustee.open(f"/t/{new}")
    expect(trustee.page.locator(f"a[href='/t/{old}']").first).to_be_visible()


def in_the_ledger(trustee) -> None:
    trustee.open(f"/l/{LOCOMOTIVE}/ledger/")
    trustee.fits()
    trustee.sees("Cracked through; its successor is cast.")


def money(trustee) -> None:
    """What was ordered and what the spoilt casting cost stays."""
    trustee.open(f"/l/{LOCOMOTIVE}/money/")
    trustee.fits()
    trustee.sees("Cylinders")
    trustee.sees("8,460.00")
