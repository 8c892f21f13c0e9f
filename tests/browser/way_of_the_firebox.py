"""An inner firebox: condemned, designed, held until the inspecting body has seen it, made, tested and fitted."""

from playwright.sync_api import expect

from tests.browser.ways_walked import (
    LOCOMOTIVE,
    cleaned,
    days,
    done,
    fills,
    follows,
    found_good,
    looked_at,
    needs,
    refitted,
    refused,
)

NAME = "inner firebox"
HOLD = "SELECT id FROM parts_holdpoint WHERE name = ?"
BODY = "Invented Boiler Inspectors"


def walk(works, people) -> None:
    place, old = works.place(NAME), works.piece_of(NAME)
    cleaned(people("volunteer"), old)
    looked_at(people("examiner"), old, "defect", "Wasted at the foundation ring, and cracked between the stays.")
    needs(people("manager"), place, "boiler", "decide", way="Decide")
    condemned(people("engineer"), old)
    needs(people("manager"), place, "boiler", "await", "draw it", way="Go on with the renewal")
    held(people("engineer"))
    renewal = drawn(people("manager"), place)
    held_back(people("manager"), renewal)
    released(people("engineer"), works.one(HOLD, "Design accepted"))
    new = made(people("engineer"), people("manager"), renewal)
    for name in ("Material certificates matched to the plate", "Welding procedures and welders qualified"):
        plainly_released(people("engineer"), works.one(HOLD, name))
    looked_at(people("examiner"), new, "sound")
    tested(people("examiner"), new)
    needs(people("manager"), place, "boiler", "await", "waits to be examined and passed", way="Go on with the renewal")
    stopped(people("manager"))
    plainly_released(people("engineer"), works.one(HOLD, "Stage inspections"))
    found_good(people("engineer"), new, "pass", "Pass the new piece")
    refitted(people("fitter"), new, "Checker")
    assert works.state(new) == "refitted"
    still_held(people("trustee"))


def condemned(engineer, old) -> None:
    engineer.open(f"/t/{old}")
    follows(engineer, "Decide on it")
    engineer.choose("outcome", "renew")
    engineer.page.locator("[name=withdraw_now]").check()
    fills(
        engineer, reason="Condemned: too little plate is left to weld to.", route="Fabricate", destination="scrapped",
    )  # fmt: skip
    refused(engineer, "Decide", "size")
    fills(engineer, override="It is drawn anew from the works drawing.")
    done(engineer, "Decide", "Decided: renew.")


def held(engineer) -> None:
    engineer.open(f"/l/{LOCOMOTIVE}/holds/")
    engineer.fits()
    engineer.page.get_by_text("Set several at once, from a template").click()
    follows(engineer, "A new or rebuilt pressure vessel")
    engineer.sees("the competent person and the local code")
    fills(engineer, body=BODY, subassembly="Boiler", after="Cladding")
    done(engineer, "Set these hold points", "8 hold points set.")


def drawn(manager, place) -> str:
    manager.open(f"/p/{place}/")
    follows(manager, "Go on with the renewal")
    renewal = manager.page.url
    follows(manager, "Who, when, how much")
    fills(manager, who="own drawing office", ordered=days(-30), estimate="1200")
    done(manager, "Save")
    follows(manager, "Mark done")
    done(manager, "Mark done")
    return renewal


def held_back(manager, renewal) -> None:
    """Until the design is accepted the new firebox is not begun, and the page says who must release it."""
    manager.page.goto(renewal)
    follows(manager, "The new piece is begun")
    fills(manager, cast_number="F 9")
    refused(manager, "Begin new piece", "Design accepted", f"{BODY} must release it.")


def released(engineer, hold) -> None:
    """Asked for, and then released on a paper from outside: not before the asking, and not without the paper."""
    engineer.open(f"/holds/{hold}/ask")
    fills(engineer, asked_on=days(-10))
    done(engineer, "It was asked for")
    engineer.open(f"/holds/{hold}/release")
    fills(engineer, on=days(-12), reference="Letter 5 (invented)")
    refused(engineer, "It is released", "Before it was asked for", "Add the scan, or say where the paper is filed.")
    fills(engineer, on=days(-2))
    engineer.page.locator("[name=paper]").set_input_files(
        {"name": "letter.pdf", "mimeType": "application/pdf", "buffer": a_letter()}
    )
    done(engineer, "It is released", "is released")
    expect(engineer.page.locator("a[href^='/paper/']")).to_have_count(1)


def a_letter() -> bytes:
    from io import BytesIO

    from reportlab.pdfgen.canvas import Canvas

    page = BytesIO()
    letter = Canvas(page)
    letter.drawString(72, 720, "Letter 5 (invented): the design is accepted.")
    letter.save()
    return page.getvalue()


def plainly_released(engineer, hold) -> None:
    engineer.open(f"/holds/{hold}/release")
    fills(engineer, reference="Report 6 (invented)", filed="boiler file, section 3")
    done(engineer, "It is released", "is released")


def made(engineer, manager, renewal) -> str:
    manager.page.goto(renewal)
    follows(manager, "The new piece is begun")
    fills(manager, cast_number="F 9", papers="Certificate 88 (invented)", location="Crate of three-ways")
    done(manager, "Begin new piece", "Begun. Its tag, ")
    new = manager.page.url.rsplit("/", 1)[1]
    manager.page.goto(renewal)
    while manager.page.get_by_role("link", name="Mark done", exact=True).count():
        follows(manager, "Mark done")
        fills(manager, actual="2500")
        done(manager, "Mark done")
    return new


def tested(examiner, code) -> None:
    examiner.open(f"/t/{code}/hydraulic-test")
    fills(
        examiner, asked="270 lb/in²", most="280 lb/in²", held_least="30", drop_most="0 lb/in²", limits_from="Invented",
        medium="cold water", reached="270 lb/in²", held="30", drop="0 lb/in²", leaks="none", gauge="G 2",
        until="2099-05-01", witness="Invented Inspector",
    )  # fmt: skip
    examiner.choose("result", "sound")
    examiner.fits()
    examiner.press("Read it over, then sign")
    done(examiner, "Sign it", "Signed: ")


def stopped(manager) -> None:
    """A hold point on the whole boiler stands at the head of its page, with the way to release it."""
    manager.open(f"/l/{LOCOMOTIVE}/s/boiler/")
    manager.sees(f"Stage inspections stops accept, pass until {BODY} releases it.")
    expect(manager.page.locator(".next a[href*='/holds/']").first).to_be_visible()


def still_held(trustee) -> None:
    """What remains is the body's: its steam test and the papers stop the return to service."""
    trustee.open(f"/l/{LOCOMOTIVE}/holds/")
    for name in ("Hydraulic test witnessed", "Steam test", "Papers handed over"):
        trustee.sees(name)
