"""What is measured in its place as a piece is refitted or locked: a field for each of its fits and sizes."""

from collections import defaultdict
from collections.abc import Collection
from typing import Any

from django import forms

from core.models import Event

from ..domain.fastening import FASTENS, BuiltSize, Fastening, fastening
from ..models import Component
from ..queries.measured import measured
from .forms import line


def held(pieces: Collection[int]) -> dict[int, Fastening]:
    """How each is held now, as its events say."""
    noted: defaultdict[int, list[tuple[str, dict[str, Any]]]] = defaultdict(list)
    events = Event.objects.about("piece", list(pieces)).filter(action__in=FASTENS).subject_of("piece").order_by("pk")
    for event in events:
        noted[event.about].append((event.action, event.data))
    return {piece: fastening(noted[piece]) for piece in pieces}


def ask_as_built(form: forms.Form, component: Component, before: Fastening) -> list[BuiltSize]:
    """The fields, ahead of what else was measured."""
    asked = measured.built(component.place) if component.place else []
    typed = {one.key: one.typed for one in before.measured}
    for one in asked:
        allowed = f"{one.allowed}." if one.allowed else "No limits are set: it is kept and not judged."
        form.fields[one.key] = line(one.name, f"{allowed} Write the unit.", most=60, initial=typed.get(one.key, ""))
    order = list(form.fields)
    at = order.index("built")
    new = [one.key for one in asked]
    form.order_fields([*order[:at], *new, *(name for name in order[at:] if name not in new)])
    return asked


def judge_as_built(form: forms.Form, asked: list[BuiltSize], before: Fastening) -> None:
    """`measured` becomes what was typed with its verdict. A blank leaves what was written before, and so does a figure
    that the engineer let stand."""
    figures = {one.key: one for one in before.measured}
    for one in asked:
        if typed := form.cleaned_data.pop(one.key, "").strip():
            try:
                figures[one.key] = one.judge(typed)
            except ValueError as trouble:
                form.add_error(one.key, str(trouble))
    if measured_now := [one.data for one in figures.values() if not before.lets_stand(one)]:
        form.cleaned_data["measured"] = measured_now
