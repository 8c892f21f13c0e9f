"""The page that a scan of a piece's tag opens: what is this, and what does it need next?"""

from dataclasses import replace
from fractions import Fraction

from django.db.models import QuerySet
from django.shortcuts import render
from django.urls import reverse

from core.domain.catalogue import CATALOGUE, may, who_may
from core.models import Person
from core.models.prepared import prepared
from inspections.domain.masses import in_kg_and_lb
from parts import facts
from parts.actions.as_built import held
from parts.common import piece_context
from parts.common.locators import locator_of
from parts.common.shortcuts import crumbs
from parts.domain.cautions import before
from parts.domain.exams_due import is_condemned, missing_exams, taken_over_as
from parts.domain.fastening import Fastening
from parts.domain.next_step import NextStep
from parts.domain.piece_needs import NEXT_ACTION
from parts.domain.ranking import in_words, look_of_kind, who_may_do
from parts.domain.rows import ActionContext
from parts.domain.states import refusals_of
from parts.domain.words import Kind, Need, State
from parts.kits import views as kits
from parts.labels import printing
from parts.models import Component, Location, Tag
from parts.pieces.available_actions import available_actions
from parts.put_away import views as put_away
from parts.queries.measured import measured
from parts.stock_take import views as stock_take
from parts.stores.writers import stays_put
from parts.work.job_context import beside_piece


@prepared
def _with_beside(scope: dict) -> QuerySet:
    return Component.objects.for_page().with_beside().filter(**scope)


def piece(request, tag: Tag):
    """Called by the `tag` view, which has settled access and found the tag."""
    (component,) = _with_beside({"pk": tag.component_id})
    case = facts.context(component, request.user, order=component.state in (State.ACCEPTED, State.RENEWED))
    address = reverse("tag", args=[tag.code])
    fastening = how_held(component)
    doing = available_actions(case, address, decisions(component, case), holds_address(component), fastening)
    examined = case.this_piece.examinations or component.state == State.WITHDRAWN
    looks = piece_context.looks(component, case) if examined else []
    where, where_href = piece_context.lies(component)
    photos = list(component.photos.all()[: piece_context.PHOTOS_SHOWN]) if component.has_photos else []
    return render(
        request,
        "parts/pieces/piece.html",
        {
            "page": f"{component.name}, {tag.code}",
            "help_line": (doing.step.need, doing.step.need),
            "crumbs": crumbs_of(component),
            "piece": component,
            "tag": tag,
            "address": address,
            "case": case,
            "doing": doing,
            "first_now": doing.step.need is not Need.AFTER,
            "cautions": cautions_before(doing.step, case),
            "quarantine": quarantine(component) if component.quarantined else None,
            "here": locator_of(component.place),
            "taken_over": taken_over_as(case.this_piece),
            "badges": piece_context.badges(component, case),
            "mass": in_kg_and_lb(Fraction(component.mass_kg)) if component.mass_kg else "",
            "where": where,
            "where_href": where_href,
            "photos": photos,
            "looks": looks,
            "welding": piece_context.welding(case, address),
            "sizes": measured.lines(component) if may_have_sizes(case) else [],
            "called_for": piece_context.called_for(case),
            "inner": piece_context.inner_places(component, case) if case.place and case.place.inner else [],
            "mates": piece_context.mates(component),
            "earmarks": earmarks(component),
            "page_obj": piece_context.history(component, request.GET.get("page")),
            "tag_printed": printing.times_printed(tag.code),
            "old_tags": old_tags(component),
            "beside": beside_piece(component),
            "replaces_code": component.replaces.tags.current_code() if component.replaces_id else "",
            "reproduced": component.state == State.WITHDRAWN or is_condemned(case.piece, case.place),
            "putting_into": put_away.may_fill(request),
            "kit": kits.in_hand(request, component),
            "counting": stock_take.counting(request),
            "quick": quick(doing),
            "fastening": fastening,
            "can": can(doing, fastening),
            "others": others(doing, case),
        }
        | _allowed(component, case),
    )


def _allowed(component: Component, case: ActionContext) -> dict[str, bool]:
    """What the reader may do on this page beside the actions."""
    roles = case.actor.roles
    may_move = may(roles, "move")
    return {
        "may_move": may_move,
        "may_put_back": may_move and may_be_put_back(component),
        "may_keep_here": may_move and may_be_kept_here(component),
        "may_measure": may(roles, "examine") and not refusals_of(CATALOGUE.action("examine"), case),
        "may_decide": may(roles, "decide"),
        "may_correct": may(roles, "correct"),
        "may_name": may(roles, "correct name"),
        "may_name_old": may_name_old(component, case),
        "may_label": may(roles, "print labels"),
        "may_stop": may(roles, "stop"),
        "may_lift": may(roles, "lift stop"),
        "may_photograph": may(roles, "photograph"),
    }


