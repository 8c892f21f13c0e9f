"""Forms about people."""

from django import forms

from parts.domain.words import Kind, Method
from parts.ticks import Ticks

from .roles import Role

PASSWORD = forms.PasswordInput({"autocomplete": "new-password"})


class PersonForm(forms.Form):
    name = forms.CharField(
        label="Name",
        max_length=200,
        help_text="As it stands behind what the person signs.",
        error_messages={"required": "Nothing was written. It stands behind what the person signs."},
    )
    username = forms.CharField(
        label="Sign-in name",
        max_length=150,
        help_text="Letters and digits, no spaces.",
        widget=forms.TextInput({"autocomplete": "off", "autocapitalize": "none"}),
        error_messages={"required": "Nothing was written. Give the name to sign in with."},
    )
    roles = forms.MultipleChoiceField(
        choices=[(role.value, role.value) for role in Role],
        widget=Ticks,
        label="Roles",
        error_messages={"required": "None is chosen. Choose at least one; a trustee only reads."},
    )
    password = forms.CharField(label="Password", required=False, strip=False, widget=PASSWORD)

    def __init__(self, *args, person=None, **kwargs):
        if person is not None:
            kwargs["initial"] = {"name": str(person), "username": person.username, "roles": sorted(person.role_names)}
        super().__init__(*args, **kwargs)
        if person is not None:
            self.fields["password"].label = "A new password"


class AuthorisationForm(forms.Form):
    kind = forms.ChoiceField(choices=[(kind.value, kind.value) for kind in Kind], label="May sign")
    method = forms.ChoiceField(
        choices=[("", "no method")] + [(m.value, m.value) for m in Method if m is not Method.ANY],
        required=False,
        label="By which method",
        help_text="For a crack check.",
    )
    level = forms.CharField(
        label="Qualification and level", max_length=40, required=False, help_text="As on the certificate."
    )
    until = forms.DateField(label="Good until", required=False, widget=forms.DateInput({"type": "date"}))


class OwnPasswordForm(forms.Form):
    old = forms.CharField(
        label="The password you have now",
        strip=False,
        widget=forms.PasswordInput({"autocomplete": "current-password"}),
        error_messages={"required": "Enter the one you have now."},
    )
    new = forms.CharField(
        label="The new one", strip=False, widget=PASSWORD, error_messages={"required": "Enter a new one."}
    )
