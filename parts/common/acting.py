"""One form for each action of the life cycle: only the fields that the action asks. What they must say is asked by
`domain/asks.py`, so that a form and a program are refused alike."""

from django import forms
from django.contrib.auth import get_user_model

from core.access import proves_at
from core.roles import who_may
from core.web.widgets import SecretInput

from ..domain.asks import NEVER_CHOSEN
from ..domain.rows import Given
from ..domain.words import Action, Destination, State
from .doing import look_again_default
from .fields import LocationField, PieceField

METHODS = ("paraffin and brush", "hot wash", "steam", "scraped and wire-brushed", "blasted")
"""Ways of cleaning offered for one tap. Common practice, no source."""

PROTECTIONS = ("oiled", "greased", "painted", "wrapped and boxed", "none needed")
"""Ways of keeping rust off that are offered. Common practice, no source."""


def asked(field: forms.Field) -> forms.Field:
    """The action itself refuses a form without it, so the form need not; the page must not say it may stay blank."""
    field.asked = True
    return field


def line(label: str, help_text: str = "", most: int = 200, **kwargs) -> forms.CharField:
    return forms.CharField(label=label, help_text=help_text, max_length=most, required=False, **kwargs)


def text(label: str, help_text: str = "") -> forms.CharField:
    return line(label, help_text, most=2000, widget=forms.Textarea({"rows": 3}))


def day(label: str, help_text: str = "") -> forms.DateField:
    wrong = {"invalid": "Write the day as the calendar offers it, or like 2027-03-31."}
    widget = forms.DateInput({"type": "date", "class": "input-short"}, format="%Y-%m-%d")
    return forms.DateField(label=label, help_text=help_text, required=False, widget=widget, error_messages=wrong)


class ActionForm(forms.Form):
    """What every action carries: the piece's last event as the page knew it."""

    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args, case, component, actor, **kwargs):
        super().__init__(*args, **kwargs)
        self.case, self.component, self.actor = case, component, actor
        self.fit()

    def fit(self) -> None:
        """Where the fields depend on the piece or on the person."""

    def given(self) -> Given:
        said = {name: self.cleaned_data[name] for name in Given.__dataclass_fields__ if name in self.cleaned_data}
        return Given(**{name: value for name, value in said.items() if value is not None})

    def described(self) -> dict:
        """What is written down about the piece in the same breath."""
        return {}


class Nothing(ActionForm):
    """The action asks nothing but itself."""


class Clean(ActionForm):
    """One button for each usual way; the line below them is for any other, and what is written there counts."""

    method = forms.CharField(max_length=60, required=False, widget=forms.HiddenInput)
    method_other = line("Another way", "If none of these fits, write how.", most=60)

    ways = METHODS

    def clean(self):
        said = super().clean()
        said["method"] = said.get("method_other") or said.get("method", "")
        return said

    def add_error(self, field, error):
        super().add_error("method_other" if field == "method" else field, error)


class Strip(ActionForm):
    marks = line("Marks found on it", "Stamped numbers, punch marks, painted words, as they stand.")
    way_round = line("Which way round it was", "Top, front, which face outward.")
    packing = line("Packing and shims as found", "How many, how thick, where.")
    location = LocationField(label="Where it goes now", help_text="A crate's tag, or its name.", required=False)

    def fit(self):
        self.fields["location"].offer()

    def described(self):
        found = {name: self.cleaned_data.get(name, "") for name in ("marks", "way_round", "packing")}
        return {name: value for name, value in found.items() if value}


class Reason(ActionForm):
    reason = asked(text("Reason"))


class Accept(ActionForm):
    protection = asked(
        forms.ChoiceField(
            label="Protection applied",
            choices=[(way, way.capitalize()) for way in PROTECTIONS] + [("other", "Another way, written below")],
            widget=forms.RadioSelect,
            required=False,
            help_text="What keeps it from rusting until it goes on.",
            error_messages={"invalid_choice": "Choose one of these."},
        )
    )
    protection_other = line("Another way", most=100)
    look_again = asked(day("Look again on", "Somebody looks at it again by this day, if it has not gone on by then."))

    def fit(self):
        self.fields["look_again"].initial = look_again_default(self.case.today)

    def clean(self):
        said = super().clean()
        if said.get("protection") in ("", None, "other"):
            said["protection"] = said.get("protection_other", "")
        return said


