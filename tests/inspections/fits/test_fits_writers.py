"""Fits: a pair is judged by the latest of both pieces, and what is stored of either place is what the rows say."""

from datetime import date
from fractions import Fraction

import pytest

from inspections.concessions.writers import concede_fit
from inspections.domain.iso_fits import fit_um
from inspections.domain.pairing import Proposed
from inspections.fits.writers import add_fit, add_fits, retire_fit, set_fit_limits
from inspections.limit_sheets.writers import attach_to_fits, ship
from inspections.limits.writers import retire_dimension
from parts.actions.refresh import out_of_date
from parts.domain.words import State
from tests.factories import days, fresh
from tests.parts.actions.standard import refused, standing
from tests.tables import for_each

KNOWN = {"source": "invented sheet", "source_edition": "1", "kind": "running", "unit": "mm"}
LIMITS = {"least": Fraction("0.1"), "most": Fraction("0.2"), "shop_most": Fraction("0.5")} | KNOWN
SAID = {"drawing": "125 ±5", "source": "invented sheet", "source_edition": "1"}


class Pair:
    """A journal in a brass, each on a piece brought to accepted; measured at the sizes given."""

    def __init__(self, works):
        self.works = works
        self.axle, self.brass = works.place(name="axle"), works.place(name="brass")
        self.journal = works.dimension(self.axle, limits=SAID)
        self.bore = works.dimension(self.brass, "bore", wears="larger", limits=SAID)
        self.shaft, self.hole = (works.piece(State.CLEANED, place=place) for place in (self.axle, self.brass))
        for piece in (self.shaft, self.hole):
            works.look_at(piece)

    def measure(self, *, journal=None, bore=None):
        if journal:
            self.works.measure(self.shaft, {self.journal: journal})
        if bore:
            self.works.measure(self.hole, {self.bore: bore})

    def accept(self, *pieces):
        for piece in pieces:
            self.works.accept(piece)

    def fit(self, **changes):
        return add_fit(
            self.works.people.engineer, name="journal in brass", hole=self.bore, shaft=self.journal, **LIMITS | changes
        )

    def stands(self):
        """Both as stored, which is as the rows say."""
        assert out_of_date({"locomotive": self.works.locomotive}) == []
        return standing(self.axle), standing(self.brass)


@pytest.fixture
def pair(works):
    return Pair(works)


READY, OUT = ("ready", ""), ("blocked", "fit")


def out_of_limits(pair):
    """125.6 on 125.0: 0.6 mm clearance, where 0.5 is allowed. Both pieces are accepted."""
    pair.measure(journal="125.00", bore="125.60")
    pair.accept(pair.shaft, pair.hole)


def test_a_pair_out_of_limits_stops_both_pieces(pair):
    out_of_limits(pair)
    assert pair.stands() == (READY, READY)
    pair.fit()
    assert pair.stands() == (OUT, OUT)


def test_it_is_judged_once_the_mate_is_settled_and_accepting_the_one_changes_the_other(pair):
    pair.fit()
    pair.measure(journal="125.00", bore="125.60")
    pair.accept(pair.shaft)
    assert pair.stands()[0] == READY  # its mate is not accepted yet
    pair.accept(pair.hole)
    assert pair.stands() == (OUT, OUT)


def test_measuring_the_one_anew_changes_how_the_other_stands(pair):
    out_of_limits(pair)
    pair.fit()
    pair.measure(bore="125.30")
    assert pair.stands()[0] == READY
    pair.measure(bore="125.60")
    assert pair.stands()[0] == OUT


def test_taking_the_mate_out_of_its_place_lets_the_other_stand(pair, people, works):
    out_of_limits(pair)
    pair.fit()
    works.withdraw(pair.hole)
    assert pair.stands()[0] == READY


def test_a_refit_is_refused_with_the_fit(pair, works):
    out_of_limits(pair)
    pair.fit()
    with refused("fit") as caught:
        works.refit(pair.shaft)
    assert "too slack" in caught.value.refusals[0].sentence
    pair.measure(bore="125.30")
    works.refit(pair.shaft)
    assert pair.stands()[0] == ("refitted", "")


@pytest.mark.parametrize(("bore", "stands"), [("125.49", READY), ("125.50", READY), ("125.51", OUT)])
def test_on_both_sides_of_the_limit_and_exactly_on_it(pair, bore, stands):
    """0.5 mm is allowed: exactly that passes, as measured without uncertainty."""
    exact = pair.works.instrument(uncertainty=Fraction(0))
    pair.works.measure(pair.shaft, {pair.journal: "125.00"}, instrument=exact)
    pair.works.measure(pair.hole, {pair.bore: bore}, instrument=exact)
    pair.accept(pair.shaft, pair.hole)
    pair.fit()
    assert pair.stands() == (stands, stands)


def test_what_is_not_proved_is_not_good_enough(pair):
    """Two instruments of 0.01 mm leave a clearance known to 0.0142 (their squares added): 0.49 is nearer than that."""
    pair.measure(journal="125.00", bore="125.49")
    pair.accept(pair.shaft, pair.hole)
    pair.fit()
    assert pair.stands() == (OUT, OUT)


def concede(pair, fit, **changes):
    hole, shaft = (piece.examinations.latest("pk").measurements.get() for piece in (pair.hole, pair.shaft))
    entered = {"reason": "runs light", "look_again": date(2100, 1, 1)} | changes
    return concede_fit(fit, pair.shaft, pair.works.people.engineer, hole=hole, shaft=shaft, **entered)


