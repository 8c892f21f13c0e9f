"""A wasted bunker side: found too thin, new plate from a numbered lot let in, and examined anew."""

from inspections.models import Dimension
from tests.ways.scenery import LOCOMOTIVE, place_and_tag, state
from tests.ways.steps import (
    cleaned,
    crack_checked,
    days,
    done,
    found_good,
    looked_at,
    needs,
    read_and_signed,
    refitted,
    refused,
)


def test_a_wasted_bunker_side_is_mended_with_new_plate_and_examined_anew(works, people):
    place, code = place_and_tag("bunker side")
    size = Dimension.objects.get(position=place).pk
    cleaned(people("volunteer"), code)
    surveyed(people("examiner"), code, size, "U 1", "3.2 mm", "beyond the scrapping limit")
    needs(people("manager"), place, "bunker", "decide", "beyond the scrapping limit", way="Decide")
    plate = received(people("engineer"))
    patch = cut(people("engineer"), plate)
    depended_on(people("engineer"), plate)
    decided(people("engineer"), code)
    needs(people("manager"), place, "bunker", "repair", "new strip along the bottom edge", way="Go on with the repair")
    not_yet(people("fitter"), code)
    finished(people("deputy"), code)
    assert state(code) == "stripped"
    needs(people("manager"), place, "bunker", "clean")
    cleaned(people("volunteer"), code)
    needs(people("manager"), place, "bunker", "crack-check", "The finished weld was not checked for cracks")
    stage = "The finished weld; neither stress relief nor machining follows"
    crack_checked(people("examiner"), code, "sound", stage=stage, magnet="A magnet holds.")
    needs(people("manager"), place, "bunker", "examine", "No visual examination is signed.")
    surveyed(people("examiner"), code, size, "U 1", "6.3 mm", "as new")
    looked_at(people("examiner"), code, "sound")
    found_good(people("engineer"), code, "accept", "Accept it")
    refitted(people("fitter"), code)
    assert state(code) == "refitted"
    built_in(people("trustee"), code, patch)


def surveyed(examiner, code, size, *read) -> None:
    examiner.reach(code, "Sign the visual examination", "examine")
    examiner.follow("Survey its thickness")
    read_and_signed(examiner, size, *read)


def received(engineer) -> str:
    engineer.open("/stock/")
    engineer.follow("Plate or bar comes in")
    engineer.fill(name="steel plate, 1/4 in", cast_number="P 4471", papers="Certificate 31 (invented)")
    done(engineer, "Save plate or bar", "It is in the register, with a tag.")
    return engineer.here.rsplit("/", 1)[1]


def cut(engineer, plate) -> str:
    engineer.follow("Cut from it")
    engineer.fill(name="patch for the bunker")
    done(engineer, "Save cut", "carries the number P 4471")
    return engineer.here.rsplit("/", 1)[1]


def depended_on(engineer, plate) -> None:
    """What hangs on a piece is said before it is withdrawn."""
    engineer.open(f"/t/{plate}/do/withdraw")
    engineer.sees("1 new piece cut from it is still in the making.")
    engineer.choose("destination", "scrapped")
    engineer.fill(reason="Used up.")
    refused(engineer, "Withdraw it", "depend")


def decided(engineer, code) -> None:
    engineer.open(f"/t/{code}")
    engineer.unfold("What else you can do")
    engineer.follow("Decide on it")
    engineer.choose("outcome", "repair")
    engineer.fill(reason="Wasted below the tank line only; the rest is good plate.", method="let in new plate",
        what="new strip along the bottom edge", who="own boiler shop", ordered=days(-3), promised=days(-9),
    )  # fmt: skip
    refused(engineer, "Decide", "before the order")
    engineer.fill(promised=days(20))
    done(engineer, "Decide", "The repair is begun.")


def not_yet(fitter, code) -> None:
    """A weld is not closed over what nobody has looked into; no sum is less than nothing."""
    fitter.open(f"/t/{code}")
    fitter.follow("Go on with the repair")
    fitter.follow("Finish repair")
    fitter.fill(work="Cut out the wasted strip.", actual="-5", procedure="WP 12", welder="W 3 (invented)")
    refused(fitter, "Finish repair", "Cost paid")
    fitter.fill(actual="210.50")
    refused(fitter, "Finish repair", "no crack check of the excavation is signed")


def finished(engineer, code) -> None:
    """The procedure and the welder are on record, and the plate let in carries its number into it."""
    engineer.open(f"/t/{code}")
    engineer.follow("Go on with the repair")
    engineer.follow("Finish repair")
    engineer.fill(work="Cut out the wasted strip, let in new plate, butt-welded.", who="own boiler shop",
        actual="210.50", procedure="WP 12", welder="W 3 (invented)", let_in_kg="8.4",
        override="Cut back to sound plate; nothing was excavated.",
    )  # fmt: skip
    engineer.choose("plates-0")  # the only one that is cut
    done(engineer, "Finish repair", "The repair is finished.")


def built_in(trustee, code, patch) -> None:
    trustee.open(f"/t/{patch}")
    trustee.sees("into another piece")
    trustee.open(f"/t/{code}")
    trustee.sees("", at=f"a[href='/t/{patch}']")
    trustee.open(f"/l/{LOCOMOTIVE}/ledger/")
    trustee.sees("8.400 kg")