class FinishRepair(ActionForm):
    work = asked(text("Work done", "What was built up, bushed, straightened, machined, and how far."))
    who = asked(line("By whom", "The person or firm that did the work.", most=120))
    procedure = line("Weld procedure", "Only if it was welded.", most=120)
    welder = line("Welder", "Only if it was welded.", most=120)


class Refit(ActionForm):
    """A safety-critical piece takes two names; the second one signs with the own password."""

    def fit(self):
        if not (self.case.place and self.case.place.safety_critical):
            return
        checkers = {*who_may("refit"), *who_may("examine")}
        others = get_user_model().objects.filter(is_active=True, groups__name__in=checkers).exclude(pk=self.actor.pk)
        self.fields["checker"] = asked(
            forms.ModelChoiceField(
                others.distinct(),
                label="Checker",
                required=False,
                empty_label="Who has checked it with you",
                help_text="A safety-critical piece takes two names: you who fit it, and somebody who checks.",
                error_messages={"invalid_choice": "Choose somebody from the list."},
            )
        )
        self.fields["checker_password"] = asked(
            forms.CharField(
                label="The checker's own password or PIN",
                required=False,
                strip=False,
                widget=SecretInput(),
                help_text="The checker types it: that is the second signature.",
            )
        )

    def clean(self):
        said = super().clean()
        checker = said.get("checker")
        if checker and (wrong := proves_at(checker, said.get("checker_password", ""), beside=self.actor)):
            self.add_error("checker_password", f"{wrong} The checker types it anew.")
        if "checker" in self.fields:
            said["checker"] = checker.pk if checker else None
        return said


class SendBack(ActionForm):
    to = asked(
        forms.ChoiceField(
            label="Back to",
            required=False,
            widget=forms.RadioSelect,
            error_messages={"invalid_choice": "Choose one of these."},
        )
    )
    reason = asked(text("Reason"))

    def fit(self):
        cleaned = self.component.state == State.CLEANED
        earlier = [State.STRIPPED] if cleaned else [State.STRIPPED, State.CLEANED]
        words = {State.STRIPPED: "Stripped: to be cleaned again", State.CLEANED: "Cleaned: to be looked at again"}
        self.fields["to"].choices = [(state.value, words[state]) for state in earlier]
        self.fields["to"].initial = earlier[0].value if cleaned else None


class Withdraw(ActionForm):
    destination = asked(
        forms.ChoiceField(
            label="Where it goes",
            required=False,
            widget=forms.RadioSelect,
            error_messages={"invalid_choice": "Choose one of these."},
        )
    )
    reason = asked(text("Reason"))

    def fit(self):
        left_out = {*NEVER_CHOSEN} | ({Destination.SPARE} if self.case.piece.cracked else set())
        self.fields["destination"].choices = [(d.value, d.capitalize()) for d in Destination if d not in left_out]
        depended = self.case.piece.depended_on
        if depended:
            self.fields["confirmed"] = forms.BooleanField(
                label="I have read what depends on it", required=False, help_text=" ".join(depended)
            )


class ChangePlaces(ActionForm):
    other = asked(PieceField(label="Tag of the other piece", required=False))
    reason = asked(text("Reason"))


FORMS: dict[Action, type[ActionForm]] = {
    Action.STRIP: Strip,
    Action.BREAK_DOWN: Nothing,
    Action.CLEAN: Clean,
    Action.CRACK_CHECK: Nothing,
    Action.ACCEPT: Accept,
    Action.PASS: Accept,
    Action.FINISH_REPAIR: FinishRepair,
    Action.REFIT: Refit,
    Action.OFFER_UP: Nothing,
    Action.TAKE_OFF: Reason,
    Action.LEAVE_ALONE: Reason,
    Action.SEND_BACK: SendBack,
    Action.WITHDRAW: Withdraw,
    Action.BRING_BACK: Reason,
    Action.CHANGE_PLACES: ChangePlaces,
    Action.CONFIRM: Reason,
}


def override_field() -> forms.CharField:
    help_text = "Only what the responsible engineer may pass is passed, and this reason is kept with it."
    return asked(text("Why it is done all the same", help_text))