def test_a_concession_holds_for_what_was_measured_and_no_longer(pair):
    out_of_limits(pair)
    fit = pair.fit()
    concede(pair, fit)
    assert pair.stands() == (READY, READY)
    fresh(pair.shaft), fresh(pair.hole)
    pair.measure(bore="125.60")
    assert pair.stands()[0] == OUT


def test_a_concession_says_why_and_until_when(pair):
    out_of_limits(pair)
    fit = pair.fit()
    with refused("reason", "look-again"):
        concede(pair, fit, reason=" ", look_again=days(0))


def test_beyond_the_scrapping_clearance_no_concession_is_had_and_an_earlier_one_ends(pair, people):
    out_of_limits(pair)
    fit = pair.fit()
    concede(pair, fit)
    assert pair.stands() == (READY, READY)
    clearance = pair.hole.examinations.latest("pk").measurements.get().most - Fraction(125)
    set_fit_limits(fit, people.engineer, **LIMITS | {"scrapping_most": Fraction("0.5"), "source_edition": "2"})
    assert clearance > Fraction("0.5")
    assert pair.stands() == (OUT, OUT)
    fresh(pair.shaft)
    with refused("scrapping"):
        concede(pair, fit)


@pytest.mark.engine
def test_a_retired_fit_is_judged_no_longer(pair, people):
    out_of_limits(pair)
    fit = pair.fit()
    retire_fit(fit, people.engineer)
    assert pair.stands() == (READY, READY)


@pytest.mark.engine
def test_retiring_the_size_of_the_one_lets_the_other_stand(pair, people):
    out_of_limits(pair)
    pair.fit()
    retire_dimension(pair.bore, people.engineer, reason="renewed without it")
    assert pair.stands() == (READY, READY)


def test_a_new_edition_is_what_the_pair_is_judged_by(pair, people):
    out_of_limits(pair)
    fit = pair.fit()
    made = set_fit_limits(fit, people.engineer, **LIMITS | {"shop_most": Fraction(1), "source_edition": "2"})
    assert (made.edition, pair.stands()) == (2, (READY, READY))


@for_each(
    ("change", "code"),
    [
        ({"least": None}, "least"),
        ({"least": Fraction(1)}, "least"),
        ({"least": Fraction("0.2")}, "least"),
        ({"kind": "press"}, "least"),
        ({"kind": "loose"}, "kind"),
        ({"unit": "m"}, "unit"),
        ({"shop_most": Fraction("0.15")}, "shop_most"),
        ({"shop_least": Fraction("0.15")}, "shop_most"),
        ({"scrapping_most": Fraction("0.4")}, "scrapping_most"),
        ({"source": " "}, "source"),
        ({"source_edition": ""}, "source_edition"),
    ],
)
def test_limits_that_cannot_be_are_refused_and_nothing_is_stored(pair, change, code):
    with refused(code):
        pair.fit(**change)
    assert not pair.bore.fits_as_hole.exists()


def test_the_pair_is_of_two_places_of_one_locomotive_and_is_there_once(pair, works, people):
    pair.fit()
    with refused("hole"):
        pair.fit()
    inner = works.dimension(pair.axle, "inner bore", wears="larger", limits=SAID)
    stranger = works.another()
    theirs = stranger.dimension(stranger.place(name="brass"), "bore", wears="larger", limits=SAID)
    for hole in (inner, theirs):
        with refused("hole"):
            add_fit(people.engineer, name="x", hole=hole, shaft=pair.journal, **LIMITS)


def test_only_the_engineer_says_what_a_pair_may_be(pair, people):
    fit = pair.fit()
    for person in (people.examiner, people.fitter, people.manager):
        with refused("role"):
            set_fit_limits(fit, person, **LIMITS)
        with refused("role"):
            retire_fit(fit, person)


def test_proposed_pairs_are_added_all_or_none(pair, people):
    good = Proposed(hole=pair.bore.pk, shaft=pair.journal.pk, name="journal in brass")
    with refused("hole"):
        add_fits(people.engineer, [good, good], **LIMITS)
    assert len(add_fits(people.engineer, [good], **LIMITS)) == 1


def test_a_fit_by_its_iso_code_has_the_clearance_of_the_standard(pair):
    """ISO 286-2: 125 H7 is 0 to +40 um, 125 f7 is -83 to -43 um, so the clearance is 43 to 123 um."""
    least, most = fit_um("H7", "f7", 125)
    assert (least, most) == (43, 123)
    fit = pair.fit(least=least / 1000, most=most / 1000, code="H7/f7")
    assert fit.editions.get().plain().least == Fraction("0.043")


@pytest.mark.engine
def test_a_clearance_of_the_published_sheet_becomes_what_a_pair_may_run_to(pair, people):
    """49 CFR 230.94: crosshead to guide clearance over 1/4 in fails; 6.35 mm exactly passes."""
    row = ship().rows.get(item="crosshead to guide clearance, vertical")
    fit = pair.fit()
    [made] = attach_to_fits(row, [fit], people.engineer)
    assert (made.edition, made.shop_most, made.least) == (2, Fraction("6.35"), LIMITS["least"])
    assert made.scrapping_most == Fraction("6.35")
    with refused("kind"):
        attach_to_fits(ship().rows.get(item="tread worn hollow"), [fit], people.engineer)
