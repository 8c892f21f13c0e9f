"""Forms about people."""

from django import forms

from core.accounts import credentials, devices
from core.accounts.throttle import TooSoon
from core.domain import codes
from core.roles import Role
from core.web.widgets import CheckboxList, DayInput, DeclaredFields, SecretInput
from parts.actions.forms import asked
from parts.domain.words import Kind, Method

PASSWORD = forms.PasswordInput({"autocomplete": "new-password"})
FIGURES = {"inputmode": "numeric", "class": "input-secret input-pin"}


class PersonForm(forms.Form):
    name = forms.CharField(
        label="Name",
        max_length=150,
        help_text="As it stands behind what the person signs.",
        error_messages={"required": "Nothing was written. It is printed on what the person signs."},
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
        widget=CheckboxList,
        label="Roles",
        error_messages={"required": "Choose at least one; a trustee only reads."},
    )
    password = forms.CharField(label="Password", required=False, strip=False, widget=PASSWORD)

    def __init__(self, *args, person=None, **kwargs):
        if person is not None:
            kwargs["initial"] = {"name": str(person), "username": person.username, "roles": sorted(person.role_names)}
        super().__init__(*args, **kwargs)
        if person is not None:
            self.fields["password"].label = "A new password"
        else:
            self.fields["password"] = asked(self.fields["password"])
            self.fields["password"].help_text = "A first one; the person can change it."


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
    until = forms.DateField(label="Good until", required=False, widget=DayInput())


class ProvedForm(forms.Form):
    """A form about oneself that asks first who is there: a phone may have been left unlocked."""

    wait = 0
    old = forms.CharField(strip=False, max_length=200, error_messages={"required": "Enter the one you have now."})

    def __init__(self, *args, request, **kwargs):
        super().__init__(*args, **kwargs)
        self.person, self.place = request.user, f"the own page, {devices.address_of(request)}"
        self.fields["old"].label = self.asks_for()
        shared = devices.tablet_of(request) is not None
        self.fields["old"].widget = (
            SecretInput() if shared else forms.PasswordInput({"autocomplete": "current-password"})
        )
        self.order_fields(["old"])

    def asks_for(self) -> str:
        has = [
            word for word, there in (("password", self.person.has_usable_password()), ("PIN", self.person.pin)) if there
        ]
        return f"The {' or the '.join(has) or 'card code'} you have now"

    def proven(self, typed: str) -> bool:
        return credentials.proves(self.person, typed, self.place)

    def clean_old(self):
        try:
            if self.proven(self.cleaned_data["old"]):
                return ""
        except TooSoon as wait:
            self.wait = wait.seconds
            raise forms.ValidationError(str(wait)) from None
        raise forms.ValidationError("That is not the one you have now. Capitals count.")


class OwnPasswordForm(ProvedForm):
    """A password opens the account from anywhere, a PIN or a card only at a shared tablet: so neither sets one (OWASP
    ASVS 5.0, 6.2.3)."""

    new = forms.CharField(
        label="The new one", strip=False, widget=PASSWORD, error_messages={"required": "Enter a new one."}
    )

    def asks_for(self) -> str:
        return "The password you have now"

    def proven(self, typed: str) -> bool:
        return credentials.proves_by_password(self.person, typed, self.place)


class OwnPinForm(ProvedForm):
    pin = forms.CharField(
        label="The new PIN",
        max_length=20,
        help_text="Four to six figures, for the shared tablets; not 1234, a year or the like.",
        widget=SecretInput(FIGURES),
        error_messages={"required": "Enter four to six figures."},
    )


class PinForm(forms.Form):
    """The second tap on a shared tablet."""

    proof = forms.CharField(strip=False, max_length=200)

    def __init__(self, *args, person, by_password: bool, **kwargs):
        super().__init__(*args, **kwargs)
        word = "password" if by_password else "PIN"
        self.wrong = f"That is not the {word} of {person}."
        field = self.fields["proof"]
        field.label = f"Your {word}"
        field.error_messages["required"] = f"Enter your {word}."
        field.widget = SecretInput({"autofocus": True} | ({} if by_password else FIGURES))


class CardForm(forms.Form):
    code = forms.CharField(
        label="The code on the card",
        max_length=200,
        help_text="Sixteen characters, or scan it into this line.",
        widget=forms.TextInput(
            {"class": "input-code input-long", "autocapitalize": "characters", "autocomplete": "off"}
        ),
        error_messages={"required": "Type the code on the card."},
    )

    def clean_code(self):
        code = codes.read(self.cleaned_data["code"])
        if not code:
            raise forms.ValidationError("A card's code has sixteen characters. Look at the card again.")
        return code


class JoinCodeForm(CardForm):
    pass


class TabletForm(forms.Form):
    name = forms.CharField(
        label="What it is called",
        max_length=60,
        help_text="Such as: bench tablet. People read it at the top of the tiles.",
        error_messages={"required": "Nothing was written. Say which one it is, such as bench tablet."},
    )


DAYS = [(1, "one day"), (3, "three days"), (7, "a week"), (14, "two weeks"), (30, "a month")]


class InviteForm(forms.Form):
    fields: DeclaredFields
    key = forms.CharField(widget=forms.HiddenInput, max_length=40)
    name = forms.CharField(
        label="Name",
        max_length=150,
        required=False,
        help_text="Whose card it is. Whoever uses it may still write it otherwise.",
    )
    roles = forms.MultipleChoiceField(
        widget=CheckboxList,
        label="Roles",
        initial=["volunteer"],
        error_messages={
            "required": "Choose at least one; a trustee only reads.",
            "invalid_choice": "Choose from the list: other roles the works manager gives out.",
        },
    )
    days = forms.TypedChoiceField(coerce=int, choices=DAYS, initial=14, label="Good for")

    def __init__(self, *args, roles, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["roles"].choices = [(role, role) for role in roles]

    def entered(self) -> dict:
        entered = dict(self.cleaned_data)
        return {"form_key": entered.pop("key"), **entered}


class JoinForm(forms.Form):
    name = forms.CharField(
        label="Your name",
        max_length=150,
        help_text="As it stands behind what you do and sign.",
        widget=forms.TextInput({"autocomplete": "name"}),
        error_messages={"required": "Nothing was written. It is printed on what you do and sign."},
    )
    username = forms.CharField(
        label="Sign-in name",
        max_length=150,
        help_text="Short, letters and digits, no spaces. You type it to sign in.",
        widget=forms.TextInput({"autocomplete": "username", "autocapitalize": "none"}),
        error_messages={"required": "Nothing was written. Choose the name you sign in with."},
    )
    password = forms.CharField(
        label="Password",
        required=False,
        strip=False,
        max_length=200,
        help_text="For your own phone or computer: eight characters or more.",
        widget=PASSWORD,
    )
    pin = forms.CharField(
        label="PIN",
        required=False,
        max_length=20,
        help_text="For the shared tablets in the shed: four to six figures.",
        widget=SecretInput(FIGURES),
    )
