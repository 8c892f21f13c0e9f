"""Tick boxes of which several may be ticked, days, and choices that are seen as pictures."""

from typing import Any

from django import forms
from django.utils import timezone

from parts.domain.plain import day

DeclaredFields = dict[str, Any]
"""The fields of a form under their names: each is of the kind that the form declares, which mypy cannot know."""


class CheckboxList(forms.CheckboxSelectMultiple):
    """Each box has a name of its own, as the HTML checkers want it: `surfaces-0`, `surfaces-1`, …"""

    def create_option(self, name, *args, **kwargs):
        option = super().create_option(name, *args, **kwargs)
        option["name"] = f"{name}-{option['index']}"
        return option

    def value_from_datadict(self, data, files, name):
        boxes = (key for key in data if key.startswith(f"{name}-") and key.removeprefix(f"{name}-").isdigit())
        return [value for key in boxes for value in data.getlist(key)]


class DayInput(forms.DateInput):
    """As a browser's own date field wants it, whatever is usual in the country."""

    def __init__(self) -> None:
        super().__init__({"type": "date", "class": "input-short"}, format="%Y-%m-%d")


class Seen(str):
    """What a choice says, with the name of the picture that is shown beside it."""

    picture: str


def seen(photo) -> Seen:
    label = Seen(photo.caption or f"of {day(timezone.localdate(photo.at))}")
    label.picture = photo.name
    return label


class SecretInput(forms.PasswordInput):
    """Hidden as it is typed, yet no password field: the browser of a shared tablet would offer to keep those, and
    to fill them in for whoever comes next."""

    input_type = "text"

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        hidden = {"class": "input-secret", "autocomplete": "off", "autocapitalize": "none", "spellcheck": "false"}
        super().__init__(hidden | (attrs or {}))
