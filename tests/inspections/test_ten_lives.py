"""Ten lives, from the locomotive to accepted, by the actions of the right people: each asks for what the trade asks for
and nothing more. The places are those of the starting structure. Common practice, no source, but for what 49 CFR 230
inspects (.31 tubes, .97 crank pins, .101 bearings, .111 springs, .112 tyres), by its headings."""

import pytest

from demo_fixtures.piece_tests import BY_KIND
from inspections.findings.writers import decide
from inspections.limits.writers import Typed, set_limits
from inspections.models import Dimension
from inspections.records.sheet import read_line
from inspections.records.writers.crack_checks import Mark
from inspections.records.writers.signing import sign
from parts import facts
from parts.domain.next_step import next_step
from parts.domain.structure import LocomotiveSpec
from parts.domain.words import Kind, Method, Need, State
from parts.entering.writers.pieces import strip_new
from parts.holds import writers as holds
from parts.models import Component, HoldPoint
from parts.queries.loading import inside_of
from parts.structure.writers.locomotives import new_locomotive
from tests.factories import ACCEPTING, SIGNS, a_person, a_works, days, fresh, how_checked

ENGINE = LocomotiveSpec(wheels="0-6-0T", outside_cylinders=2, inside_cylinders=0)
HELD = "release: Examination before it is taken apart"
SURVEYED = "release: Asbestos survey before it is touched"
MENDED = ["decide", "crack check", "repair", "clean", "crack check", "crack check", "crack check"]
LIVES = {
    "barrel plate": [HELD, "strip", "clean", "crack check", "release: Stage inspections", "ultrasonic thickness"],
    "small tubes": [HELD, "strip", "clean", "release: Stage inspections", "visual", "dimensional"],
    "crank pin": ["strip", "clean", "crack check", "dimensional"],
    "bearing spring": ["strip", "clean", "crack check", "spring test"],
    "axlebox brass": ["strip", "clean", "visual", "dimensional"],
    "whistle": ["strip", "clean", "visual"],
    "injector steam pipe": ["strip", "clean", "crack check", "pressure test"],
    "tyre": ["strip", "clean", "crack check", "dimensional"],
    "main frame plate": ["strip", "clean", "crack check: cracked", *MENDED],
    "barrel lagging": [SURVEYED, "strip", "clean", "visual"],
}


WORN = {"smaller": ("3", "2"), "larger": ("5", "6")}  # in inches, as its drawings are; it measures 100 mm


