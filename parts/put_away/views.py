"""Put away: first the crate, then piece after piece. The crate is remembered until it is done; what was put into it is
read from the moves themselves, so that nothing kept on a phone and sent late is missing from the list."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from core.access import who_may
from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused
from core.log.writing import written
from core.models import Event

from ..common.shortcuts import location_or_404, remember_crate, say_done, status_in, status_of
from ..domain.plain import capital, several
from ..models import Component, Location, Movement, Pattern, Tag
from ..stores.forms import CrateForm
from ..tags.typed_tags import Named
from ..tags.views import tags_sent
from . import writers

KEY = "put away"
ON_IT = Refusal("crate", "Pieces come onto the locomotive by refitting them.", "Choose a crate or a shelf.")
KEPT, A_SHIFT_S = "crate-in-hand", 8 * 60 * 60
LIST = 60


def crate_of(request) -> Location | None:
    """The crate that this person is filling, if it is in use still."""
    session = request.session.get(KEY)
    return Location.objects.in_use().by_number(session["into"]) if session else None


def may_fill(request) -> Location | None:
    """As `crate_of`, where this person may still move things: what a piece's own page offers."""
    return crate_of(request) if KEY in request.session and may(request.user.role_names, "move") else None


@who_may("move")
@require_http_methods(["GET", "HEAD", "POST"])
def put_away(request):
    """GET: the crate being filled with its list, or which one it is to be. POST: this one, said in any way."""
    if request.method == "POST":
        return begin(request)
    take_up(request)
    crate = crate_of(request)
    if not crate or "another" in request.GET:
        return choose(request)
    response = show(request, crate)
    held = f"{request.user.pk} {crate.pk} {request.session[KEY]['since']}"
    response.set_signed_cookie(KEPT, held, max_age=A_SHIFT_S, httponly=True, samesite="Lax", secure=request.is_secure())
    return response


def take_up(request) -> None:
    """Whoever signs in again within a shift still has the crate in hand; for anybody else it is not meant."""
    held = request.get_signed_cookie(KEPT, "", max_age=A_SHIFT_S).split()
    if KEY not in request.session and len(held) == 3 and held[0] == str(request.user.pk):
        request.session[KEY] = {"into": int(held[1]), "since": int(held[2])}


def begin(request):
    crate, refusals, form = place_meant(request)
    if crate and crate.locomotive_id:
        refusals = [ON_IT]
    if crate is None or refusals:
        return choose(request, refusals=refusals, form=form)
    fill(request, crate)
    return redirect("put_away")


def place_meant(request) -> tuple[Location | None, list[Refusal], CrateForm | None]:
    """The crate, shelf or rack that was said by a photo of its tag or by its name; or why none was understood."""
    if "picture" not in request.FILES:
        form = CrateForm(request.POST)
        return (form.cleaned_data["into"] if form.is_valid() else None), [], form
    found = tags_sent(request)
    crate = next(iter(found.crates), None)
    if crate:
        return crate, [], None
    return None, found.refusals or [Refusal("crate", "That is no crate's tag.", "Scan the crate first.")], None


def fill(request, crate: Location) -> None:
    """From now on this crate. Coming back to the one being filled goes on with its list."""
    session = request.session.get(KEY)
    if not session or session["into"] != crate.pk:
        request.session[KEY] = {"into": crate.pk, "since": Event.objects.newest_number()}
    remember_crate(request, crate)


def choose(request, *, refusals=(), form=None):
    form = form or CrateForm()
    form.fields["into"].offer()
    page = {
        "page": "Put away: into which crate?",
        "form": form,
        "refusals": refusals,
        "recent": [place for place in Location.objects.last_used_by(request.user) if not place.locomotive_id],
    }
    status = status_of(refusals) if refusals else status_in(form)
    return render(request, "parts/put_away/put_away_crate.html", page, status=status)


def show(request, crate, *, refusals=(), **more):
    rows = put_so_far(request, crate)
    page = {
        "page": f"Put away into {crate.name}",
        "crate": crate,
        "rows": rows[:LIST],
        "count": len(rows),
        "refusals": refusals,
        "meant": [],
        "done": "",
    }
    return render(request, "parts/put_away/put_away.html", page | more, status=status_of(refusals))


