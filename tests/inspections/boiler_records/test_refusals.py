"""Every refusal of a boiler, in one table: what is tried, and what is entered. Each is walked against one boiler.

The figures of calculations: 60,000 x 0.375 / (30 x 4.5) by pencil, the shell of 49 CFR 230.23.
"""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from django.db import transaction

from core.domain.refusals import Refused
from inspections.boiler_records import writers as records
from inspections.boiler_records.forms import AddFigure
from inspections.boilers import sources, writers
from inspections.boilers.boiler_context import file_of
from inspections.domain import survey_paper
from inspections.domain.wall_loss import loss
from inspections.models import Instrument
from parts.holds import writers as holds
from tests.factories import a_works, days, fresh
from tests.inspections.boiler_records.conftest import surveyed
from tests.inspections.domain.test_boiler_papers import ON, plate, read, typed
from tests.inspections.domain.test_boiler_test_paper import HYDRAULIC
from tests.tables import for_each

pytestmark = pytest.mark.django_db


class Scene:
    """A boiler with two plates, a gauge, a hold point that is released, and a signed survey and calculation."""

    def __init__(self):
        self.works = a_works()
        self.people, self.gauge = self.works.people, self.works.instrument(code="U-1", kind="ultrasonic gauge")
        engineer = self.people.engineer
        self.boiler = writers.add_boiler(
            engineer, locomotive=self.works.locomotive, number="B-17", regime="United Kingdom",
            body="a body (invented)", wanted="180 lb/in²",
        )  # fmt: skip
        self.plate, self.copper = (self.part(name, metal) for name, metal in (("wrapper", "steel"), ("box", "copper")))
        self.hold = self.add_hold("Hydraulic test")
        self.survey = self.signed(self.draft("thickness survey", surveyed(), part=self.plate, instrument=self.gauge))
        self.calculation = self.signed(self.draft("calculation", self.figures()))

    def part(self, name, metal):
        sizes = {"width": Fraction(1200), "height": Fraction(800), "nominal": Fraction(13), "needed": Fraction(10)}
        entered = {"kind": "plate", "name": name, "metal": metal, "shape": "sheet", "needed_from": "calculation 1"}
        return writers.put_part(self.boiler, self.people.engineer, **entered, **sizes)

    def add_hold(self, name, body="a body (invented)"):
        overhaul = self.works.locomotive.open_overhaul()
        return holds.add_hold(overhaul, self.people.engineer, name=name, stops=["refit"], body=body)

    def draft(self, kind, entered, **more):
        on = more.pop("on", days(0))
        return records.begin(self.boiler, self.people.volunteer, kind=kind, title="x", on=on, entered=entered, **more)

    def signed(self, record):
        return records.sign(record, self.people.examiner)

    def figures(self, **more):
        where = {"origin": "drawing", "where": "sheet 1"}
        sizes = {
            "tensile": ("stress", "60000 lb/in²"),
            "thickness": ("length", "0.375 in"),
            "radius": ("length", "30 in"),
        }
        sizes |= {"efficiency": ("number", "1"), "factor": ("number", "4.5")}
        figures = [{"key": n, "name": n, "kind": kind, "written": text, **where} for n, (kind, text) in sizes.items()]
        line = {"key": "r1", "title": "course", "method": "shell", "uses": {n: n for n in sizes}}
        return {"figures": figures, "formulas": [line | {"part": "barrel and longitudinal seams"}]} | more

    # what is tried

    def sign_survey(self, *, on=None, of=None, gauge=True, **more):
        gauge = self.gauge if gauge else None
        self.signed(
            self.draft("thickness survey", surveyed(**more), part=of or self.plate, instrument=gauge, on=on or days(0))
        )

    def sign_test(self, **more):
        dates = {"gauge_until": days(9).isoformat(), "gauge_2_until": days(9).isoformat()}
        return self.signed(self.draft("test", HYDRAULIC | dates | more, hold=self.hold))

    def enter(self, kind, **more):
        entered = {"on": days(0), "words": "x"} | more
        writers.enter(self.boiler, self.people.engineer, kind=kind, **entered)

    def release(self, **more):
        holds.release(self.hold, self.people.engineer, reference="letter 1", filed="file", **more)

    def supersede(self, record, **more):
        later = self.draft(
            record.kind, record.entered | more, part=record.part, instrument=record.instrument, supersedes=record
        )
        return self.signed(later)

    def figure(self, **more):
        entered = {
            "name": "t",
            "kind": "length",
            "written": "9 mm",
            "origin": "assumed",
            "where": "no drawing",
            "link": "",
        }
        form = AddFigure(entered | more, sources=sources.offered(self.boiler))
        if not form.is_valid():
            raise ValueError(" ".join(str(error) for errors in form.errors.values() for error in errors))

    @property
    def foot(self):
        return f"record:{self.survey.pk}:foot"

    def linked(self):
        entered = self.figures()
        entered["figures"][1] |= {"link": self.foot, "written": "9 mm", "origin": "survey point"}
        return entered


