"""An inner firebox: condemned, designed, held until the inspecting body has seen it, made, tested and fitted."""

from io import BytesIO

from django.core.files.uploadedfile import SimpleUploadedFile
from reportlab.pdfgen.canvas import Canvas

from parts.models import HoldPoint
from tests.ways.scenery import LOCOMOTIVE, place_and_tag, state
from tests.ways.steps import (
    cleaned,
    days,
    done,
    found_good,
    looked_at,
    needs,
    refitted,
    refused,
)

HOLDS = f"/l/{LOCOMOTIVE}/holds/"
BODY = "Invented Boiler Inspectors"


def test_an_inner_firebox_is_condemned_designed_held_made_tested_and_fitted(works, people):
    place, old = place_and_tag("inner firebox")
    cleaned(people("volunteer"), old)
    looked_at(people("examiner"), old, "defect", "Wasted at the foundation ring, and cracked between the stays.")
    needs(people("manager"), place, "boiler", "decide", way="Decide")
    condemned(people("engineer"), old)
    needs(people("manager"), place, "boiler", "await", "draw it", way="Go on with the renewal")
    held(people("engineer"))
    renewal = drawn(people("manager"), place)
    held_back(people("manager"), renewal)
    released(people("engineer"), "Design accepted")
    new = made(people("engineer"), people("manager"), renewal)
    for name in ("Material certificates matched to the plate", "Welding procedures and welders qualified"):
        plainly_released(people("engineer"), name)
    looked_at(people("examiner"), new, "sound")
    water_tested(people("examiner"), new)
    needs(people("manager"), place, "boiler", "await", "waits to be examined and passed", way="Go on with the renewal")
    stopped(people("manager"))
    plainly_released(people("engineer"), "Stage inspections")
    found_good(people("engineer"), new, "pass", "Pass the new piece")
    refitted(people("fitter"), new, "Checker")
    assert state(new) == "refitted"
    still_held(people("trustee"))


def condemned(engineer, old) -> None:
    engineer.open(f"/t/{old}")
    engineer.unfold("What else you can do")
    engineer.follow("Decide on it")
    engineer.choose("outcome", "renew")
    engineer.choose("withdraw_now")
    engineer.fill(
        reason="Condemned: too little plate is left to weld to.", route="Fabricate", destination="scrapped",
    )  # fmt: skip
    refused(engineer, "Decide", "size")
    engineer.fill(override="It is drawn anew from the works drawing.")
    done(engineer, "Decide", "Decided: renew.")


def held(engineer) -> None:
    engineer.open(HOLDS)
    engineer.unfold("Set several at once, from a template")
    engineer.follow("A new or rebuilt pressure vessel")
    engineer.sees("the competent person and the local code")
    engineer.fill(body=BODY, subassembly="Boiler", after="Cladding")
    done(engineer, "Set these hold points", "8 hold points set.")


def drawn(manager, place) -> str:
    manager.open(f"/p/{place}/")
    manager.follow("Go on with the renewal")
    renewal = manager.here
    manager.follow("Who, when, how much")
    manager.fill(who="own drawing office", ordered=days(-30), estimate="1200")
    done(manager, "Save")
    manager.follow("Mark done")
    done(manager, "Mark done")
    return renewal


def held_back(manager, renewal) -> None:
    """Until the design is accepted the new firebox is not begun, and the page says who must release it."""
    manager.open(renewal)
    manager.follow("The new piece is begun")
    manager.fill(cast_number="F 9")
    refused(manager, "Begin new piece", "Design accepted", f"{BODY} must release it.")


def released(engineer, name) -> None:
    """Asked for, and then released on a paper from outside: not before the asking, and not without the paper."""
    engineer.open(HOLDS)
    engineer.unfold(name)
    engineer.follow("It was asked for")
    engineer.fill(asked_on=days(-10))
    done(engineer, "It was asked for")
    to_release(engineer, name)
    engineer.fill(on=days(-12), reference="Letter 5 (invented)")
    refused(engineer, "It is released", "Before it was asked for", "Add the scan, or say where the paper is filed.")
    engineer.fill(on=days(-2))
    engineer.upload("paper", a_letter())
    done(engineer, "It is released", "is released")
    assert len(engineer.page.cssselect("a[href^='/paper/']")) == 1


def to_release(engineer, name) -> None:
    engineer.open(HOLDS)
    engineer.follow(f"Release it: hold point {HoldPoint.objects.get(name=name).pk}")


def a_letter() -> SimpleUploadedFile:
    page = BytesIO()
    letter = Canvas(page)
    letter.drawString(72, 720, "Letter 5 (invented): the design is accepted.")
    letter.save()
    return SimpleUploadedFile("letter.pdf", page.getvalue(), "application/pdf")


def plainly_released(engineer, name) -> None:
    to_release(engineer, name)
    engineer.fill(reference="Report 6 (invented)", filed="boiler file, section 3")
    done(engineer, "It is released", "is released")


def made(engineer, manager, renewal) -> str:
    manager.open(renewal)
    manager.follow("The new piece is begun")
    manager.fill(cast_number="F 9", papers="Certificate 88 (invented)", location="Crate of three-ways")
    done(manager, "Begin new piece", "Begun. Its tag, ")
    new = manager.here.rsplit("/", 1)[1]
    manager.open(renewal)
    while manager.offers("Mark done"):
        manager.follow("Mark done")
        manager.fill(actual="2500")
        done(manager, "Mark done")
    return new


def water_tested(examiner, code) -> None:
    examiner.reach(code, "Sign the hydraulic test", "hydraulic-test")
    examiner.fill(
        asked="270 lb/in²", most="280 lb/in²", held_least="30", drop_most="0 lb/in²", limits_from="Invented",
        medium="cold water", reached="270 lb/in²", held="30", drop="0 lb/in²", leaks="none", gauge="G 2",
        until="2099-05-01", witness="Invented Inspector",
    )  # fmt: skip
    examiner.choose("result", "sound")
    done(examiner, "Read it over, then sign")
    done(examiner, "Sign it", "Signed: ")


def stopped(manager) -> None:
    """A hold point on the whole boiler stands at the head of its page, with the way to release it."""
    manager.open(f"/l/{LOCOMOTIVE}/s/boiler/")
    manager.sees(f"Stage inspections stops accept, pass until {BODY} releases it.")
    manager.sees("", at=".next a[href*='/holds/']")


def still_held(trustee) -> None:
    """What remains is the body's: its steam test and the papers stop the return to service."""
    trustee.open(HOLDS)
    for name in ("Hydraulic test witnessed", "Steam test", "Papers handed over"):
        trustee.sees(name)
