"""What a person can do besides signing, and whether they are learning."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from core.access import who_may

from ...common.shortcuts import refusals_on
from ...models import Skill
from .. import writers
from ..forms import SkillForm
from .days import person_or_404, show


@who_may("edit skills")
@require_POST
def add_skill(request, pk):
    person, form = person_or_404(pk), SkillForm(request.POST)
    if form.is_valid():
        with refusals_on(form):
            skill = writers.add_skill(request.user, person, **form.cleaned_data)
            messages.success(request, f"{person} can {skill.name}.")
            return redirect("person_days", pk)
    return show(request, person, skill_form=form)


@who_may("edit skills")
@require_POST
def end_skill(request, pk):
    skill = Skill.objects.select_related("person").filter(pk=pk).first()
    if skill is None:
        raise Http404("No such skill: perhaps it was ended already.")
    writers.end_skill(request.user, skill)
    messages.success(request, f"{skill.person} is no longer asked to {skill.name}.")
    return redirect("person_days", skill.person_id)


@who_may("edit skills")
@require_POST
def set_learner(request, pk):
    person, learner = person_or_404(pk), request.POST.get("learner") == "yes"
    writers.set_learner(request.user, person, learner)
    messages.success(request, f"{person} {'works beside somebody' if learner else 'works without a supervisor'}.")
    return redirect("person_days", pk)
