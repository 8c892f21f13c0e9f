"""Two people at one form: whoever saves second sees both values, field by field, and chooses.

A form that carries `seen` carries besides what it showed (`was`, written by components/form.html). Where a writer then
says that somebody was quicker, `side_by_side` compares, for each field, what the page showed, what was typed into it
and what the register says by now. A field that this person left alone takes the value of now; of one that both changed
the page shows the two, with a tick that takes the other's. A tick is put into what was sent before any view reads it.
"""

import json
from collections.abc import Iterator
from typing import Any

from django import forms
from django.core.exceptions import BadRequest
from django.http import QueryDict

WAS, THEIRS = "was", "theirs"
Values = list[str]


def was(form: forms.BaseForm) -> str:
    """What the page shows now, for the hidden field; once sent, what it showed then, until somebody was quicker."""
    if "seen" not in form.fields:
        return ""
    if form.is_bound and not getattr(form, "shown_anew", False):
        return str(form.data.get(form.add_prefix(WAS), ""))
    return json.dumps({bound.name: _now(bound) for bound in _visible(form)}, ensure_ascii=False)


def side_by_side(form: forms.BaseForm) -> None:
    """The form shown again after somebody was quicker. `form.initial` is what the register says by now."""
    if "seen" not in form.fields:
        return
    showed = _read(str(form.data.get(form.add_prefix(WAS), "")))
    data: Any = form.data
    form.data = data = data.copy()
    for bound in _visible(form):
        then, now, entered = showed.get(bound.name), _now(bound), _entered(bound)
        if then is None or then == now or now == entered:
            continue
        field: Any = bound.field
        if entered == then:
            field.meanwhile = _words(bound, then) or "nothing"
            _put(data, bound, now)
        else:
            field.theirs = _words(bound, now) or "nothing"
            field.take_theirs = json.dumps([bound.html_name, _keys(bound, now)], ensure_ascii=False)
    form.shown_anew = True  # type: ignore[attr-defined]  # for `was`
    data[form.add_prefix("seen")] = str(form.initial.get("seen", data.get(form.add_prefix("seen"), "")))


def take_what_is_ticked(get_response):
    """Middleware: what was ticked of the other's is what was sent."""

    def middleware(request):
        if request.method == "POST" and THEIRS in request.POST:
            request.POST = take_theirs(request.POST)
        return get_response(request)

    return middleware


def take_theirs(data: QueryDict) -> QueryDict:
    """What was sent, with the other's value in each field that is ticked so."""
    if THEIRS not in data:
        return data
    chosen = data.copy()
    for ticked in chosen.pop(THEIRS):
        try:
            name, keys = json.loads(ticked)
            found = {str(key): [str(value) for value in values] for key, values in keys.items()}
        except (ValueError, TypeError, AttributeError):
            raise BadRequest("What is ticked cannot be read.") from None
        _clear(chosen, str(name))
        for key, values in found.items():
            chosen.setlist(key, values)
    return chosen


def _visible(form: forms.BaseForm) -> Iterator[forms.BoundField]:
    return (bound for bound in form if not bound.is_hidden and not isinstance(bound.field, forms.FileField))


def _now(bound: forms.BoundField) -> Values:
    initial = bound.form.get_initial_for_field(bound.field, bound.name)
    return _plain(bound, bound.field.prepare_value(initial))


def _entered(bound: forms.BoundField) -> Values:
    sent = bound.field.widget.value_from_datadict(bound.form.data, bound.form.files, bound.html_name)
    return _plain(bound, sent)


def _plain(bound: forms.BoundField, value: Any) -> Values:
    """As a browser sends it, whatever it is; blank is nothing."""
    widget = bound.field.widget
    if isinstance(widget, forms.CheckboxInput):
        return ["on"] if widget.check_test(value) else []
    told = widget.format_value(value)
    several = told if isinstance(told, (list, tuple)) else [told]
    return [text for each in several if each is not None and (text := str(each).replace("\r\n", "\n").strip())]


def _read(text: str) -> dict[str, Values]:
    try:
        found = json.loads(text)
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}


def _words(bound: forms.BoundField, values: Values) -> str:
    """As a person reads it: the label of a choice, not what stands behind it."""
    if isinstance(bound.field.widget, forms.CheckboxInput):
        return "yes" if values else "no"
    choices = getattr(bound.field, "choices", ())
    labels = {str(value): str(label) for value, label in choices} if choices else {}
    return ", ".join(labels.get(value, value) for value in values)


def _keys(bound: forms.BoundField, values: Values) -> dict[str, Values]:
    """Under which names a browser would send them."""
    name, widget = bound.html_name, bound.field.widget
    if isinstance(widget, forms.CheckboxSelectMultiple):
        return {f"{name}-{number}": [value] for number, value in enumerate(values)}
    return {name: values} if values or not isinstance(widget, forms.CheckboxInput) else {}


def _put(data: Any, bound: forms.BoundField, values: Values) -> None:
    _clear(data, bound.html_name)
    for key, each in _keys(bound, values).items():
        data.setlist(key, each)


def _clear(data: Any, name: str) -> None:
    for key in [key for key in data if key == name or _is_tick_of(key, name)]:
        del data[key]


def _is_tick_of(key: str, name: str) -> bool:
    return key.startswith(f"{name}-") and key.removeprefix(f"{name}-").isdigit()
