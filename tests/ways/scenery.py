"""What stands there before the three ways back are walked: an invented works, its people, three pieces that came off,
their sizes and limits, and two instruments."""

from fractions import Fraction

from parts.domain.words import Kind, Method
from parts.models import Component, Position
from parts.structure.writers.structure import add_subassembly
from tests.demo_copy import PASSWORD
from tests.factories import Works, a_works
from tests.remembered import remembered

LOCOMOTIVE = "three-ways"


@remembered
def build() -> Works:
    works = a_works(slug=LOCOMOTIVE)
    for person in works.people:
        person.set_password(PASSWORD)
        person.save()
    manager = works.people.manager
    cylinders, bunker, boiler, cladding = (
        add_subassembly(works.locomotive, name, manager) for name in ("Cylinders", "Bunker", "Boiler", "Cladding")
    )
    cylinder = works.critical_place(
        name="cylinder", end="", side="LH", subassembly=cylinders, crack_check=Method.MAGNETIC_PARTICLE, surfaces=[]
    )
    works.dimension(cylinder, "bore", unit="in", wears="larger", limits={"drawing": "15 H9", "scrapping": "15.5"})
    side = works.place(name="bunker side", side="RH", subassembly=bunker, calls_for=[Kind.THICKNESS])
    plate = {"drawing": "6.35 +0.4 -0.4", "scrapping": "4"}
    works.dimension(side, "plate thickness", wears="smaller", limits=plate)
    firebox = works.place(
        name="inner firebox", subassembly=boiler, safety_critical=True, pressure_part=True,
        calls_for=[Kind.HYDRAULIC_TEST],
    )  # fmt: skip
    works.instrument(code="U 1", kind="ultrasonic thickness gauge")
    works.instrument(code="B 1", kind="bore gauge", unit="in", low=Fraction(350), high=Fraction(420))
    for place in (cylinder, side, firebox):
        works.piece(place=place)
    works.place(name="cladding sheet", subassembly=cladding)
    return works


def place_and_tag(name: str) -> tuple[int, str]:
    """Of the piece that came off the place of this name."""
    place = Position.objects.get(name=name)
    return place.pk, Component.objects.get(place=place).tags.current_code()


def state(tag: str) -> str:
    return Component.objects.get(tags__code=tag).state