@pytest.fixture(scope="module")
def scene(module_db):
    return Scene()


def begun_twice_on_one_release(scene):
    scene.release()
    for _ in range(2):
        scene.enter("pressure repair begun", hold=scene.hold)


def begun_and_released_today(scene):
    scene.release()
    scene.enter("pressure repair begun", hold=scene.hold, on=days(-1))


def calculation_on_a_superseded_survey(scene):
    draft = scene.draft("calculation", scene.linked())
    scene.supersede(scene.survey, closing="10.0")
    scene.signed(draft)


def acceptance_of_a_calculation_overtaken(scene):
    made = scene.signed(scene.draft("calculation", scene.linked()))
    records.check(made, scene.people.second_examiner)
    scene.supersede(scene.survey, closing="10.0")
    records.file_acceptance(made, scene.people.engineer, who="C. P.", reference="letter 2")


def release_on_a_failed_test(scene):
    scene.sign_test(result="failed", why="a seam wept")
    scene.release()


def check_of_a_superseded_one(scene):
    scene.supersede(scene.survey, closing="10.0")
    records.check(scene.survey, scene.people.second_examiner)


def survey_with_a_gauge_out_of_date(scene):
    Instrument.objects.filter(pk=scene.gauge.pk).update(calibrated_until=days(-1))
    draft = scene.draft("thickness survey", surveyed(), part=scene.plate, instrument=fresh(scene.gauge))
    scene.signed(draft)


def check_by_who_typed(scene):
    people = scene.people
    draft = records.begin(
        scene.boiler, people.examiner, kind="calculation", title="x", on=days(0), entered=scene.figures()
    )
    records.check(records.sign(draft, people.second_examiner), people.examiner)


def typed_into_after_signing(scene):
    records.save(scene.survey, scene.people.volunteer, {"closing": "10"})


def acceptance(scene, record, **more):
    records.file_acceptance(record, scene.people.engineer, **{"who": "C. P.", "reference": "letter 2"} | more)


def both_days_the_same(scene):
    loss([(ON, 12), (ON, 11)], 10)


def thicker_without_reason(scene):
    loss([(ON, 12), (ON + timedelta(days=365), 13)], 10, uncertainty=Fraction(1, 10))


