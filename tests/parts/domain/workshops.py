"""Invented workshops for forecasts: open on Saturdays, 100 minutes each, unless said otherwise."""

from datetime import date, timedelta

from parts.domain.forecast_rows import HANDS, Day, ForecastJob, Resource, ThreePoint, Workshop

TODAY = date(2027, 1, 2)  # a Saturday


def saturday(number: int) -> date:
    """The first open Saturday is number 0: today."""
    return TODAY + timedelta(weeks=number)


def exactly(time) -> ThreePoint:
    return ThreePoint(time, time, time)


def job(name, minutes=100, after=(), subassembly="A", **more):
    points = minutes if minutes is None or isinstance(minutes, ThreePoint) else exactly(minutes)
    return ForecastJob(name=name, subassembly=subassembly, minutes=points, after=tuple(after), **more)


EIGHT = exactly(8)


def workshop(*work, hands=EIGHT, resources=(), saturdays=100, minutes=100, **more):
    days = tuple(Day(date=saturday(number), minutes=minutes) for number in range(saturdays))
    machines = tuple(each if isinstance(each, Resource) else Resource(name=each) for each in resources)
    return Workshop(today=TODAY, days=days, hands=hands, work=work, resources=machines, **more)


def needing(**units):
    return {HANDS if name == "hands" else name: count for name, count in units.items()}