def put_so_far(request, crate) -> list[Movement]:
    session = request.session.get(KEY)
    since = session["since"] if session and session["into"] == crate.pk else Event.objects.newest_number()
    rows = Movement.objects.put_into(crate, request.user, since)
    codes = Tag.objects.codes_borne(rows[:LIST])
    for row in rows[:LIST]:
        row.thing = row.component or row.pattern
        row.code = codes.get((row.component_id, row.pattern_id), "")
    return rows


@who_may("move")
@require_POST
def put(request, pk):
    """Into this crate, whatever crate the session has by now: a phone may send late what it kept."""
    crate = location_or_404(pk)
    found = tags_sent(request)
    if KEY not in request.session and not crate.locomotive_id:
        fill(request, crate)
    with written() as events:
        done, refusals = put_each(request, crate, found)
    others = [other for other in found.crates if other != crate]
    if others and not done and not refusals:
        return another_crate(request, crate, others[0])
    if refusals:
        return show(request, crate, refusals=refusals, meant=found.meant, done=done)
    if done:
        say_done(request, done, events)
    else:
        messages.info(request, f"That is the tag of {crate.name} itself, which you are filling.")
    return redirect("put_away")


@who_may("move")
@require_POST
def put_named(request):
    """Into the crate of this name: whoever had no network when choosing one put things there all the same."""
    form = CrateForm(request.POST)
    if not form.is_valid():
        return choose(request, form=form)
    if form.cleaned_data["into"].locomotive_id:
        return choose(request, refusals=[ON_IT], form=form)
    return put(request, form.cleaned_data["into"].pk)


def put_each(request, crate, found: Named) -> tuple[str, list[Refusal]]:
    """Each piece by itself: one that cannot go there keeps none of the others back."""
    refusals, sentences = list(found.refusals), []
    things: list[Component | Pattern] = [*found.pieces, *found.patterns]
    for thing in things:
        news = _news(thing, crate)
        try:
            new = writers.put(thing, crate, request.user)
        except Refused as refused:
            refusals += refused.refusals
            continue
        sentences.append(f"{capital(str(thing))}: {'now in' if new else 'already in'} {crate.name}.{news}")
    return " ".join(sentences), refusals


def _news(thing, crate) -> str:
    """What is known of it besides, once it lies there."""
    if thing.location and thing.location.away and not crate.away:
        return f" It is back from {thing.location.name}."
    return " It had been missed, and is found." if getattr(thing, "missed_on", None) else ""


def another_crate(request, crate, other):
    """The tag of another crate: who stands before the page goes on with that one. One kept and sent late must not turn
    what was scanned meanwhile into another crate, so it is only told."""
    if "X-Cotter-Key" in request.headers and "X-Cotter-Now" not in request.headers:
        sentence = (
            f"That is the tag of {other.name}, and it came late: what was scanned after it went into {crate.name}."
        )
        refusal = Refusal("other-crate", sentence, f"Take back what belongs into {other.name}, and scan it there.")
        return show(request, crate, refusals=[refusal])
    fill(request, other)
    messages.info(request, f"From now on into {other.name}.")
    return redirect("put_away")


@who_may("move")
@require_POST
def take_back(request, pk):
    """A wrong one goes back to where it lay, by the number of the movement's event."""
    movement = Movement.objects.of_piece(pk, request.user)
    if movement is None:
        raise Http404("No such move of yours.")
    thing, crate = movement.component or movement.pattern, movement.went_to
    try:
        writers.take_back(movement, request.user)
    except Refused as refused:
        return show(request, crate, refusals=refused.refusals)
    where = f"in {movement.came_from}" if movement.came_from else "where it was; nobody had recorded where"
    messages.success(request, f"{capital(str(thing))} is taken back: it lies {where} again.")
    return redirect("put_away")


@who_may("move")
@require_POST
def done(request):
    crate = crate_of(request)
    if crate is None:
        request.session.pop(KEY, None)
        return redirect("put_away")
    count = len(put_so_far(request, crate))
    del request.session[KEY]
    messages.success(request, f"{several(count, 'piece')} put into {crate.name}.")
    response = redirect(crate)
    response.delete_cookie(KEPT)
    return response
