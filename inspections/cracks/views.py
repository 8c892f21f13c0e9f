"""Signing a crack check: how it was looked for, and each thing that it showed, marked by a tap on a photo."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from django.contrib.auth import get_user_model
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.refusals import Refusal, Refused
from core.roles import Role
from parts import facts
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404, status_of
from parts.domain.cautions import LOOKING_IN_SHORT, UV_A, cautions_of_method
from parts.domain.welds import weld_checks
from parts.domain.words import Kind
from parts.photos import writers as photo_actions

from ..domain.indications import MEMORY, NOT_MODELLED
from ..models.crack_checks import STAGES
from ..records.like_pieces import like
from ..records.reading_over import as_sent, keep_sheet
from ..records.writers.drafts import draft_of
from . import crack_context
from .forms.crack_checks import AS_LAST_TIME, METHODS, SHORT, CrackCheckForm, hidden_but_from
from .forms.marks import MOST, marks_form, share
from .forms.still_to_say import Still, still_to_say

NEW_MARK = {"unit": "mm", "crack": "yes"}
NO_MARK = {"mark-TOTAL_FORMS": "0", "mark-INITIAL_FORMS": "0"}


@who_may("examine")
@require_http_methods(["GET", "HEAD", "POST"])
def crack_check(request, code):
    piece = component_or_404(code)
    case = facts.context(piece, request.user, order=False)
    rights = crack_context.rights_of(request.user, case.today)
    against = crack_context.against(case, rights)
    if against:
        return barred(request, code, piece, against)
    page = CrackCheckPage(request, code, piece, case, rights)
    if request.method == "POST":
        return sent(request, page)
    if "kept" in request.GET and (draft := draft_of(piece, request.user, Kind.CRACK_CHECK)):
        return from_draft(page, with_marks(as_sent(draft)))
    return page.show(page.form(initial=page.beginning()), page.marks(initial=[]))


class CrackCheckPage:
    """What the page stands on, read once; and its two forms made over it."""

    def __init__(self, request, code, piece, case, rights):
        self.request, self.code, self.piece, self.case, self.rights = request, code, piece, case, rights
        self.photos = crack_context.photos_of(piece)
        self.by_name = {photo.name: photo for photo in self.photos}
        self.named = crack_context.method_called_for(case)
        self.material = piece.place.material if piece.place else ""
        self.surfaces = sorted(case.place.surfaces) if case.place else []
        self.inside = case.place.inside if case.place and not piece.broken_down else ()
        self.earlier = piece.examinations.not_superseded().filter(kind=Kind.CRACK_CHECK)
        self.engineers = get_user_model().objects.in_role(Role.RESPONSIBLE_ENGINEER)
        self.like = like(piece, Kind.CRACK_CHECK, self.inside)
        self.last = None
        self.none_before = False
        self.typed: Mapping = {}

    def form(self, data=None, **kwargs) -> CrackCheckForm:
        return CrackCheckForm(
            data, offered=crack_context.offered(self.rights, self.named), surfaces=self.surfaces, earlier=self.earlier,
            engineers=self.engineers, material=self.material, inside=self.inside, like=self.like, **kwargs,
        )  # fmt: skip

    def marks(self, data=None, **kwargs):
        return marks_form(data, photos=self.by_name, **kwargs)

    def beginning(self) -> dict:
        """What a new sheet begins with: today and the likely method. What was used last time is filled in on asking."""
        asked = self.request.GET
        method = crack_context.likely_method(self.piece, self.case, self.rights)
        method = asked["method"] if asked.get("method") in METHODS else method
        return {
            "seen": self.piece.last_event,
            "on": timezone.localdate(),
            "method": method,
            "stage": asked.get("stage") if asked.get("stage") in dict(STAGES) else "",
            "supersedes": asked.get("supersedes"),
        }

    def still(self) -> Still:
        typed = self.typed or self.beginning() | NO_MARK
        return still_to_say(self.form(typed), self.marks(typed))

    def as_last_time(self, method: str) -> dict:
        self.last = crack_context.last_of(self.request.user, method)
        return crack_context.as_last_time(self.last, AS_LAST_TIME)

    def show(self, form, marks, *, chosen="", photo_trouble=(), status=200):
        piece, request = self.piece, self.request
        chosen = self.by_name.get(chosen) or (self.photos[0] if self.photos else None)
        page = {
            "page": f"Sign a crack check: {piece.name}, {self.code}",
            "crumbs": way_back(piece, self.code, "Sign a crack check"),
            "piece": piece,
            "code": self.code,
            "form": form,
            "steps": form.steps(),
            "still": self.still(),
            "marks": marks,
            "proposals": crack_context.proposals(piece, self.case),
            "doubts": [
                (SHORT[m], sentences)
                for m, sentences in crack_context.doubts(piece, self.case).items()
                if m != self.named
            ],
            "ended": [right for right in self.rights if not right.good],
            "last": self.last,
            "none_before": self.none_before,
            "answers": crack_context.to_answer(piece, self.case),
            "welds": weld_checks(self.case.piece),
            "cautions": [
                (caution, hidden_but_from(methods) + (" not-contrast" if caution == UV_A else ""))
                for caution, methods in cautions_of_method()
            ],
            "in_short": [(text, hidden_but_from([method])) for method, text in LOOKING_IN_SHORT.items()],
            "place_caution": piece.place.caution if piece.place else "",
            "photos": self.photos,
            "chosen": chosen,
            "small": crack_context.small_size(chosen) if chosen else None,
            "marked": crack_context.marked(chosen, _on(chosen, marks)) if chosen else None,
            "photo_trouble": photo_trouble,
            "memory": MEMORY,
            "not_modelled": NOT_MODELLED,
        }
        return render(request, "inspections/cracks/crack_check.html", page, status=status)


def sent(request, page: CrackCheckPage):
    """A step on the way (a tap, a photo) shows the same sheet as it was typed."""
    step, _, which = request.POST.get("do", "sign").partition(":")
    data = page.typed = with_marks(request.POST)
    form, marks = page.form(data), page.marks(data)
    if "tap.x" in request.POST:
        step = "tap"
    if step in STEPS:
        return STEPS[step](page, form, marks, which)
    return write_down(page, form, marks)


def write_down(page: CrackCheckPage, form, marks):
    """Kept, to be read over and signed on the page of signing."""
    request = page.request
    good = marks.is_valid() & form.is_valid()
    if marks.is_valid():
        marks.judge(form.cleaned_data.get("level", ""))
    if not good or not marks.is_valid():
        say_where(form, marks)
        return page.show(form, marks, chosen=request.POST.get("shown", ""), status=422)
    keep_sheet(request, page.piece, Kind.CRACK_CHECK)
    return redirect("sign_record", page.code, "crack-check")


def say_where(form, marks):
    """Mistakes in the indications are named at the top with the others."""
    numbers = [str(number) for number, mark in enumerate(marks.forms, 1) if mark.errors]
    if numbers:
        form.add_error(None, f"Indication {', '.join(numbers)}: see the note beside it.")
    for error in marks.non_form_errors():
        form.add_error(None, f"Indications: {MOST} at most on one record. {error}")


def from_draft(page: CrackCheckPage, data):
    """As it was sent, for whoever comes back from reading it over; the piece as it is now."""
    page.typed = data
    form, marks = page.form(data), page.marks(data)
    return shown_again(page, _as_typed(page, form, {"seen": page.piece.last_event}), marks.as_typed())


def shown_again(page: CrackCheckPage, form, typed: list[dict], *, chosen="", **more):
    marks = page.marks(initial=typed)
    page.typed = with_these(page.typed, typed)
    for mark, entered in zip(marks.forms, typed, strict=True):
        mark.echo = entered.get("echo", "")
    chosen = chosen or page.request.POST.get("shown", "")
    return page.show(form, marks, chosen=chosen, **more)


def with_these(sent, typed: list[dict]):
    """What was sent, with these indications and no others."""
    each = {f"mark-{number}-{name}": value for number, mark in enumerate(typed) for name, value in mark.items()}
    return changed(sent, each | {"mark-TOTAL_FORMS": str(len(typed))})


def changed(sent, values: dict):
    data = sent.copy()
    for name, value in values.items():
        data[name] = value
    return data


# --- steps on the way


def tap(page: CrackCheckPage, form, marks, which):
    """A tap on the photo: it moves the mark that was named, or sets a new one."""
    photo, typed = page.by_name.get(page.request.POST.get("shown", "")), marks.as_typed()
    at = _tapped(page.request.POST, photo)
    if photo and at and len(typed) < MOST:
        put(typed, page.request.POST.get("moves", ""), {"photo": photo.name, "across": str(at[0]), "down": str(at[1])})
    return shown_again(page, _as_typed(page, form), typed)


def put(typed: list[dict], moves: str, place: dict):
    number = int(moves) if moves.isascii() and moves.isdigit() else 0
    if 1 <= number <= len(typed):
        typed[number - 1] |= place
    else:
        typed.append(NEW_MARK | ({"unit": typed[-1]["unit"]} if typed else {}) | place)


def add(page: CrackCheckPage, form, marks, which):
    typed = marks.as_typed()
    return shown_again(page, _as_typed(page, form), [*typed, NEW_MARK] if len(typed) < MOST else typed)


def out(page: CrackCheckPage, form, marks, which):
    typed = [entered for number, entered in enumerate(marks.as_typed(), 1) if str(number) != which]
    return shown_again(page, _as_typed(page, form), typed)


def photo(page: CrackCheckPage, form, marks, which):
    return shown_again(page, _as_typed(page, form), marks.as_typed(), chosen=which)


def last(page: CrackCheckPage, form, marks, which):
    """What the examiner wrote the last time by the method now chosen."""
    typed = form.as_typed()
    method = typed.get("method") or ""
    filled = page.as_last_time(method if method in METHODS else "")
    page.none_before = page.last is None
    page.typed = changed(page.typed, filled)
    return shown_again(page, _as_typed(page, form, filled), marks.as_typed())


def upload(page: CrackCheckPage, form, marks, which):
    """A new photo is kept with the piece at once, whether or not the sheet is signed."""
    trouble: Sequence[Refusal] = ()
    chosen = ""
    try:
        added = photo_actions.add(page.request.FILES.getlist("photos"), page.piece, page.request.user)
        trouble, chosen = added.refusals, added.photos[0].name if added.photos else ""
    except Refused as refused:
        trouble = refused.refusals
    page.photos = crack_context.photos_of(page.piece)
    page.by_name = {one.name: one for one in page.photos}
    again = _as_typed(page, form)
    return shown_again(
        page, again, marks.as_typed(), chosen=chosen, photo_trouble=trouble, status=422 if trouble else 200
    )


def missing(page: CrackCheckPage, form, marks, which):
    """What is still to say, asked again at each change."""
    shown = {"steps": form.steps(), "still": still_to_say(form, marks), "again": True}
    return render(page.request, "inspections/cracks/crack_check.html#still_to_say", shown)


STEPS = {
    "tap": tap, "add": add, "out": out, "photo": photo, "last": last, "upload": upload, "missing": missing,
}  # fmt: skip


def _as_typed(page, form, more: Mapping = MappingProxyType({})):
    """The same sheet again, with each reason that was given beside what it answers."""
    form.is_valid()
    again = page.form(initial={**form.as_typed(), **more})
    for question in form.questions:
        if form.reasons[question.code]:
            again._field_for(question)
    return again


def with_marks(sent):
    """A sheet without an indication may leave out how many it has."""
    if "mark-TOTAL_FORMS" in sent:
        return sent
    data = sent.copy()
    data["mark-TOTAL_FORMS"] = data["mark-INITIAL_FORMS"] = "0"
    return data


def _tapped(sent, photo):
    """Where on the photo, of 1. Without scripts it is shown small, and the browser tells the pixel."""
    if photo is None:
        return None
    width, height = crack_context.small_size(photo)
    at = [sent.get(name, "") for name in ("tap.x", "tap.y")]
    if not all(one.isascii() and one.isdigit() and len(one) < 6 for one in at):
        return None
    return share(str(min(int(at[0]) / width, 1))), share(str(min(int(at[1]) / height, 1)))


def _on(chosen, marks):
    """The marks that lie on the photo now shown."""
    for number, form in enumerate(marks.forms, 1):
        entered = {name: str(form[name].value() or "") for name in ("photo", "across", "down")}
        at = share(entered["across"]), share(entered["down"])
        if entered["photo"] == chosen.name and None not in at:
            yield number, *at


def barred(request, code, piece, refusal):
    page = {
        "page": f"Sign a crack check: {piece.name}, {code}",
        "crumbs": way_back(piece, code, "Sign a crack check"),
        "piece": piece,
        "code": code,
        "against": [refusal],
    }
    status = status_of([refusal]) if refusal.code != "state" or request.method == "POST" else 200
    return render(request, "inspections/cracks/crack_check.html", page, status=status)
