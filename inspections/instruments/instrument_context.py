"""What the pages of the instruments show: how each stands today, and what rests on it."""

from dataclasses import dataclass
from datetime import date, timedelta

from parts.domain.plain import day

from ..domain.two_units import in_both
from ..models import Instrument, Measurement

SOON = timedelta(days=30)
"""How long before the day a calibration is called due. Common practice, no source."""
SHOWN = 40


@dataclass(frozen=True, kw_only=True)
class InstrumentStatus:
    """One instrument as it stands today. `wrong`: nothing measured with it can be signed."""

    instrument: Instrument
    words: str
    wrong: bool
    soon: bool

    @property
    def range(self) -> str:
        low, high = (limit is not None and in_both(limit, self.instrument.unit)
                     for limit in (self.instrument.low, self.instrument.high))  # fmt: skip
        if low and high:
            return f"{low} to {high}"
        return f"from {low}" if low else f"up to {high}" if high else "not said"

    @property
    def resolution(self) -> str:
        step = self.instrument.resolution
        return "not said" if step is None else in_both(step, self.instrument.unit)

    @property
    def uncertainty(self) -> str:
        return f"±{in_both(self.instrument.uncertainty, self.instrument.unit)}"


def status_of(instrument: Instrument, today: date) -> InstrumentStatus:
    until = instrument.calibrated_until
    words, wrong, soon = f"in date until {day(until)}" if until else "", False, False
    if instrument.retired:
        words = "out of use"
    elif instrument.found_out:
        words, wrong = "found out of true", True
    elif until is None:
        words, wrong = "never calibrated", True
    elif until < today:
        words, wrong = f"out of date since {day(until)}", True
    elif until <= today + SOON:
        words, soon = f"due by {day(until)}", True
    return InstrumentStatus(instrument=instrument, words=words, wrong=wrong, soon=soon)


def register(today: date) -> tuple[list[InstrumentStatus], list[InstrumentStatus]]:
    """Those in use, what needs seeing to first; and those out of use."""
    in_use = [status_of(one, today) for one in Instrument.objects.by_date()]
    return in_use, [status_of(one, today) for one in Instrument.objects.out_of_use()]


@dataclass(frozen=True, kw_only=True)
class MeasuredWith:
    """What was measured with an instrument, and what of it is in doubt because it was found out of true afterwards."""

    latest: list[Measurement]
    in_doubt: list[Measurement]
    number: int


def taken_with(instrument: Instrument) -> MeasuredWith:
    """A size that was measured again since, with whatever instrument, is in doubt no longer."""
    found = list(Measurement.objects.taken_with(instrument))
    doubtful = [one for one in found if one.found_out_later]
    again = Measurement.objects.measured_since(doubtful)
    return MeasuredWith(
        latest=found[:SHOWN], in_doubt=[one for one in doubtful if one.pk not in again], number=len(found)
    )
