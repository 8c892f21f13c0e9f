"""Fields in which a gloved hand names a thing of the register: by its tag, or by the words painted on it."""

from decimal import Decimal
from typing import Any

from django import forms
from django.forms.renderers import BaseRenderer
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from core.domain.refusals import Refused

from ..domain.figures import FigureError, read_figure
from ..domain.tagcodes import TagError, check, is_code
from ..models import Component, Location, Tag

MOST_OFFERED = 400


class WithChoicesBelow(forms.TextInput):
    """A line to type in, with the known names offered as one types."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"autocomplete": "off"} | (attrs or {}))
        self.offered: list[str] = []

    def render(
        self, name: str, value: Any, attrs: dict[str, Any] | None = None, renderer: BaseRenderer | None = None
    ) -> SafeString:
        if not self.offered:
            return super().render(name, value, attrs, renderer)
        listed = f"{(attrs or {}).get('id', name)}_offered"
        line = super().render(name, value, {**(attrs or {}), "list": listed}, renderer)
        options = format_html_join("", '<option value="{}"></option>', ((path,) for path in self.offered))
        return format_html('{}<datalist id="{}">{}</datalist>', line, listed, options)


class FigureField(forms.DecimalField):
    """A number as people type it: 2,450.50 or 12,5. One that could be read two ways is refused."""

    widget = forms.TextInput({"class": "input-short", "inputmode": "decimal", "autocomplete": "off"})

    def to_python(self, value: Any) -> Decimal | None:  # type: ignore[override]  # the stubs give it that of whole numbers
        if not isinstance(value, str) or not value.strip():
            return super().to_python(value)
        try:
            return read_figure(value, self.decimal_places or 0)
        except FigureError as trouble:
            raise forms.ValidationError(str(trouble) or self.error_messages["invalid"], code="invalid") from None


class LocationField(forms.CharField):
    """Where a thing goes: a crate's tag, its whole path, or any part of its name that only one place bears."""

    widget = WithChoicesBelow

    def offer(self) -> None:
        """Read the names to choose from; a form asks for it once it is shown."""
        self.widget.offered = list(Location.objects.in_use().values_list("path", flat=True)[:MOST_OFFERED])

    def clean(self, value: Any) -> Location | None:
        text = " ".join((super().clean(value) or "").split())
        if not text:
            return None
        found = Location.objects.meant_by(text)
        if len(found) == 1:
            return found[0]
        if not found:
            like = "; ".join(place.path for place in Location.objects.like(text))
            like = f"Nearest to it: {like}. " if like else ""
            raise forms.ValidationError(
                f"No place is called “{text[:60]}”. {like}Write part of its name, or the code on its tag."
            )
        some = "; ".join(place.path for place in found[:3])
        raise forms.ValidationError(f"“{text[:60]}” could be {some}. Write more of it.")


class PieceField(forms.CharField):
    """Another piece, by its tag."""

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.TextInput({"class": "input-code", "autocapitalize": "characters", "autocomplete": "off"})
        usual: dict[str, Any] = {"widget": widget, "max_length": 120}
        super().__init__(**usual | kwargs)

    def clean(self, value: Any) -> Component | None:
        text = super().clean(value)
        if not text:
            return None
        try:
            code = check(text)
        except TagError as trouble:
            raise forms.ValidationError(str(trouble)) from None
        tag = Tag.objects.select_related("component").filter(code=code).first()
        if tag is None or tag.component is None:
            raise forms.ValidationError("That tag is not tied to a piece.")
        return tag.component


class ThingField(PieceField):
    """A piece, a pattern or a place where things lie: by its tag, or a place by its name."""

    def clean(self, value: Any) -> Any:
        text = forms.CharField.clean(self, value)
        if text and not is_code(text):
            return LocationField(required=True).clean(text)
        if text:
            tag = Tag.objects.select_related("component", "location", "pattern").filter(code=check(text)).first()
            if tag and tag.thing:
                return tag.thing
            raise forms.ValidationError(
                "That tag is not tied to anything yet. Give the tag it carries now, or its name."
            )
        return None


FIELD_OF = {
    "look-again": "look_again",
    "weld": "procedure",
    "depended-on": "confirmed",
    "spare": "destination",
    "no-other": "other",
    "same-piece": "other",
    "other-state": "other",
    "same-place": "other",
    "tag": "code",
    "tag-tied": "code",
    "place-taken": "position",
    "place-retired": "position",
}
"""Where a refusal's code is not itself the name of the field it is about."""


def refuse(form: forms.Form, refused: Refused) -> None:
    """Put every refusal beside the field it is about, or at the top; nothing that was typed is lost."""
    form.passable = any(refusal.passable for refusal in refused.refusals)  # type: ignore[attr-defined]  # read by the page of an action
    for refusal in refused.refusals:
        field = FIELD_OF.get(refusal.code, refusal.code)
        sentence = refusal.sentence
        if field in form.fields and ": " in sentence:
            sentence = sentence.partition(": ")[2]
            sentence = sentence[:1].upper() + sentence[1:]
        form.add_error(field if field in form.fields else None, f"{sentence} {refusal.cure}".strip())


def shown(component: Component) -> int:
    """The number of the piece's last event: a form carries it, so that a late one is told who was quicker."""
    return component.last_event


def tag_code(help_text: str, **kwargs: Any) -> forms.CharField:
    widget = forms.TextInput({"class": "input-code", "autocapitalize": "characters", "autocomplete": "off"})
    return forms.CharField(label="Tag", help_text=help_text, max_length=120, widget=widget, required=False, **kwargs)


def whole(label: str, **kwargs: Any) -> forms.IntegerField:
    wrong = {"invalid": "Write a whole number.", "required": "Write how many.", "min_value": "Write 1 or more."}
    wrong |= {"max_value": "Enter at most 1,000,000."}
    widget = forms.NumberInput({"class": "input-short", "inputmode": "numeric"})
    return forms.IntegerField(
        label=label, min_value=1, max_value=1_000_000, error_messages=wrong, widget=widget, **kwargs
    )
