"""The days somebody comes, said by themselves or by the office, and who is in."""

from datetime import date

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import who_may
from core.models import Authorisation, Person
from core.models.numbered import numbered
from parts.domain.plain import day as in_words

from ...actions import writing
from ...common.confirm_form import sent
from ...common.shortcuts import refusals_on, refusals_told, status_in
from ...models.planning import DAYS
from ...queries.attendance import load_days
from .. import writers
from ..coming import ahead, open_days
from ..forms import SKILLS, SkillForm, UsualDaysForm


@who_may("say days")
@require_http_methods(["GET", "HEAD", "POST"])
def my_days(request):
    return _days(request, request.user)


@who_may("plan")
@require_http_methods(["GET", "HEAD", "POST"])
def person_days(request, pk):
    return _days(request, person_or_404(pk))


def _days(request, person):
    form = UsualDaysForm(sent(request), initial=_usual(person))
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            writers.say_week(request.user, person, **form.entered())
            messages.success(request, "The usual days are saved.")
            return redirect(request.path)
    return show(request, person, form)


def show(request, person, form=None, skill_form=None):
    own, today = person == request.user, writing.today()
    form = form or UsualDaysForm(initial=_usual(person))
    page = {
        "page": "The days you come" if "pk" not in request.resolver_match.kwargs else f"The days {person} comes",
        "person": person,
        "own": own,
        "days": ahead(person, today),
        "today": today,
        "form": form,
        "skill_form": skill_form or SkillForm(),
        "skills": list(person.skills.all()),
        "offered": SKILLS,
        "signs": list(Authorisation.objects.filter(person=person)),
        "learner": getattr(getattr(person, "attendance", None), "learner", False),
        "crumbs": [] if own else [{"href": reverse("who_is_in"), "label": "Who is in"}, {"href": "", "label": person}],
    }
    return render(request, "parts/attendance/days.html", page, status=status_in(form, page["skill_form"]))


def _usual(person) -> dict[str, list[str]]:
    days = load_days([person.pk]).get(person.pk)
    return {"days": [day for day, comes in zip(DAYS, days.week, strict=True) if comes] if days else []}


@who_may("say days")
@require_POST
def say_day(request):
    """One tap: I come on this day, or I do not. The office says so for others."""
    person = person_or_404(request.POST["person"]) if request.POST.get("person") else request.user
    back = reverse("my_days") if person == request.user else reverse("person_days", args=[person.pk])
    try:
        day = date.fromisoformat(request.POST.get("date", ""))
    except ValueError:
        messages.error(request, "Write the day like 2027-03-31.")
        return redirect(back)
    with refusals_told(request):
        coming = request.POST.get("coming") == "yes"
        writers.say_day(request.user, person, day, coming)
        who = "You come" if person == request.user else f"{person} comes"
        none = "You do not come" if person == request.user else f"{person} does not come"
        messages.success(request, f"{who if coming else none} on {in_words(day)}.")
    return redirect("home" if request.POST.get("from") == "home" else back)


@who_may("plan")
@require_safe
def who_is_in(request):
    """Each open day with those who come; the others, so that one can say it for them."""
    coming, people = load_days(), list(Person.objects.with_roles().filter(is_active=True))
    page = {
        "page": "Who is in",
        "days": [
            (day, [one for one in people if one.pk in coming and coming[one.pk].is_in(day)])
            for day in open_days(writing.today())
        ],
        "people": people,
        "silent": [one for one in people if one.pk not in coming],
    }
    return render(request, "parts/attendance/who_is_in.html", page)


def person_or_404(pk) -> Person:
    person = numbered(Person.objects.filter(is_active=True), pk)
    if person is None:
        raise Http404("Nobody of that number signs in here.")
    return person
