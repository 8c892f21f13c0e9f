"""Patterns, core boxes and jigs: the list, one of them, what is done to it, and what it has made."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.domain.numbers import as_number
from parts.common.confirm_form import ask, seen, sent
from parts.common.shortcuts import pattern_or_404, position_or_404, refusals_on, status_in, words_in
from parts.common.small_forms import PromiseForm, Why
from parts.domain.pattern_words import SAYS, PatternKind, PatternState, doing, move_troubles
from parts.domain.plain import capital
from parts.domain.tagcodes import grouped
from parts.entering.forms import TieAnother
from parts.models import Casting, Pattern, Position
from parts.tags.writers import tie

from ..forms.patterns import CastingForm, PatternAdd, PatternForm, PatternMove, PatternTo
from ..pattern_context import pattern_context
from ..writers import castings as makers
from ..writers import patterns as writers

A_PAGE = 60
METHODS = ["GET", "HEAD", "POST"]


@signed_in
@require_safe
def patterns(request):
    text = words_in(request, "q")
    page = {
        "page": "Patterns, core boxes and jigs",
        "q": text,
        "page_obj": Paginator(Pattern.objects.as_list().with_words(text), A_PAGE).get_page(request.GET.get("page")),
        "may_edit": may(request.user.role_names, "edit patterns"),
    }
    return render(request, "parts/foundry/patterns.html", page)


@signed_in
@require_safe
def pattern(request, pk):
    return show(request, pattern_or_404(pk))


def show(request, found, status=200, **more):
    roles = request.user.role_names
    page = {
        "page": capital(str(found)),
        "crumbs": _crumbs(found)[:1] + [{"href": "", "label": capital(str(found))}],
        "pattern": found,
        "says": SAYS[PatternState(found.state)],
        "shown": pattern_context(found),
        "casting": CastingForm(),
        "may_pass": request.user.is_engineer,
        "may_edit": may(roles, "edit patterns"),
        "may_move": may(roles, "move"),
        "may_tie": may(roles, "tie tag"),
        "may_label": may(roles, "print labels"),
        "may_photograph": may(roles, "photograph"),
    }
    return render(request, "parts/foundry/pattern.html", page | more, status=status)


@who_may("edit patterns")
@require_http_methods(METHODS)
def add_pattern(request):
    form = PatternAdd(sent(request), initial={"kind": PatternKind.PATTERN.value, "code": request.GET.get("code", "")})

    def do(entered):
        made = writers.add_pattern(request.user, **entered)
        return f"It is in the register, with the tag {grouped(made.tags.current_code())}. Next: look it over.", made

    return ask(
        request, form, do, heading="A pattern, core box or jig", button="Save pattern", back=reverse("patterns"),
        crumbs=_crumbs(), says="It enters as found. Say what it is good for once somebody has checked it.",
    )  # fmt: skip


@who_may("edit patterns")
@require_http_methods(METHODS)
def edit_pattern(request, pk):
    found = pattern_or_404(pk)
    names = ("kind", "name", "goes_with", "drawing", "marks", "owner", "condition", "allows_known", "made_before")
    start = {name: getattr(found, name) for name in (*names, "made_before_note")}
    start |= {"allows": found.allows_as_written, "reference": found.reference and found.reference.tags.current_code()}
    form = PatternForm(sent(request), initial=seen(found, **start), pattern=found)

    def do(entered):
        writers.describe_pattern(found, request.user, seen=form.cleaned_data["seen"], **entered)
        return "Written down.", found

    return _ask(request, form, do, found, heading=f"Describe: {found}", button="Save pattern")


@who_may("edit patterns")
@require_http_methods(METHODS)
def pattern_state(request, pk, slug):
    """One page for each state that it may go to."""
    found, to = pattern_or_404(pk), _state_or_404(slug)
    now = PatternState(found.state)
    against = move_troubles(str(found), now, to, PatternKind(found.kind))
    may_pass = bool(against) and all(one.passable for one in against) and request.user.is_engineer
    depended = makers.dependents(found) if to is PatternState.WITHDRAWN else ()
    form = PatternTo(
        sent(request), initial=seen(found, condition=found.condition), pattern=found, to=to, depended=depended,
        may_pass=may_pass,
    )  # fmt: skip

    def do(entered):
        writers.change_state(found, request.user, to=to, seen=form.cleaned_data["seen"], **entered)
        return f"{capital(str(found))} is {to} now.", found

    if request.method != "POST" and against and not may_pass:
        return show(request, found, 422, refusals=against)
    return _ask(
        request, form, do, found, heading=f"{doing(now, to)}: {found}", button=doing(now, to),
        says=SAYS[to], against=against, danger=to is PatternState.WITHDRAWN,
    )  # fmt: skip


@who_may("edit patterns")
@require_http_methods(METHODS)
def promise_pattern(request, pk):
    found = pattern_or_404(pk)
    form = PromiseForm(sent(request), initial=seen(found, promised=found.promised_back))

    def do(entered):
        writers.promise_pattern(
            found, request.user, new=entered["promised"], why=entered["why"], seen=form.cleaned_data["seen"]
        )  # fmt: skip
        return "The day is kept; the one before it stays in the history.", found

    return _ask(request, form, do, found, heading=f"Promised back: {found}", button="Save day")


@who_may("move")
@require_http_methods(METHODS)
def move_pattern(request, pk):
    found = pattern_or_404(pk)
    form = PatternMove(sent(request), initial=seen(found))

    def do(entered):
        writers.move_pattern(
            found, entered["to"], request.user, remark=entered["remark"], seen=form.cleaned_data["seen"]
        )
        return f"{capital(str(found))} lies in {entered['to']} now.", found

    return _ask(request, form, do, found, heading=f"Move: {found}", button="Save place")


@who_may("tie tag")
@require_http_methods(METHODS)
def tie_pattern(request, pk):
    found = pattern_or_404(pk)
    form = TieAnother(sent(request))

    def do(entered):
        new = tie(entered["code"], found, request.user)
        return f"Tag {grouped(new.code)} hangs on it now. Take the old one off.", found

    return _ask(
        request, form, do, found, heading=f"Another tag: {found}", button="Tie it",
        says="The old tag still opens it if somebody finds it.",
    )  # fmt: skip


@who_may("edit patterns")
@require_http_methods(METHODS)
def pattern_places(request, pk):
    """For which places it is: found by a word, and added or taken off one at a time."""
    found, text = pattern_or_404(pk), words_in(request, "q")
    now = list(found.positions.in_words_order().select_related("locomotive"))
    if request.method == "POST":
        place = position_or_404(as_number(request.POST.get("place")) or 0)
        after = [one for one in now if one.pk != place.pk] if place in now else [*now, place]
        writers.describe_pattern(found, request.user, positions=after)
        told = "It is for" if place in after else "It is no longer for"
        messages.success(request, f"{told} {place.words} of {place.locomotive}.")
        return redirect(f"{reverse('pattern_places', args=[pk])}{'?q=' + text if text else ''}")
    page = {
        "page": f"Places: {found}",
        "crumbs": _crumbs(found),
        "pattern": found,
        "now": now,
        "q": text,
        "places": [place for place in Position.objects.called(text) if place not in now] if text else [],
    }
    return render(request, "parts/foundry/pattern_places.html", page)


@who_may("edit patterns")
@require_POST
def add_casting(request, pk):
    found = pattern_or_404(pk)
    form = CastingForm(request.POST)
    if form.is_valid():
        piece = form.cleaned_data["piece"]
        with refusals_on(form):
            makers.add_casting(found, piece, request.user)
            messages.success(request, f"{capital(piece.name)} is down as made from it.")
            return redirect(found)
    return show(request, found, status_in(form), casting=form)


@who_may("edit patterns")
@require_http_methods(METHODS)
def remove_casting(request, pk):
    casting = Casting.objects.by_number(pk)
    if casting is None:
        raise Http404("No such casting.")
    found, form = pattern_or_404(casting.pattern_id), Why(sent(request))

    def do(entered):
        makers.remove_casting(casting, request.user, reason=entered["reason"])
        return "Taken off. That it was believed stays in the history.", found

    return _ask(
        request, form, do, found, heading=f"Not made from it: {casting.component.name}", button="Take it off",
        danger=True,
    )  # fmt: skip


def _ask(request, form, do, found, **page):
    return ask(request, form, do, back=found.get_absolute_url(), crumbs=_crumbs(found), thing=found, **page)


def _crumbs(found=None):
    above = [{"href": reverse("patterns"), "label": "Patterns, core boxes and jigs"}]
    return [*above, {"href": found.get_absolute_url(), "label": capital(str(found))}] if found else above


def _state_or_404(slug) -> PatternState:
    to = next((state for state in PatternState if state.value.replace(" ", "-") == slug), None)
    if to is None:
        raise Http404(f"No state of a pattern is called “{slug}”.")
    return to
