"""The first page, whose work the lists show, the weekly meeting, and how it went over time."""

from datetime import date, timedelta

from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST, require_safe

from core.access import signed_in
from core.domain.catalogue import may
from core.models import Person
from core.roles import Role
from parts.actions import writing
from parts.attendance.coming import day_to_plan, next_asked
from parts.common.shortcuts import locomotive_or_404
from parts.domain.curves import columns, curves
from parts.domain.forecast_words import told
from parts.domain.plain import several
from parts.domain.ranking import REFIT
from parts.domain.sequence import OrderLoop
from parts.models import HoldPoint, Locomotive, SavedFilter
from parts.money.loading_ledger import load_ledger
from parts.money.money_context import money_context
from parts.queries.attendance import changed, sheets_ahead
from parts.queries.measured import measured
from parts.queries.readiness import load_now, tallied_by_locomotive
from parts.readiness.boilers_due import boilers_due
from parts.readiness.jobs import jobs
from parts.readiness.readiness_context import bar, total
from parts.readiness.whose import ALL, SHOWN, shown
from parts.readiness.worklist import WorkList
from parts.readiness.works_diagram import works_diagram
from parts.work.promises import chase, may_reach
from parts.work.writers.calls import HOW

from .chasing import to_ring
from .meeting import waits_for, who_did_what
from .over_time import WEEK, OverTime, by_currency, last_months
from .todo import todo

SEEN = 3
"""Firms that stand open on the page; the rest unfold."""


@signed_in
@require_safe
def home(request):
    today, roles = writing.today(), request.user.role_names
    engines = list(Locomotive.objects.with_open_overhaul())
    progress_of = tallied_by_locomotive(today)
    for engine in engines:
        engine.progress = progress_of[engine.pk]
        engine.bar = bar(engine.progress)
    page = {
        "page": "To do now",
        "locomotives": engines,
        "today": today,
        "stops": list(HoldPoint.objects.stops_now()),
        "saved_filters": SavedFilter.objects.offered_to(request.user),
        "shown": shown(request),
        "may_lift": may(roles, "lift stop"),
        "may_build": may(roles, "edit structure"),
        "asked_day": next_asked(request.user, today),
        "sheets": _sheets(request.user, today),
        "to_plan": day_to_plan(today) if may(roles, "plan") else None,
        "may_strip": may(roles, "strip"),
        "may_examine": may(roles, "examine"),
        "may_put_away": may(roles, "move") and Role.STOREKEEPER in roles,
    }
    page |= _to_do(request, engines, today)
    if Role.RESPONSIBLE_ENGINEER in roles:
        page["boilers"] = _boilers(today, page["engine"].pk if "todo" in page else None)
    return render(request, "parts/morning/home.html", page)


def _boilers(today, listed: int | None) -> list:
    """Each with what its file says; what is due on the locomotive `listed` stands in the list of work."""
    told = [
        (one.boiler, one.against if listed and one.boiler.locomotive_id == listed else one.sentences)
        for one in measured.boilers(None, today)
    ]
    return [(boiler, sentences) for boiler, sentences in told if sentences]


def _sheets(person, today) -> list:
    """The next two; whoever runs one reads who cannot come by now."""
    office = may(person.role_names, "plan")
    sheets = sheets_ahead(person, today, office=office)[:2]
    news = changed([sheet for sheet in sheets if office or sheet.in_charge_id == person.pk])
    for sheet in sheets:
        sheet.told = news[sheet.pk].told if sheet.pk in news else []
    return sheets


def _to_do(request, engines, today) -> dict:
    """On the locomotive that this person looked at last, or on the one with most in its way."""
    slug, roles = request.session.get("locomotive"), request.user.role_names
    engine = max(engines, key=lambda engine: (engine.slug == slug, engine.progress.blocked), default=None)
    if engine is None:
        return {}
    people = Person.objects.actors(today)
    page = {"engine": engine}
    if roles & {Role.WORKS_MANAGER, Role.TRUSTEE}:
        page["when"] = _when(engine, today)
    if Role.TRUSTEE in roles:
        page |= {"money": money_context(engine, None).total, "original": load_ledger(engine).total.pieces.items()}
    try:
        now = load_now(engine, today)
    except OrderLoop:
        return page | _chase(request, None, people, today)  # the locomotive's own page says what is wrong
    found = now.readiness()
    page |= _chase(request, found, people, today)
    engine.bar = bar(total(found), WorkList(now, {REFIT}, found).totals[REFIT])
    page |= {"drawn": works_diagram(engine, found)}
    if roles == {Role.TRUSTEE}:
        return page
    everything = shown(request) == ALL
    decides = everything or roles & {Role.RESPONSIBLE_ENGINEER, Role.WORKS_MANAGER}
    beside = boilers_due(engine, found) if decides else ()
    return page | {"todo": todo(now, found, people, request.user, everything=everything, beside=beside)}