QUICK = {"move": ("i-move", "Move", ""), "describe": ("i-edit", "Note", "#id_notes")}
"""With the field that it is about, where the form has many."""


def quick(doing) -> list[dict]:
    """What is done most beside the next thing, where it can be done now."""
    first = [doing.first] if doing.first and not doing.for_others else []
    can = {button.key: button.href for button in (*doing.can, *first)}
    return [
        {"href": can[word] + field, "icon": icon, "label": label}
        for word, (icon, label, field) in QUICK.items()
        if can.get(word)
    ]


def can(doing, fastening: Fastening | None) -> list:
    """What else can be done; what is locked is not offered as if nobody had said how."""
    said = {"lock": "Change how it is locked"} if fastening and fastening.locked else {}
    there = (button for button in doing.can if button.key not in QUICK)
    return [replace(button, label=said.get(button.key, button.label)) for button in there]


def how_held(component: Component) -> Fastening | None:
    """What was left alone in its place was never undone, so nobody says how it is held."""
    refitted = component.state == State.REFITTED and not component.left_alone
    return held([component.pk])[component.pk] if refitted else None


def others(doing, case: ActionContext) -> str:
    """The names of those who may do the next thing, where the reader may not."""
    if not doing.for_others:
        return ""
    roles = who_may(doing.step.deed)
    people = Person.objects.actors(case.today, roles)
    return in_words(who_may_do(roles, people, look=look_of_step(doing.step, case)))


def look_of_step(step: NextStep, case: ActionContext) -> str:
    """The authorisation that a step takes; "" where it is no signing of an examination."""
    if step.deed != "examine":
        return ""
    missing = missing_exams(case.place, case.this_piece) if case.place else []
    called_for = Kind.CRACK_CHECK if case.place and case.place.crack_check_method else Kind.VISUAL
    return look_of_kind(step.kind or next((look.kind for look in missing), called_for), case.place)


def may_have_sizes(case) -> bool:
    """A withdrawn piece is read without its sizes, and has them on its page all the same."""
    return bool(case.piece.dimensions) or case.piece.state is State.WITHDRAWN


def earmarks(component: Component) -> list:
    return [mark.position for mark in component.earmarks.select_related("position")] if component.has_earmarks else []


def old_tags(component: Component) -> list[str]:
    if not component.has_old_tags:
        return []
    return list(component.tags.filter(current=False).values_list("code", flat=True))


def crumbs_of(component: Component) -> list[dict]:
    """From the locomotive down to the place's subassembly."""
    if component.place:
        return crumbs(component.place.subassembly, component.place.locomotive)
    return crumbs(None, component.locomotive) if component.locomotive else []


def decisions(component: Component, case) -> dict[int, str]:
    """The page that decides on a record, by the event of its signing."""
    undecided = [exam.event for exam in case.piece.examinations if exam.result != "sound" and not exam.decision]
    if not undecided:
        return {}
    rows = component.examinations.filter(event__in=undecided).values_list("event_id", "pk")
    return {event: reverse("decide", args=[pk]) for event, pk in rows}


def may_name_old(component: Component, case) -> bool:
    """A piece that did not come off the place it is for took the place of another."""
    follows = component.place_id is not None and component.came_off_id != component.place_id
    roles = case.actor.roles
    return bool(follows or component.replaces_id) and (may(roles, "renew") or may(roles, "start on"))


def may_be_put_back(component: Component) -> bool:
    """It lies loose somewhere else than it does as a rule."""
    usual = component.normal_location
    return bool(usual and not usual.retired and usual != component.location and is_loose(component))


def may_be_kept_here(component: Component) -> bool:
    """It lies loose in the works, and not where it does as a rule."""
    place = component.location
    return bool(place and not place.away and place != component.normal_location and is_loose(component))


def quarantine(component: Component) -> dict:
    """Of a cracked piece: whether it lies in quarantine, and else where to take it."""
    there = piece_context.in_quarantine(component)
    loose = not stays_put(component)
    return {"there": there, "loose": loose, "place": None if there else Location.objects.quarantines().first()}


def is_loose(component: Component) -> bool:
    return component.state != State.WITHDRAWN and not stays_put(component)


def holds_address(component: Component) -> str:
    locomotive = component.place.locomotive if component.place else component.locomotive
    return reverse("holds", args=[locomotive.slug]) if locomotive else ""


def cautions_before(step: NextStep, case: ActionContext) -> tuple[str, ...]:
    """Those of what is done next; of what would be, where a hold point comes first."""
    piece = case.this_piece
    if piece.state in (State.REFITTED, State.WITHDRAWN):
        return ()
    held = step.deed in ("hold", "lift stop")
    word = NEXT_ACTION.get(piece.state, "") if held else step.kind or step.deed
    return before(word, case.place, piece)
