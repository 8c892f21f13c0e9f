"""People: who signs in, with which roles, and what they may sign."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import who_may
from core.accounts import credentials, devices
from core.domain.refusals import Refused
from core.log import writing
from core.models import Authorisation, Card, Person
from core.web.papers import pdf
from parts.common.shortcuts import refusals_on, refusals_told, status_in
from parts.common.small_forms import with_seen
from parts.domain.plain import several
from parts.labels import printing
from parts.labels.errors import LabelError

from .. import cards
from ..forms import AuthorisationForm, PersonForm
from ..writers import people as writers

PEOPLE = {"href": "/people/", "label": "People"}


@who_may("edit people")
@require_safe
def people(request):
    page = {
        "page": "People",
        "people": Person.objects.with_roles(),
        "today": writing.today(),
        "addresses_hidden": devices.hidden_by_the_proxy(request),
    }
    return render(request, "workshop/accounts/people.html", page)


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
    form = with_seen(PersonForm(request.POST or None, person=someone), writers.edits_of(someone))
    return _edit(request, someone, form, str(someone))


def _edit(request, someone, form, title):
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            writers.save_person(someone, request.user, **form.cleaned_data)
            messages.success(request, f"{someone} is saved.")
            return redirect("person", someone.pk)
    return _show(request, someone, title, form, AuthorisationForm(prefix="sign"))


def _show(request, someone, title, form, authorise):
    page = {
        "page": title,
        "crumbs": [PEOPLE, {"href": "", "label": title}],
        "person": someone if someone.pk else None,
        "form": form,
        "authorise": authorise,
        "today": writing.today(),
    }
    if someone.pk:
        page["authorisations"] = someone.authorisations.all()
        page["sign_ins"] = list(someone.sign_ins.alive())
        page["card"] = Card.objects.of_person(someone)
        page["card_sheets"] = list(cards.CARD_SHEETS.items())
        page["here"] = request.session.session_key
    return render(request, "workshop/accounts/person.html", page, status=status_in(form, authorise))


@who_may("edit people")
@require_POST
def authorise(request, pk):
    someone = _person_or_404(pk)
    form = AuthorisationForm(request.POST, prefix="sign")
    if form.is_valid():
        with refusals_on(form):
            made = writers.authorise(someone, request.user, **form.cleaned_data)
            messages.success(request, f"{someone} may sign: {made.as_word()}.")
            return redirect("person", pk)
    shown = with_seen(PersonForm(person=someone), writers.edits_of(someone))
    return _show(request, someone, str(someone), shown, form)


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
    with refusals_told(request):
        writers.set_active(someone, request.user, active)
        word = "signs in again" if active else "no longer signs in; the name stays behind what was signed"
        messages.success(request, f"{someone} {word}.")
    return redirect("person", pk)


@who_may("edit people")
@require_POST
def sign_out_person(request, pk):
    someone = _person_or_404(pk)
    count = writers.sign_out_everywhere(someone, request.user)
    messages.success(request, f"{someone} is signed out: {several(count, 'device')}.")
    return redirect("person", pk)


@who_may("edit people")
@never_cache
@require_POST
def print_card(request, pk):
    """A new card, as PDF: printing one is issuing one, and the one before is void. Nothing is issued that cannot be
    printed."""
    someone = _person_or_404(pk)
    try:
        base = printing.address()
        with writing.one_transaction():
            code = credentials.issue_card(someone, request.user)
            card = cards.sign_in_card(someone, code, base, cards.sheet_in(request.POST))
        return pdf(card, "card")
    except (Refused, LabelError) as trouble:
        messages.error(request, str(trouble))
        return redirect("person", pk)


@who_may("edit people")
@require_POST
def withdraw_card(request, pk):
    someone = _person_or_404(pk)
    if credentials.withdraw_card(someone, request.user):
        messages.success(request, f"The card of {someone} no longer signs anybody in.")
    return redirect("person", pk)


@who_may("edit people")
@require_POST
def forget_pin(request, pk):
    """A forgotten PIN is taken away here; the person sets a new one with the password or the card."""
    someone = _person_or_404(pk)
    credentials.remove_pin(someone, request.user)
    messages.success(request, f"{someone} has no PIN now, and sets a new one under More, Your sign-in.")
    return redirect("person", pk)


def _person_or_404(pk: int) -> Person:
    try:
        return Person.objects.get(pk=pk)
    except Person.DoesNotExist:
        raise Http404("No such person.") from None