class Life:
    """One piece, and who does what to it."""

    def __init__(self, works, place):
        self.works, self.people, self.place, self.piece, self.steps = works, works.people, place, None, []
        signs = {*SIGNS, *((kind, "") for kind in BY_KIND)}
        self.examiner = a_person("examiner", authorised=signs)

    def lived(self) -> list[str]:
        for _ in range(20):
            if self.piece and fresh(self.piece).state == State.ACCEPTED:
                return self.steps
            self.one()
        raise AssertionError(self.steps)

    def one(self) -> None:
        if self.piece is None:
            if self.released("strip"):
                return
            place = self.place
            self.piece = strip_new(
                self.people.volunteer, locomotive=place.locomotive, name=place.name, place=place,
                quantity=place.quantity, location=self.works.crate,
            )  # fmt: skip
            self.steps.append("strip")
            return
        context = facts.context(fresh(self.piece), self.people.engineer)
        step = next_step(context.place, context.piece, context.holds, context.waits, context.today)
        if step.need is Need.SIGN or step.deed == "accept":
            self.released("accept") or self.accept()
        elif step.need is Need.RELEASE:
            assert self.released("accept") or self.released("clean"), step
        elif step.deed == "clean":
            self.works.clean(self.piece)
            self.steps.append("clean")
        elif step.deed == "decide":
            record = self.piece.examinations.latest("pk")
            decide(
                record, self.people.engineer, decision="repair", reason="weld it", indication=record.indications.get()
            )
            self.steps.append("decide")
        elif step.need is Need.REPAIR:
            self.repair()
        else:
            self.look(step.kind)

    def released(self, stops: str) -> bool:
        """A named body's paper releases what stops this; the engineer writes it down."""
        context = facts.context(self.piece, self.people.engineer) if self.piece else None
        found = (
            {hold.id for hold in context.holds}
            if context
            else {
                hold.pk
                for hold in HoldPoint.objects.filter(overhaul__locomotive=self.place.locomotive)
                if self.reaches(hold)
            }
        )
        open_holds = HoldPoint.objects.filter(pk__in=found, released_on=None).order_by("pk")
        hold = next((hold for hold in open_holds if stops in hold.stops), None)
        if hold is None:
            return False
        holds.release(hold, self.people.engineer, reference="Paper 26/7", filed="boiler file")
        self.steps.append(f"release: {hold.name}")
        return True

    def reaches(self, hold) -> bool:
        codes, group = set(), self.place.subassembly
        while group:
            codes.add(group.pk)
            group = group.parent
        return hold.position_id == self.place.pk or hold.subassembly_id in codes

    def look(self, kind) -> None:
        kind = kind or Kind.CRACK_CHECK
        if kind is Kind.CRACK_CHECK:
            return self.crack_check()
        more = {}
        if kind in BY_KIND:
            more["figures"] = BY_KIND[kind] | {"until": days(100).isoformat()}
        elif kind is Kind.DIMENSIONAL:
            more["lines"] = self.sizes()
        sign(self.piece, self.examiner, kind=kind, result="sound", **more)
        self.steps.append(str(kind))

    def sizes(self):
        gauge, found = self.works.instrument(), []
        for size in Dimension.objects.asked_of(self.piece):
            shop, scrapping = WORN[size.wears]
            limits = Typed(shop=shop, scrapping=scrapping, source="invented sheet", source_edition="1")
            edition = size.editions.first() or set_limits(size, self.people.engineer, limits)
            found.append(read_line(size, edition, gauge, ["100"] * len(size.spots()), unit="mm", today=days(0)))
        return found

    def crack_check(self) -> None:
        place, inside = self.piece.place, inside_of(self.piece)
        usual = Method.MAGNETIC_PARTICLE if inside else Method.PENETRANT
        method = usual if place.crack_check == Method.ANY else place.crack_check
        reaching = [*place.surfaces, *(inner.words for inner in inside)]
        if place.name == "main frame plate" and "crack check: cracked" not in self.steps:
            mark = Mark(length="20", unit="mm", where="horn corner")
            sign(
                self.piece, self.examiner, kind=Kind.CRACK_CHECK, method=method, result="indication", marks=[mark],
                reached=reaching, check=how_checked(method),
            )  # fmt: skip
            self.steps.append("crack check: cracked")
            return
        stage = self.stage()
        reached = {} if stage else {"reached": reaching}
        sign(
            self.piece, self.examiner, kind=Kind.CRACK_CHECK, method=method, result="sound",
            check=how_checked(method, stage=stage), **reached,
        )  # fmt: skip
        self.steps.append("crack check")

    def stage(self) -> str:
        """Of a weld repair: dug out, welded, after the last heat; then the whole."""
        if "repair" not in self.steps:
            return "excavation" if "decide" in self.steps else ""
        since = self.steps[self.steps.index("repair") :].count("crack check")
        return ("finished weld", "after stress relief", "")[since]

    def repair(self) -> None:
        if "crack check" not in self.steps:
            return self.crack_check()
        self.works.do(
            "finish repair", self.piece, self.people.fitter, work="dug out and welded", who="the fitter",
            procedure="WPS 7", welder="W. Elder",
        )  # fmt: skip
        self.steps.append("repair")

    def accept(self) -> None:
        lot = {"examined": self.piece.quantity, "certificate": "TC 7"} if self.piece.quantity > 1 else {}
        self.works.do("accept", self.piece, self.people.engineer, **ACCEPTING, **lot)


@pytest.fixture(scope="module")
def works(module_db):
    return a_works()


@pytest.fixture(scope="module")
def engine(works):
    return new_locomotive(works.people.manager, name="Bittern", slug="bittern", spec=ENGINE)


@pytest.mark.django_db
@pytest.mark.parametrize("name", LIVES)
def test_each_life_asks_for_what_the_trade_asks_for_and_nothing_more(works, engine, name):
    place = engine.positions.filter(name=name).first()
    assert Life(works, place).lived() == LIVES[name]
    assert Component.objects.get(place=place).state == State.ACCEPTED
