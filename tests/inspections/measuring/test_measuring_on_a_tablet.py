"""On a shared tablet a sheet of sizes and a concession ask for the PIN, and only when they are signed."""

from core.accounts import credentials
from core.models import Tablet
from inspections.models import Draft
from parts.domain.words import State
from tests.factories import days
from tests.inspections.examinations.test_signing_on_a_tablet import PIN, at_the_tablet, bench

__all__ = ["bench"]


def test_a_sheet_is_signed_with_the_pin_and_typed_without(bench, works):
    place = works.place(name="axle")
    size, micrometer = works.dimension(place), works.instrument()
    piece = works.piece(State.CLEANED, place=place)
    address = f"/t/{piece.tags.current_code()}/measure"
    typed = {f"size-{size.pk}-0": "124.96", f"with-{size.pk}": micrometer.pk, f"unit-{size.pk}": "mm"}
    assert bench.post(f"{address}/try?size={size.pk}", typed).status_code == 200
    assert bench.post(address, typed | {"do": "check"}).status_code == 302
    signed = typed | {"do": "sign", "seen": piece.last_event, "result": "sound", "on": days(0)}
    nothing = bench.post(address, signed)
    assert nothing.status_code == 422
    assert "Your PIN is your signature here." in nothing.content.decode()
    assert "124.96 mm" in nothing.content.decode()
    wrong = bench.post(address, signed | {"signature": "11111"})
    assert (wrong.status_code, "11111" in wrong.content.decode()) == (422, False)
    assert "11111" not in str(Draft.objects.get().entered)
    assert bench.post(address, signed | {"signature": PIN}).status_code == 302
    assert piece.examinations.get().measurements.count() == 1


def test_a_concession_is_signed_with_the_pin(bench, client, works, people):
    place = works.place(name="slide bar")
    size = works.dimension(place)
    piece = works.piece(State.CLEANED, place=place)
    taken = works.measure(piece, {size: "122.5"}).measurements.get()
    people.engineer.set_password("long enough 9")
    people.engineer.save()
    credentials.set_pin(people.engineer, PIN)
    at_the_tablet(client, people.engineer, Tablet.objects.get())
    entered = {"reason": "runs light trains only", "look_again": days(300)}
    assert bench.post(f"/measurements/{taken.pk}/concede", entered).status_code == 422
    assert not taken.concessions.exists()
    assert bench.post(f"/measurements/{taken.pk}/concede", entered | {"signature": PIN}).status_code == 302
