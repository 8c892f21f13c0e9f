"""The sheet of a working party's day: proposed, moved about by buttons, printed, ticked off."""

from datetime import date

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.models import Person
from core.models.numbered import numbered
from core.web.papers import pdf

from ...actions import writing
from ...attendance.coming import open_days
from ...common.shortcuts import locomotive_or_404, refusals_told
from ...domain.day_sheet import TOOLS, nobody_alone
from ...domain.plain import day as in_words
from ...domain.sequence import OrderLoop
from ...models import DayHand, DayJob, DaySheet, Locomotive
from ...models.planning import TOOK
from ...queries.attendance import Changed, changed, people_in, sheets_ahead
from .. import writers
from ..sheet_pdf import sheet_pdf
from ..which_pieces import name_pieces


@signed_in
@require_safe
def day_sheets(request):
    """The days to come that concern this person; the office may plan one."""
    today, office = writing.today(), may(request.user.role_names, "run day")
    page = {
        "page": "Day sheets",
        "sheets": sheets_ahead(request.user, today, office=office),
        "days": open_days(today) if office else [],
        "office": office,
        "engines": list(Locomotive.objects.with_open_overhaul()) if office else [],
    }
    return render(request, "parts/day/day_sheets.html", page)


@signed_in
@require_safe
def day_sheet(request, slug, day):
    locomotive = locomotive_or_404(slug)
    page = {
        "page": f"Day sheet, {day:%A} {in_words(day)}",
        "crumbs": [
            {"href": locomotive.get_absolute_url(), "label": locomotive.name},
            {"href": reverse("day_sheets"), "label": "Day sheets"},
            {"href": "", "label": in_words(day)},
        ],
        "locomotive": locomotive,
        "day": day,
        "today": writing.today(),
    }
    sheet = DaySheet.objects.filter(locomotive=locomotive, date=day).select_related("in_charge").first()
    if sheet is None:
        if not may(request.user.role_names, "run day"):
            raise PermissionDenied("Nobody has planned that day yet.")
        return render(request, "parts/day/day_sheet.html", page | {"expected": people_in(day)})
    _seen_by(request.user, sheet)
    jobs = list(sheet.jobs.with_hands())
    open_jobs = [job for job in jobs if not job.done_at]
    name_pieces(open_jobs, page["today"])
    for job in jobs:
        job.on = list(job.hands.all())
        job.alone = nobody_alone(job.danger) if job.danger else ""
        job.tools = TOOLS.get(job.need, "")
        job.yours = any(hand.person_id == request.user.pk for hand in job.on)
    hands = list(sheet.hands.select_related("person"))
    known = writers.as_hands(sheet, hands)
    writers.name_hands(open_jobs, known)
    busy = {hand.pk for job in jobs if not job.done_at for hand in job.on}
    here = writers.those_here(hands)
    over = sheet.date < page["today"]
    news = Changed() if over else changed([sheet])[sheet.pk]
    page |= {
        "sheet": sheet,
        "hands": hands,
        "arrived": sum(hand.arrived for hand in hands),
        "idle": [hand for hand in here if hand.pk not in busy],
        "dealt": [job for job in jobs if job.on and not job.done_at],
        "reserve": [job for job in jobs if not job.on and not job.done_at],
        "done": [job for job in jobs if job.done_at],
        "against": writers.against(sheet, [hand for hand in here if hand not in news.gone], known),
        "may_run": writers.may_run(request.user, sheet),
        "took": TOOK,
        "over": over,
        "to_come": sheet.date > page["today"],
        "news": news,
        "away": {hand.pk for hand in news.gone},
    }
    if page["may_run"]:
        page["others"] = Person.objects.filter(is_active=True).exclude(pk__in=[hand.person_id for hand in hands])
    return render(request, "parts/day/day_sheet.html", page)


@signed_in
@require_safe
def print_day_sheet(request, slug, day):
    sheet = _sheet_or_404(slug, day)
    _seen_by(request.user, sheet)
    return pdf(sheet_pdf(sheet), f"day-sheet-{day}")