TABLE = [
    # a survey: no reading counts without
    ("the closing check", lambda s: s.sign_survey(closing=""), "Make the closing check on the block"),
    (
        "the block within its tolerance",
        lambda s: s.sign_survey(closing="10.2"),
        "check on the block is out of tolerance",
    ),
    ("a gauge", lambda s: s.sign_survey(gauge=False), "without an instrument in date no reading counts"),
    ("a gauge in date", survey_with_a_gauge_out_of_date, "Read again with a gauge in date"),
    ("whoever held the probe", lambda s: s.sign_survey(reader=""), "Name who held the probe"),
    ("whoever wrote", lambda s: s.sign_survey(writer=""), "Name who wrote the figures down"),
    ("the couplant", lambda s: s.sign_survey(couplant=""), "Write down the couplant"),
    ("the velocity of the metal", lambda s: s.sign_survey(of=s.copper), "26 per cent too thick"),
    (
        "the written word for the mean",
        lambda s: s.sign_survey(mean_word="yes"),
        "Name the competent person and the paper",
    ),
    ("what a grid misses", lambda s: s.sign_survey(missed={}), "Say what was found of wash-out plugs and doors"),
    ("a reading", lambda s: s.sign_survey(readings={}), "Read one point at least"),
    (
        "something at each point",
        lambda s: s.sign_survey(readings={"1.1": "12.4", "1.2": " ", "2.2": "x", "2.3": "n"}),
        "nothing, 3 of 6: row 1, column 2; row 1, column 3; row 2, column 1.",
    ),
    ("a figure that can be read", lambda s: s.sign_survey(readings={"1.1": "twelve"}), "Row 1, column 1"),
    ("the plate beside a pit", lambda s: s.sign_survey(pits="1.9: 1"), "Read the plate beside the pit"),
    # a rate of loss
    ("two days", both_days_the_same, "of one day"),
    ("a reason for growth", thicker_without_reason, "say what explains the growth"),
    # a calculation
    ("a unit", lambda s: s.figure(written="9"), "unit"),
    ("where it came from", lambda s: s.figure(where=""), "Enter it here"),
    ("no more than the survey", lambda s: s.figure(link=s.foot, written="12.4 mm"), "Write that or less"),
    ("a part calculated", lambda s: s.signed(s.draft("calculation", s.figures(formulas=[]))), "Add a formula"),
    (
        "a reason for what is left out",
        lambda s: s.signed(s.draft("calculation", s.figures(absent={"dome": ""}))),
        "Say why",
    ),
    ("a survey that stands", calculation_on_a_superseded_survey, "is superseded by record"),
    # a record: signed, checked, accepted
    ("a day that has come", lambda s: s.draft("calculation", {}, on=days(1)), "still to come"),
    ("a record that is not signed", typed_into_after_signing, "signed and never changed"),
    ("one signature", lambda s: s.signed(s.survey), "signed and never changed"),
    ("another than who signed", lambda s: records.check(s.survey, s.people.examiner), "somebody else to check it"),
    ("another than who typed", check_by_who_typed, "somebody else to check it"),
    ("a record that stands", check_of_a_superseded_one, "A later record has taken its place"),
    ("a check before acceptance", lambda s: acceptance(s, s.calculation), "Nobody has checked this calculation"),
    ("the signed paper", lambda s: acceptance(s, s.survey, reference=" "), "Nothing names the signed paper"),
    ("sources that stand", acceptance_of_a_calculation_overtaken, "is superseded by record"),
    # tests and releases
    ("a test that did not fail", release_on_a_failed_test, "failed"),
    # the file
    ("a hold point", lambda s: s.enter("pressure repair begun"), "waits for its release"),
    ("its release", lambda s: s.enter("pressure repair begun", hold=s.add_hold("Patch")), "Cut no metal before"),
    (
        "the release of that body",
        lambda s: s.enter("pressure repair begun", hold=s.add_hold("Lagging", "a surveyor")),
        "released by a surveyor",
    ),
    ("a release of its own", begun_twice_on_one_release, "was released for another repair"),
    ("a repair begun", lambda s: s.enter("pressure repair finished"), "No pressure repair is begun"),
    (
        "points of the grid",
        lambda s: s.enter("renewal or build-up", part=s.plate, points="the foot"),
        "no part of the grid",
    ),
    ("its release on the day", begun_and_released_today, "after that day"),
    ("the part built up", lambda s: s.enter("renewal or build-up"), "Say what was renewed"),
    ("the paper", lambda s: s.enter("pressure lowered", pressure="130 psi"), "Nothing says which paper"),
    ("the lowered pressure", lambda s: s.enter("pressure lowered", reference="l"), "Nothing was written"),
    ("a lower one", lambda s: s.enter("pressure lowered", reference="l", pressure="180 psi"), "not below 180 lb/in²"),
    ("a day of the file", lambda s: s.enter("examination", on=days(1)), "still to come"),
]


@for_each(("tried", "told"), [row[1:] for row in TABLE], ids=[row[0].replace(" ", "-") for row in TABLE])
def test_refused_without(scene, tried, told):
    with pytest.raises((Refused, ValueError), match=told.replace("(", r"\(")), transaction.atomic():
        tried(scene)


NOT_COUNTED = [
    ({"reached": "240 lb/in²"}, "Examine the whole boiler for overstrain"),
    ({"reached": "200 lb/in²"}, "Test again at 225 lb/in²"),
    ({"vented": False}, "there was air in it"),
    ({"gauge_until": days(-1).isoformat()}, "was out of date"),
    ({"water": "59 °F"}, "Test again with water between"),
    ({"blanks_out": "4"}, "Find the blanks"),
]


@pytest.mark.parametrize(("more", "owed"), NOT_COUNTED)
def test_recorded_and_not_counted_in_doubt_with_what_is_owed(scene, more, owed):
    """What happened is always recorded: a bad test is signed, puts the boiler in doubt and lapses the release."""
    scene.sign_test()
    scene.release()
    made = scene.sign_test(**more)
    assert (made.counts, fresh(scene.hold).released_on) == (False, None)
    told = {one.doubt: one.sentence for one in file_of(scene.boiler, days(0)).against}
    assert "does not count" in told[True]
    assert owed in told[False]


def test_no_rate_runs_across_a_renewal():
    before = [(date(2020, 6, 1), typed(("11.0", "11.0", "11.0")))]
    rate, (told, *_) = survey_paper.rate_of(read(before=before, build_ups=[(date(2022, 1, 1), "")], of=plate()))
    assert (rate, "there is no rate across that" in told) == (None, True)
