"""A forecast as its page shows it: worked out once for what it rests on, told in words, drawn on one scale."""

import hashlib
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.core.cache import cache
from django.urls import reverse

from core.models import Event

from ..domain.forecast import Forecast, Outlook, forecast
from ..domain.forecast_causes import PACE, pace, why
from ..domain.forecast_moves import MOVED, Together, assumed_anew, days_between, moved, moved_most
from ..domain.forecast_rows import HANDS
from ..domain.forecast_words import Bar, DayScale, Kept, scale_of, strength, told
from ..domain.plain import capital, several
from ..models import KeptForecast, Locomotive
from .loading import OpenWork
from .why_moved import NOTHING, WhyMoved

RUNS = 2000
KEPT_SHOWN = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastRow:
    """A line of the table: a subassembly, or a forecast of an earlier day."""

    name: str
    href: str
    bar: Bar
    half: str
    nine_in_ten: str
    decided_by: str = ""


def forecast_of(locomotive: Locomotive, today: date, **changed: Any) -> Forecast:
    """The forecast, or that with something changed. The log says whether anything happened since it was worked out."""
    key = _key(locomotive, today, changed)
    found = cache.get(key)
    if found is None:
        found = forecast(
            OpenWork(locomotive, today).workshop(**changed),
            runs=RUNS,
            progress=lambda done, _: cache.set(f"{key}-made", done, timeout=60),
        )
        cache.set(key, found, timeout=24 * 3600)
    return found


def runs_made(locomotive: Locomotive, today: date) -> int:
    """How far it is, while it is worked out."""
    return int(cache.get(f"{_key(locomotive, today, {})}-made", 0))


def is_worked_out(locomotive: Locomotive, today: date) -> bool:
    return _key(locomotive, today, {}) in cache


def _key(locomotive: Locomotive, today: date, changed: dict[str, Any]) -> str:
    rests_on = f"{locomotive.pk} {today} {Event.objects.newest_number()} {sorted(changed.items())}"
    return f"forecast-{hashlib.sha256(rests_on.encode()).hexdigest()}"


def rows(locomotive: Locomotive, found: Forecast, today: date) -> tuple[DayScale, list[ForecastRow], list[ForecastRow]]:
    """The scale; a row for the locomotive and each subassembly that is part of no other; and a row for each of all.
    The earliest done comes first."""
    assert found.whole is not None
    scale = scale_of(today, [found.whole, *found.subassemblies.values()])
    subs = [sub for sub in locomotive.subassemblies.in_use() if sub.code in found.subassemblies]
    subs.sort(key=lambda sub: (found.subassemblies[sub.code].half or date.max, sub.name))
    told_of = {
        sub.pk: _row(
            sub.name,
            reverse("subassembly", args=[locomotive.slug, sub.code]),
            found.subassemblies[sub.code],
            scale,
            today,
        )
        for sub in subs
    }
    whole = _row("The whole locomotive", locomotive.get_absolute_url(), found.whole, scale, today)
    return scale, [whole, *(told_of[sub.pk] for sub in subs if sub.parent_id is None)], list(told_of.values())


def _row(name: str, href: str, outlook: Outlook, scale: DayScale, today: date) -> ForecastRow:
    decided = [f"{each.name}, in {round(each.share * 100)} of 100 runs" for each in outlook.decided_by[:2]]
    return ForecastRow(
        name=name,
        href=href,
        bar=scale.bar(outlook.one_in_ten, outlook.half, outlook.nine_in_ten),
        half=told(outlook.half, today),
        nine_in_ten=told(outlook.nine_in_ten, today),
        decided_by="; then ".join(decided),
    )


def kept_of(locomotive: Locomotive) -> list[Kept]:
    found = KeptForecast.objects.filter(locomotive=locomotive).order_by("on")
    return [
        Kept(
            each.on,
            each.half,
            each.nine_in_ten,
            {code: (_day(half), _day(nine)) for code, (half, nine) in each.subassemblies.items()},
            tuple(each.decided_by),
            tuple(each.assumes),
            each.at,
        )
        for each in found
    ]


def kept_otherwise(kept: list[Kept], found: Forecast, today: date) -> dict[str, Any] | None:
    """The last forecast that was kept, which the first page shows, where this one says something else."""
    if not kept or found.whole is None or kept[-1].half is None:
        return None
    last, whole = kept[-1], found.whole
    words = [told(day, today) for day in (last.half, last.nine_in_ten)]
    if words == [told(day, today) for day in (whole.half, whole.nine_in_ten)]:
        return None
    return {"on": last.on, "half": words[0], "nine_in_ten": words[1]}


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedRow:
    """A forecast that was kept, beside the one before it."""

    on: date
    half: str
    nine_in_ten: str
    moved: str
    why: list[str]
    decided_by: str


def moved_rows(locomotive: Locomotive, kept: list[Kept], today: date) -> list[MovedRow]:
    """The last forecasts kept, the latest first, each with how it moved and what happened since the one before."""
    shown = list(zip([None, *kept], kept, strict=False))[-KEPT_SHOWN:]
    names = dict(locomotive.subassemblies.values_list("code", "name"))
    happened = WhyMoved(locomotive, kept[-KEPT_SHOWN - 1 :])
    rows = []
    for before, now in reversed(shown):
        causes = [*happened.between(now.on), *filter(None, [pace(before.assumes, now.assumes) if before else None])]
        most = [] if causes else moved_most(before, now, names)
        if days_between(before, now) >= MOVED and not happened.anything_done(now.on):
            causes = [*causes, NOTHING]
        rows.append(
            MovedRow(
                on=now.on,
                half=told(now.half, today),
                nine_in_ten=told(now.nine_in_ten, today),
                moved=(way := moved(before, now)),
                why=[
                    *why(causes, days_between(before, now)),
                    *([f"Most: {', '.join(most)}."] if most and way != "as before" else []),
                    *(each for each in assumed_anew(before, now) if not PACE.search(each)),
                ],
                decided_by=now.decided_by[0] if now.decided_by else "",
            )
        )
    return rows


def record_told(together: list[Together]) -> str:
    """How right earlier forecasts were, in a sentence; nothing before there is anything to tell."""
    if not together:
        return ""
    words = several(len(together), "subassembly that was forecast is", "subassemblies that were forecast are")
    return (
        f"{words} together now: {sum(each.by_half for each in together)} by the day of half the runs, "
        f"{sum(each.by_nine_in_ten for each in together)} by that of nine in ten."
    )


def record_rows(locomotive: Locomotive, together: list[Together], today: date) -> list[dict[str, str]]:
    names = dict(locomotive.subassemblies.values_list("code", "name"))
    return [
        {
            "name": names.get(each.code, each.code),
            "half": told(each.half, today),
            "nine_in_ten": told(each.nine_in_ten, today),
            "together": told(each.together, today),
        }
        for each in together
    ]


def deciders(found: Forecast) -> list[dict[str, str]]:
    """What most often decides the date of the whole, what outside bodies decide told apart."""
    assert found.whole is not None
    return [
        {"name": each.name, "share": f"{round(each.share * 100)} of 100 runs", "outside": "yes" if each.outside else ""}
        for each in found.whole.decided_by
    ]


def hangs_on(found: Forecast) -> list[str]:
    assert found.whole is not None
    called = {HANDS: "How many people come"}
    return [f"{called.get(each.what, capital(each.what))}: {strength(each)}" for each in found.whole.hangs_on]
