"""A signature on a shared tablet: whoever signs proves anew who they are, for somebody else may have left it there."""

from typing import TypeVar

from django import forms

from ..domain import pins
from ..web.widgets import SecretInput
from . import credentials, devices
from .throttle import TooSoon

FIELD = "signature"
FormOrNone = TypeVar("FormOrNone", bound=forms.Form | None)


def needs_signature(request, form: FormOrNone) -> FormOrNone:
    """On a shared tablet the form asks for the PIN too; on a person's own device it stays as it is.

    The PIN is checked with the other fields, so that a wrong one is said beside it and nothing that was typed is lost.
    It is gone from `cleaned_data` afterwards: what is signed does not carry it.
    """
    tablet = devices.tablet_of(request)
    if form is None or tablet is None:
        return form
    form.fields[FIELD] = SignatureField(request.user, tablet)
    clean = form.clean

    def and_forget():
        cleaned = clean()
        form.cleaned_data.pop(FIELD, None)
        return cleaned

    form.clean = and_forget  # type: ignore[method-assign]  # of this one form, whichever class it is of
    return form


class SignatureField(forms.CharField):
    """One's own PIN, password or card code."""

    asked = True

    def __init__(self, person, tablet):
        self.person, self.tablet = person, tablet
        has_pin = bool(person.pin)
        super().__init__(
            label="Your PIN" if has_pin else "Your password",
            help_text=f"{person}, this is your signature. Somebody else? Switch person first.",
            strip=False,
            required=False,
            max_length=200,
            widget=SecretInput({"inputmode": "numeric", "class": "input-secret input-pin"} if has_pin else {}),
        )

    def clean(self, value):
        typed = super().clean(value)
        word = "PIN" if self.person.pin else "password"
        if not typed:
            raise forms.ValidationError(f"Nothing was entered. Your {word} is your signature here.")
        try:
            if credentials.proves(self.person, typed, self.tablet.place):
                return ""
        except TooSoon as wait:
            raise forms.ValidationError(str(wait)) from None
        raise forms.ValidationError(f"This is not the {word} of {self.person}. Nothing was signed.")


def proves_at(person, typed: str, beside) -> str:
    """What is wrong with a second signature, given on the device of another person; empty if it is right."""
    try:
        if typed and credentials.proves(person, typed, f"the side of {beside.pk}"):
            return ""
    except TooSoon as wait:
        return str(wait)
    return f"This is not the {'PIN' if pins.is_pin(typed) else 'password'} of {person}."
