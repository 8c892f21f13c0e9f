"""Writing the register of instruments and their calibrations."""

from datetime import date
from fractions import Fraction

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.common import jobs
from parts.domain.plain import day

from ..models import Calibration, Instrument, Measurement
from .actions import DESCRIBED


def add_instrument(
    actor,
    *,
    code: str,
    kind: str,
    unit: str,
    uncertainty: Fraction,
    calibrated_on: date,
    calibrated_until: date,
    certificate: str,
    low: Fraction | None = None,
    high: Fraction | None = None,
    resolution: Fraction | None = None,
    note: str = "",
) -> Instrument:
    """A further instrument with the calibration it comes with. Sizes in exact millimetres."""
    writing.allow(actor, "edit instruments")
    trouble = list(_trouble(code, kind, unit, low, high, resolution))
    trouble += _calibration_trouble(calibrated_on, calibrated_until, uncertainty, certificate)
    if trouble:
        raise Refused(*trouble)
    with writing.one_transaction():
        instrument = Instrument.objects.create(
            code=code.strip(), kind=kind.strip(), unit=unit, low=low, high=high, resolution=resolution,
            uncertainty=uncertainty, note=note.strip(),
        )  # fmt: skip
        writing.log(actor, "add instrument", remark=str(instrument))
        _write(instrument, actor, calibrated_on, calibrated_until, uncertainty, certificate, found_out=False)
        return instrument


def calibrate(
    instrument: Instrument,
    actor,
    *,
    on: date,
    certificate: str,
    until: date | None = None,
    uncertainty: Fraction | None = None,
    found_out: bool = False,
) -> Calibration:
    """Note a calibration. `found_out`: as it came it was out of true, so what was measured with it is in doubt."""
    writing.allow(actor, "edit instruments")
    with writing.one_transaction():
        instrument = Instrument.objects.select_for_update().get(pk=instrument.pk)
        last = instrument.calibrations.first()
        trouble = list(_calibration_trouble(on, until, uncertainty, certificate, found_out, last))
        if trouble:
            raise Refused(*trouble)
        made = _write(instrument, actor, on, until, uncertainty, certificate, found_out)
        taken = Measurement.objects.filter(instrument=instrument, examination__component__place__isnull=False)
        refresh(*taken.values_list("examination__component__place", flat=True).order_by().distinct())
        return made


def _write(instrument, actor, on, until, uncertainty, certificate, found_out) -> Calibration:
    writing.log(
        actor, "calibrate instrument", remark=f"{instrument}: {certificate.strip()}", data={"found_out": found_out}
    )
    made = Calibration.objects.create(
        instrument=instrument, on=on, until=until, uncertainty=uncertainty if until else None, found_out=found_out,
        certificate=certificate.strip(), by=actor, at=timezone.now(),
    )  # fmt: skip
    instrument.calibrated_until, instrument.found_out = until, until is None
    if until:
        instrument.uncertainty = uncertainty
    instrument.save()
    return made


def edits_of(instrument: Instrument):
    """The events that change what the form of an instrument shows."""
    return Event.objects.about("instrument", instrument.pk).filter(action="edit instrument")


def edit_instrument(instrument: Instrument, actor, *, seen: int | None = None, **changes) -> None:
    """Kind, range, resolution, note, and whether it is out of use; the event keeps what was said before."""
    writing.allow(actor, "edit instruments")
    with writing.one_transaction():
        writing.hold(instrument)
        writing.not_overtaken(edits_of(instrument), seen)
        values = {name: changes.get(name, getattr(instrument, name)) for name in DESCRIBED}
        trouble = list(_trouble(instrument.code, values["kind"], instrument.unit, values["low"], values["high"],
                                values["resolution"], but=instrument))  # fmt: skip
        if trouble:
            raise Refused(*trouble)
        changed = jobs.fill(instrument, values, DESCRIBED)
        if changed:
            instrument.save(update_fields=list(changed))
            writing.log(actor, "edit instrument", instrument=instrument, remark=str(instrument), data=changed)


def _trouble(code, kind, unit, low, high, resolution, but=None):
    if not code.strip():
        yield Refusal("code", "Number: nothing was written.", "Give the number that stands on the instrument.")
    elif Instrument.objects.filter(code=code.strip()).exclude(pk=but.pk if but else 0).exists():  # no row has 0
        yield Refusal(
            "code", f"Number: {code.strip()} is another instrument.", "Mark this one with a number of its own."
        )
    if not kind.strip():
        yield Refusal("kind", "Kind: nothing was written.", "Say what it is: outside micrometer, vernier caliper.")
    if unit not in ("mm", "in"):
        yield Refusal("unit", "Unit: none chosen.", "Choose what it is graduated in, mm or in.")
    if low is not None and high is not None and low >= high:
        yield Refusal("high", "Measures to: it ends before it begins.", "Give the smaller figure first.")
    if resolution is not None and resolution <= 0:
        yield Refusal("resolution", "Resolution: not above zero.", "Give the smallest step that it shows.")


def _calibration_trouble(on, until, uncertainty, certificate, found_out=False, last=None):
    if on is None:
        yield Refusal("on", "Calibrated on: no day.", "Give the day of the certificate.")
        return
    if last is not None and on < last.on:
        before = f"Calibrated on: its last calibration is of {day(last.on)}."
        yield Refusal("on", before, "Enter calibrations in the order in which they were made.")
    if last is not None and (last.on, last.certificate) == (on, certificate.strip()):
        yield Refusal("certificate", "Certificate: it is noted already, for that day.", "Look at its calibrations.")
    if on > writing.today():
        yield Refusal("on", "Calibrated on: the day is still to come.", "Give the day of the certificate.")
    if not certificate.strip():
        yield Refusal(
            "certificate", "Certificate: nothing was written.", "Give its number, or who checked it against what."
        )
    if until is None and not found_out:
        yield Refusal("until", "Good until: no day.", "Give the day by which it is calibrated again.")
    if until is not None and until < on:
        yield Refusal("until", "Good until: before the calibration.", "Give a later day.")
    if until is not None and (uncertainty is None or uncertainty < 0):
        yield Refusal("uncertainty", "Expanded uncertainty: none.", "Take it from the certificate (coverage factor 2).")
