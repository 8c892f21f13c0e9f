"""What a sheet says before it is signed: kept as it was sent, and told line by line on the page where it is signed."""

import hashlib
import json
from collections.abc import Collection
from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.db.models import Model
from django.http import QueryDict

from parts.domain.plain import day

from .writers.drafts import keep

NOT_KEPT = ("csrfmiddlewaretoken", "signature", "do")
LONGEST = 4000


def keep_sheet(request, piece, kind: str) -> None:
    """As it was sent, for the page on which it is read over and signed. A PIN is never kept."""
    sent = {
        name: [value.replace("\0", "\ufffd")[:LONGEST] for value in request.POST.getlist(name)]
        for name in request.POST
        if name not in NOT_KEPT
    }
    keep(piece, request.user, kind, lambda before: {"sent": sent})


def as_sent(entered: dict) -> QueryDict:
    data = QueryDict(mutable=True)
    for name, values in entered.get("sent", {}).items():
        data.setlist(name, values)
    return data


def mark_of(entered: dict) -> str:
    """By which a page knows whether what it showed is still what is kept."""
    return hashlib.sha256(json.dumps(entered, sort_keys=True).encode()).hexdigest()[:24]


def lines_of(form: forms.Form, without: Collection[str] = (), units: dict[str, str] | None = None):
    """Each field that says something, with its words; `form` as it was validated."""
    for bound in form.visible_fields():
        words = _told(bound.field, form.cleaned_data.get(bound.name))
        if words and bound.name not in without:
            unit = (units or {}).get(bound.name, "")
            yield str(bound.label), f"{words} {unit}".strip()


def _told(field: forms.Field, value) -> str:
    if isinstance(value, Model):
        return field.label_from_instance(value) if isinstance(field, forms.ModelChoiceField) else str(value)
    if isinstance(value, date):
        return day(value)
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, bool):
        return "yes" if value else ""
    if isinstance(value, list | tuple):
        return "; ".join(_told(field, one) for one in value)
    choices: Any = field.choices if isinstance(field, forms.ChoiceField) else ()  # pairs, in every form here
    known = dict(choices)
    return str(known.get(value, value)) if value else ""
