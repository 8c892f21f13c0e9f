"""People: who signs in, with which roles, and what they may sign."""

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from parts.actions import writing
from parts.domain.refusals import Refused
from parts.forms.fields import refuse
from workshop import people as writers
from workshop.access import signed_in, who_may
from workshop.forms import AuthorisationForm, OwnPasswordForm, PersonForm
from workshop.models import Authorisation, Person

PEOPLE = {"href": "/people/", "label": "People"}


@who_may("edit people")
@require_safe
def people(request):
    page = {"page": "People", "people": Person.objects.with_roles(), "today": writing.today()}
    return render(request, "workshop/people.html", page)


@who_may("edit people")
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def add_person(request):
    return _edit(request, Person(), PersonForm(request.POST or None), "Add a person")


@who_may("edit people")
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def person(request, pk):
    someone = _person_or_404(pk)
    return _edit(request, someone, PersonForm(request.POST or None, person=someone), str(someone))


def _edit(request, someone, form, title):
    if request.method == "POST" and form.is_valid():
        try:
            writers.save_person(someone, request.user, **form.cleaned_data)
            messages.success(request, f"{someone} is saved.")
            return redirect("person", someone.pk)
        except Refused as refused:
            refuse(form, refused)
    page = {
        "page": title,
        "crumbs": [PEOPLE, {"href": "", "label": title}],
        "person": someone if someone.pk else None,
        "form": form,
        "authorisations": someone.authorisations.all() if someone.pk else (),
        "authorise": AuthorisationForm(prefix="sign"),
        "today": writing.today(),
    }
    return render(request, "workshop/person.html", page, status=422 if form.errors else 200)


@who_may("edit people")
@require_POST
def authorise(request, pk):
    someone = _person_or_404(pk)
    form = AuthorisationForm(request.POST, prefix="sign")
    if form.is_valid():
        try:
            made = writers.authorise(someone, request.user, **form.cleaned_data)
            messages.success(request, f"{someone} may sign: {made.as_word()}.")
            return redirect("person", pk)
        except Refused as refused:
            refuse(form, refused)
    page = {
        "page": str(someone),
        "crumbs": [PEOPLE, {"href": "", "label": str(someone)}],
        "person": someone,
        "form": PersonForm(person=someone),
        "authorisations": someone.authorisations.all(),
        "authorise": form,
        "today": writing.today(),
    }
    return render(request, "workshop/person.html", page, status=422)


@who_may("edit people")
@require_POST
def end_authorisation(request, pk):
    authorisation = Authorisation.objects.select_related("person").filter(pk=pk).first()
    if authorisation is None:
        raise Http404("No such authorisation: perhaps it was ended already.")
    writers.end_authorisation(authorisation, request.user)
    messages.success(request, f"{authorisation.person} no longer signs: {authorisation.as_word()}.")
    return redirect("person", authorisation.person_id)


@who_may("edit people")
@require_POST
def set_active(request, pk):
    someone, active = _person_or_404(pk), request.POST.get("active") == "yes"
    try:
        writers.set_active(someone, request.user, active)
        word = "signs in again" if active else "no longer signs in; the name stays behind what was signed"
        messages.success(request, f"{someone} {word}.")
    except Refused as refused:
        messages.error(request, str(refused))
    return redirect("person", pk)


@signed_in
@sensitive_post_parameters("old", "new")
@require_http_methods(["GET", "HEAD", "POST"])
def me(request):
    """One's own page: roles, what one may sign, and a new password."""
    form = OwnPasswordForm(request.POST or None)
    if request.method == "POST" and form.is_valid() and _changed(request, form):
        messages.success(request, "Your password is changed.")
        return redirect("me")
    page = {
        "page": "Your sign-in",
        "form": form,
        "authorisations": request.user.authorisations.all(),
        "today": writing.today(),
    }
    return render(request, "workshop/me.html", page, status=422 if form.errors else 200)


def _changed(request, form) -> bool:
    if not request.user.check_password(form.cleaned_data["old"]):
        form.add_error("old", "That is not the one you have now. Capitals count.")
        return False
    try:
        validate_password(form.cleaned_data["new"], request.user)
    except ValidationError as trouble:
        form.add_error("new", " ".join(trouble.messages))
        return False
    request.user.set_password(form.cleaned_data["new"])
    request.user.save(update_fields=["password"])
    update_session_auth_hash(request, request.user)
    return True


def _person_or_404(pk: int) -> Person:
    try:
        return Person.objects.get(pk=pk)
    except Person.DoesNotExist:
        raise Http404("No such person.") from None