@who_may("run day")
@require_POST
def plan_day(request, slug, day):
    """One tap: everybody who said that they come, and a job for each."""
    locomotive = locomotive_or_404(slug)
    if day < writing.today():
        messages.error(request, "That day has passed. Plan today or a later day.")
        return redirect("day_sheets")
    try:
        sheet = writers.open_sheet(request.user, locomotive, day)
    except OrderLoop as loop:
        messages.error(request, f"The order of assembly contradicts itself: {loop}.")
        return redirect("day_sheets")
    return redirect(sheet)


@signed_in
@require_POST
def deal_again(request, slug, day):
    sheet = _sheet_or_404(slug, day)
    with refusals_told(request):
        try:
            now, asked = changed([sheet])[sheet.pk], request.POST
            off = [hand.person_id for hand in now.gone if str(hand.person_id) in asked.getlist("off")]
            on = [person.pk for person in now.more if str(person.pk) in asked.getlist("on")]
            writers.deal_again(request.user, sheet, off=off, on=on)
            messages.success(request, "The jobs are dealt again.")
        except OrderLoop as loop:
            messages.error(request, f"The order of assembly contradicts itself: {loop}.")
    return redirect(sheet)


@signed_in
@require_POST
def day_person(request, slug, day):
    """Who is on the sheet, who has come, and who is in charge."""
    sheet, asked = _sheet_or_404(slug, day), request.POST
    person = numbered(Person.objects.filter(is_active=True), asked.get("person"))
    if person is None:
        raise Http404("No such person.")
    with refusals_told(request):
        if asked.get("do") == "in charge":
            writers.put_in_charge(request.user, sheet, person)
        elif asked.get("do") in ("add", "take off"):
            writers.set_person(request.user, sheet, person, on=asked["do"] == "add")
        elif asked.get("do") in ("came", "not here"):
            hand = DayHand.objects.select_related("sheet__locomotive").filter(sheet=sheet, person=person).first()
            if hand is None:
                raise Http404("That person is not on the sheet.")
            writers.arrive(request.user, hand, asked["do"] == "came")
    return redirect(f"{sheet.get_absolute_url()}#who")


@signed_in
@require_POST
def day_job(request, pk):
    """Done or not, how long it took, up, down, off the sheet; and somebody to it or away from it."""
    job = DayJob.objects.select_related("sheet__locomotive").filter(pk=pk).first()
    if job is None:
        raise Http404("That job is off the sheet.")
    sheet, do = job.sheet, request.POST.get("do", "")
    with refusals_told(request):
        if do in ("done", "not done") or do in TOOK:
            writers.tick(request.user, job, done=do != "not done", took=do)
        elif do == "all done":
            writers.end_machine_work(request.user, job)
        elif do in ("up", "down"):
            writers.shift(request.user, job, -1 if do == "up" else 1)
        elif do == "take off":
            writers.drop(request.user, job)
        elif do == "move":
            writers.move(request.user, _hand_or_404(sheet, request.POST.get("hand", "")), job)
        elif do == "free":
            writers.move(request.user, _hand_or_404(sheet, request.POST.get("hand", "")), None)
    return redirect(f"{sheet.get_absolute_url()}#job-{pk}")


def _hand_or_404(sheet: DaySheet, number: str) -> DayHand:
    found = numbered(sheet.hands.select_related("sheet__locomotive"), number)
    if found is None:
        raise Http404("That person is not on the sheet.")
    return found


def _sheet_or_404(slug: str, day: date) -> DaySheet:
    found = DaySheet.objects.select_related("locomotive", "in_charge").filter(locomotive__slug=slug, date=day).first()
    if found is None:
        raise Http404("Nobody has planned that day yet.")
    return found


def _seen_by(person: Person, sheet: DaySheet) -> None:
    if not writers.may_see(person, sheet):
        raise PermissionDenied("Only those on this sheet and the office see who comes on that day.")