def _when(engine: Locomotive, today: date) -> dict | None:
    """The last forecast that was kept, with what it assumes; nothing is worked out for it."""
    kept = engine.kept_forecasts.last()
    if kept is None or kept.half is None:
        return None
    return {
        "on": kept.on,
        "half": told(kept.half, today),
        "nine_in_ten": told(kept.nine_in_ten, today),
        "decided_by": kept.decided_by[:2],
        "assumes": kept.assumes[:2],
    }


def _chase(request, found, people, today) -> dict:
    """The works manager's first column."""
    if Role.WORKS_MANAGER not in request.user.role_names:
        return {}
    firms = to_ring(chase(today), found, people, today, request.user)
    late = sum(bool(row.late) for row in firms[SEEN:])
    more = f"{several(late, 'more firm is', 'more firms are')} late, {len(firms[SEEN:]) - late} not due yet"
    return {"chase": firms, "how": HOW, "more_firms": more}


GO_ON, MONTHS, A_DAY = 8, 12, timedelta(days=1)
EARLIEST = date(1900, 1, 1)
"""Of a week that is asked for."""


@signed_in
@require_safe
def meeting(request, slug):
    """What a weekly meeting goes through, to print on one sheet."""
    engine, today = locomotive_or_404(slug), writing.today()
    people = Person.objects.actors(today)
    page = {
        "page": f"Weekly meeting, {engine.name}",
        "crumbs": [{"href": engine.get_absolute_url(), "label": engine.name}, {"href": "", "label": "Weekly meeting"}],
        "locomotive": engine,
        "today": today,
        "since": today - WEEK,
        "did": who_did_what(engine, today - WEEK, today),
        "may_reach": may_reach(request.user.role_names),
        "stops": list(HoldPoint.objects.stops_now(engine)),
    }
    try:
        now = load_now(engine, today)
    except OrderLoop as loop:
        page |= {"loop": str(loop), "late": _late(None, people, today)}
        return render(request, "parts/morning/meeting.html", page)
    found = now.readiness()
    work = WorkList(now, {REFIT}, found)
    page |= {
        "late": _late(found, people, today),
        "bar": bar(total(found), work.totals[REFIT]),
        "drawn": works_diagram(engine, found),
        "curves": curves(OverTime(engine, today).weeks(), total(found).required),
        "go_on": jobs(work[:GO_ON], found, people),
        "go_on_many": len(work),
        "waits": waits_for(work, people),
    }
    return render(request, "parts/morning/meeting.html", page)


def _late(found, people, today) -> list:
    return [row for row in to_ring(chase(today), found, people, today) if row.late]


@signed_in
@require_safe
def over_time(request, slug):
    """How far it has come, what was ordered and paid, and who did what in one week."""
    engine, today, roles = locomotive_or_404(slug), writing.today(), request.user.role_names
    required = tallied_by_locomotive(today)[engine.pk].required
    changes = money_context(engine, last_months(today, MONTHS)[0]).changes if may(roles, "read money") else []
    log, until = OverTime(engine, today), _day(request.GET.get("until", "")) or today
    until = min(max(until, EARLIEST), today)
    months = log.months(changes, MONTHS)
    page = {
        "page": f"Over time, {engine.name}",
        "crumbs": [{"href": engine.get_absolute_url(), "label": engine.name}, {"href": "", "label": "Over time"}],
        "locomotive": engine,
        "today": today,
        "curves": curves(log.weeks(), required),
        "required": required,
        "months": [(month, max(required - month.stood.refitted - month.stood.accepted, 0)) for month in months],
        "money": [(currency, *columns(sums)) for currency, sums in by_currency(months).items()],
        "did": who_did_what(engine, until - WEEK + A_DAY, until),
        "since": until - WEEK + A_DAY,
        "until": until,
        "before": until - WEEK,
        "after": min(until + WEEK, today) if until < today else None,
    }
    return render(request, "parts/morning/over_time.html", page)


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


@signed_in
@require_POST
def show(request):
    """Mine or all: kept for the lists until this person says otherwise."""
    if request.POST.get("show") in SHOWN:
        request.user.lists = request.POST["show"]
        request.user.save(update_fields=["lists"])
    there = request.POST.get("next", "")
    return redirect(there if url_has_allowed_host_and_scheme(there, None) else "home")
