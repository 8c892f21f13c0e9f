"""From the kit to the signed record of boxing up: collected, put on, photographed and closed under two names."""

from inspections.models import BoxedPiece
from parts.domain.words import State
from parts.models import Position
from tests.demo_copy import PASSWORD
from tests.pictures import a_photo
from tests.ways.scenery import LOCOMOTIVE
from tests.ways.steps import done, refused

CLADDING = f"/l/{LOCOMOTIVE}/s/cladding/"


def test_a_fitter_goes_from_the_kit_to_the_signed_record_of_boxing_up(works, people):
    piece = works.piece(State.ACCEPTED, place=Position.objects.get(name="cladding sheet"))
    fitter, code = people("fitter"), piece.tags.current_code()
    collected(fitter, code)
    put_on(fitter, code)
    fitter.follow("Box it up")
    fitter.sees("No photo shows its inside.")
    photographed(fitter)
    boxed_up(fitter)
    inside = BoxedPiece.objects.get(component=piece)
    assert inside.built == "end float 1/32 in (no limits set, not judged)"
    assert inside.who == "Fitter fitted it"


def collected(fitter, code) -> None:
    fitter.open(CLADDING)
    fitter.follow("Collect the kit")
    done(fitter, "Collect kit", "0 of 1 in hand")
    fitter.open(f"/t/{code}")  # as the camera opens it
    done(fitter, "Tick for the kit: Cladding", "1 of 1 in hand")
    done(fitter, "End collecting")


def put_on(fitter, code) -> None:
    """A figure has its unit."""
    fitter.follow("Put it together")
    fitter.follow(f"Refit: cladding sheet {code}")
    fitter.fill(tightened="120 lbf ft", locked="split pin", built="end float 1/32")
    refused(fitter, "Refit it", "unit")
    fitter.fill(built="end float 1/32 in")
    done(fitter, "Refit it", "Refitted: cladding sheet.")


def photographed(fitter) -> None:
    fitter.follow("Take photos of its inside")
    fitter.upload("photos", a_photo())
    done(fitter, "Save photos")


def boxed_up(fitter) -> None:
    """Not while a tool is still inside."""
    fitter.open(f"{CLADDING}box-up")
    fitter.fill(tools_in="7", tools_out="6", rags_in="3", rags_out="3", seen="Oiled.")
    fitter.fill(checker="Checker", checker_password=PASSWORD)
    refused(fitter, "Sign and box up", "7 went in and 6 came out")
    fitter.fill(tools_out="7", checker_password=PASSWORD)
    done(fitter, "Sign and box up", "boxed up by Fitter, checked by Checker")
