"""Half-truths about sizes, fits and crack checks that the database itself refuses, past every form and action."""

import pytest
from django.apps import apps
from django.db import DatabaseError, models, transaction

from core.models import Event
from core.web.rooms import protected_tables
from inspections.models import (
    AskedItem,
    Boiler,
    BoilerPart,
    Calibration,
    Concession,
    CrackCheck,
    Dimension,
    Draft,
    Examination,
    FindingDecision,
    Fit,
    FitLimits,
    Indication,
    Instrument,
    Limits,
    LimitSheet,
    Measurement,
    Reading,
    SchemeRow,
    SheetRow,
)
from tests.factories import a_works
from tests.inspections.what_lasts import Pair, sizes_that_last
from tests.tables import for_each

pytestmark = [pytest.mark.django_db, pytest.mark.engine]


@pytest.fixture(scope="module")
def works(module_db):
    return a_works()


@pytest.fixture(scope="module")
def pair(works) -> Pair:
    return sizes_that_last(works)


def another(row, **changed):
    """A row like this one but for what is changed, as any program could write it; the database may refuse it."""
    fields = [field for field in row._meta.concrete_fields if not field.primary_key]
    values = {field.attname: getattr(row, field.attname) for field in fields}
    for field in fields:
        if isinstance(field, models.OneToOneField):  # of its own
            taken = type(row).objects.values(field.attname)
            values[field.attname] = field.related_model.objects.exclude(pk__in=taken).latest("pk").pk
    return type(row)(**values | changed)


def stored(row, **changed):
    one = another(row, **changed)
    with transaction.atomic():
        one.save(force_insert=True)
        return one


def refuses(row, **changed):
    with pytest.raises(DatabaseError):
        stored(row, **changed)


FREE = {  # what a second row differs in, so that nothing but its half-truth is refused
    Calibration: {},
    Concession: {},
    CrackCheck: {},
    Dimension: {"name": "another size"},
    FindingDecision: {},
    Fit: {"retired": True},
    FitLimits: {"edition": 7},
    Indication: {"number": 7},
    Instrument: {"code": "M-another"},
    LimitSheet: {"edition": "another"},
    Limits: {"edition": 7},
    Reading: {"station": "elsewhere"},
    SheetRow: {"number": 9999},
}
SIDES = ("new_lower", "new_upper", "shop_lower", "shop_upper", "scrapping_lower", "scrapping_upper")


@pytest.fixture
def events(works, pair):
    """One for a second decision or concession to stand on."""
    return Event.objects.create(actor=works.people.engineer, action="decide")


def first(model):
    return model.objects.order_by("pk").first()


@for_each("model", FREE)
def test_a_whole_second_row_is_taken(events, model):
    """The refusals below would prove nothing if it were refused anyway."""
    assert stored(first(model), **FREE[model]).pk


HALF_TRUTHS = [
    (Calibration, {"certificate": ""}),
    (Calibration, {"until": None}),
    (Calibration, {"uncertainty": None}),
    (Calibration, {"until": None, "uncertainty": None, "found_out": False}),
    (Concession, {"measurement_id": None}),
    (Concession, {"reason": ""}),
    (CrackCheck, {"demagnetised": "perhaps"}),
    (CrackCheck, {"stage": "half-way"}),
    (CrackCheck, {"viewing": "by candle"}),
    (Dimension, {"name": ""}),
    (Dimension, {"unit": ""}),
    (Dimension, {"unit": "cm"}),
    (Dimension, {"wears": "sideways"}),
    (FindingDecision, {"decision": "hope"}),
    (FindingDecision, {"reason": ""}),
    (FitLimits, {"kind": "loose"}),
    (FitLimits, {"source": ""}),
    (FitLimits, {"source_edition": ""}),
    (FitLimits, {"unit": "thou"}),
    (Indication, {"across": "0.5"}),
    (Indication, {"down": "0.5"}),
    (Indication, {"where": ""}),
    (Instrument, {"code": ""}),
    (Instrument, {"unit": "cm"}),
    (LimitSheet, {"edition": ""}),
    (LimitSheet, {"source": ""}),
    (Limits, {"rule": "generous"}),
    (Limits, {"source": ""}),
    (Limits, {"source_edition": ""}),
    (Limits, dict.fromkeys(SIDES)),
    (Reading, {"typed": ""}),
    (Reading, {"unit": ""}),
    (Reading, {"unit": "m"}),
    (SheetRow, {"unit": ""}),
]


@for_each(("model", "half"), HALF_TRUTHS)
def test_half_a_truth_is_refused(events, model, half):
    refuses(first(model), **FREE[model] | half)


SAID_ONCE = (Dimension, Fit, FitLimits, Indication, Instrument, LimitSheet, Limits, Measurement, Reading, SheetRow)


@for_each("model", SAID_ONCE)
def test_nothing_is_said_twice(pair, model):
    refuses(first(model))


def test_a_fit_is_of_two_sizes(pair):
    refuses(pair.fit, retired=True, shaft_id=pair.hole.pk)


def test_a_concession_is_of_a_size_or_of_a_fit_and_never_of_both(events, pair):
    of_size, of_fit = Concession.objects.order_by("pk")
    refuses(of_size, fit_id=pair.fit.pk)
    refuses(of_fit, shaft_id=None)
    refuses(of_fit, measurement_id=of_size.measurement_id)


def test_a_verdict_keeps_the_limits_it_was_judged_by(pair):
    taken = first(Measurement)
    elsewhere = {"examination_id": Examination.objects.filter(measurements=None).latest("pk").pk}
    refuses(taken, **elsewhere, limits_id=None)
    refuses(taken, **elsewhere, size_class="")
    refuses(taken, **elsewhere, size_class="good enough")
    assert stored(taken, **elsewhere, limits_id=None, size_class="")


def test_a_draft_is_one_persons_one_sheet(works, pair):
    draft = Draft.objects.create(
        component=pair.axle, author=works.people.examiner, kind="dimensional", at="2026-05-03T12:00Z"
    )
    refuses(draft)
    assert stored(draft, author_id=works.people.second_examiner.pk)


def test_what_a_record_rests_on_is_not_removed(pair):
    for row in (pair.shaft, pair.fit, first(Instrument), first(Limits), first(LimitSheet), pair.axle.place):
        with pytest.raises(models.ProtectedError), transaction.atomic():
            row.delete()


def test_every_table_of_what_was_signed_is_protected():
    """Everything here but what is described anew, and what is not signed yet."""
    ours = {model._meta.db_table for model in apps.get_app_config("inspections").get_models()}
    free = {
        model._meta.db_table for model in (AskedItem, Boiler, BoilerPart, SchemeRow, Dimension, Draft, Fit, Instrument)
    }
    assert ours - free <= {protected.table for protected in protected_tables()}
