"""The form of a decision: what is decided and why, the ways weighed side by side, and what the action needs."""

from django import forms

from core.models import Event
from core.web.widgets import CheckboxList, DeclaredFields, seen
from parts.actions.fields import whole
from parts.actions.forms import PROTECTIONS, asked, day, line, text
from parts.common.small_forms import ByWhom, chosen, currency, number
from parts.domain.deciding import outcomes
from parts.domain.input_checks import NEVER_CHOSEN, is_lot_under_pressure
from parts.domain.job_words import OF_AN_EMPTY_PLACE, Outcome, RepairMethod, TimeUnit
from parts.domain.plain import capital
from parts.domain.preconditions import not_cracked
from parts.domain.rows import ActionInput
from parts.domain.words import Destination, State
from parts.models import Firm, Photo

from ..writers.decisions import Following, Weighed
from .jobs import route_choices

SAYS = {
    Outcome.ACCEPT: "Accept it as it is: found good for its place",
    Outcome.CONCESSION: "Accept it under the concession that is recorded beside the measurement",
    Outcome.REPAIR: "Repair it: work on the old piece, which is examined again afterwards",
    Outcome.RENEW: "Renew it: set out on the way to a new one",
    Outcome.WITHDRAW: "Withdraw it: out of this overhaul",
    Outcome.LEAVE: "Leave it as it is, this time",
}
WHOLE_SAYS = {
    Outcome.RENEW: "Renew all: begin a renewal for each place",
    Outcome.LEAVE: "Leave all empty: no longer required",
}
COMES_TO = {
    Outcome.REPAIR.value: "a repair of the old piece",
    Outcome.RENEW.value: "a new piece",
    Outcome.ACCEPT.value: "accepting it as it is",
    Outcome.WITHDRAW.value: "withdrawing it",
    Outcome.LEAVE.value: "leaving it",
}
OPTIONS_OFFERED = 3
LOT = ("lot_examined", "lot_sample", "lot_certificate")
"""What accepting a lot under pressure wants to know besides."""
REPAIR = ("method", "what", "firm", "who", "ordered", "promised")


class OptionForm(forms.Form):
    """One way that was weighed; left blank, it was none."""

    fields: DeclaredFields
    use_required_attribute = False
    what = line("What would be done")
    estimate = number("Cost, estimated")
    currency = currency()
    takes = forms.IntegerField(
        label="Takes", required=False, min_value=0, max_value=9999,
        widget=forms.NumberInput({"class": "input-short", "inputmode": "numeric"}),
        error_messages={"invalid": "Write a whole number.", "max_value": "That is too long. Write it in months."},
    )  # fmt: skip
    unit = forms.ChoiceField(label="Counted in", choices=[(u.value, u.value) for u in TimeUnit], required=False)
    firm = forms.ModelChoiceField(Firm.objects.none(), label="Firm", required=False, empty_label="None")
    who = line("Or who would do it", most=120)
    risk = line("Risk", "What could go wrong, and how it would be seen.", most=1000)
    keeps = line("Original material kept")
    keeps_percent = forms.IntegerField(
        label="That is, in per cent", required=False, min_value=0, max_value=100,
        widget=forms.NumberInput({"class": "input-short", "inputmode": "numeric"}),
        error_messages={"max_value": "Write 0 to 100.", "min_value": "Write 0 to 100."},
    )  # fmt: skip
    comes_to = forms.ChoiceField(label="This way is", choices=[("", "Choose one"), *COMES_TO.items()], required=False)
    chosen = forms.BooleanField(label="This is the way chosen", required=False)

    def __init__(self, data=None, *, number, firms, **kwargs):
        super().__init__(data, prefix=f"option{number}", **kwargs)
        self.number = number
        for field in self.fields.values():
            field.asked = True  # the page says once that a way may be left blank
        self.fields["firm"].queryset = firms

    def clean(self):
        entered = super().clean() or self.cleaned_data
        if entered.get("chosen") and not entered.get("comes_to"):
            self.add_error("comes_to", "Say what the way chosen is, so that it and the decision agree.")
        return entered

    def weighed(self) -> Weighed | None:
        entered = self.cleaned_data
        if not any(entered[name] for name in entered if name not in ("currency", "unit", "comes_to")):
            return None
        entered = entered | {
            "currency": (entered["currency"] or "GBP").upper(),
            "unit": entered["unit"] or TimeUnit.WEEKS.value,
        }
        return Weighed(**entered)


class DecideForm(ByWhom):
    """Only the fields of what is decided are read; the page shows only those, where the browser can."""

    outcome = chosen("Decided", [])
    provisional = forms.BooleanField(
        label="Only provisionally", required=False, help_text="It is noted, and nothing happens until it is decided."
    )
    reason = asked(text("Reason"))
    protection = forms.ChoiceField(
        label="Protection applied", choices=[("", "Choose one"), *((way, way) for way in PROTECTIONS)], required=False
    )
    look_again = day("Look again on", "Somebody looks at it again by this day, if it has not gone on by then.")
    lot_examined = asked(whole("How many were examined", required=False))
    lot_sample = line("If not all of them: how those were chosen", most=200)
    lot_certificate = asked(line("Certificate of the lot", "Its number."))
    method = forms.ChoiceField(
        label="Method", choices=[("", "Choose one"), *((m.value, m.value) for m in RepairMethod)], required=False
    )
    what = line("What is done", "Where on it, and how far.", most=300)
    ordered = day("Ordered on")
    promised = day("Promised for")
    route = forms.ChoiceField(label="Route to a new one", required=False)
    quantity = whole("How many are renewed", required=False)
    withdraw_now = forms.BooleanField(
        label="The old piece is withdrawn at once", required=False,
        help_text="Otherwise it fills its place until the new one is there.",
    )  # fmt: skip
    destination = forms.ChoiceField(label="Where the old piece goes", required=False)
    override = line(
        "Why it may go with no size taken",
        "Take the sizes for its successor first, on its page. Give a reason here only if none are needed.",
    )
    confirmed = forms.BooleanField(label="I have read what depends on it", required=False)
    examined = forms.MultipleChoiceField(label="Examinations it rests on", required=False, widget=CheckboxList)
    photos = forms.MultipleChoiceField(label="Photos it rests on", required=False, widget=CheckboxList)

    def __init__(self, *args, case, pictures, records, **kwargs):
        super().__init__(*args, **kwargs)
        self.piece, self.place = case.piece, case.place
        kinds = outcomes(self.piece)
        if self.piece and self.piece.state is not State.IN_PLACE:
            kinds = tuple(kind for kind in kinds if kind is not Outcome.LEAVE)
        if self.piece and not any(size.outside for size in self.piece.dimensions):
            kinds = tuple(kind for kind in kinds if kind is not Outcome.CONCESSION)
        if self.piece and (never := not_cracked(case)):
            kinds = tuple(kind for kind in kinds if kind not in (Outcome.ACCEPT, Outcome.CONCESSION))
            self.fields["outcome"].help_text = never.sentence
        self.fields["outcome"].choices = [(kind.value, self._says(kind)) for kind in kinds]
        self.fields["route"].choices = [("", "Choose one"), *route_choices()]
        left_out = {*NEVER_CHOSEN} | ({Destination.SPARE} if self.piece and self.piece.cracked else set())
        goes = [(d.value, d.value) for d in Destination if d not in left_out]
        self.fields["destination"].choices = [("", "Choose one"), *goes]
        self.fields["examined"].choices = records
        self.fields["photos"].choices = [(photo.pk, seen(photo)) for photo in pictures]
        self._ask_for_what_is_decided()
        self._leave_out(records, pictures)
        if self.piece and is_lot_under_pressure(self.place, self.piece.quantity):
            self.fields["lot_examined"].help_text = f"Of the {self.piece.quantity} in this lot."
        else:
            for name in LOT:
                del self.fields[name]

    def _says(self, kind):
        if self.piece is None and kind is Outcome.LEAVE:
            return "Leave the place empty: it is no longer required"
        return SAYS[kind]

    def _ask_for_what_is_decided(self):
        for name in ("protection", "look_again", "method", "what", "route", "destination"):
            self.fields[name].asked = True  # of what is decided; the page shows no other

    def _leave_out(self, records, pictures):
        """What says nothing about this piece or place."""
        gone = [name for name, there in (("examined", records), ("photos", pictures)) if not there]
        if self.piece is None:
            gone += ["protection", "look_again", *REPAIR, "withdraw_now", "destination", "override"]
            gone += ["confirmed", "examined"]
        elif not self.piece.depended_on:
            gone.append("confirmed")
        else:
            self.fields["confirmed"].help_text = " ".join(self.piece.depended_on)
        if self.place is None or self.place.quantity == 1:
            gone.append("quantity")
        for name in dict.fromkeys(gone):
            self.fields.pop(name, None)

    def clean(self):
        entered = super().clean() or self.cleaned_data
        good = entered.get("outcome") in (Outcome.ACCEPT, Outcome.CONCESSION) and not entered.get("provisional")
        if good and "lot_examined" in self.fields:
            self._ask_of_lot(self.piece.quantity, entered.get("lot_examined") or 0)
        return entered

    def _ask_of_lot(self, lot: int, examined: int) -> None:
        if not 1 <= examined <= lot:
            self.add_error("lot_examined", f"Write a number from 1 to {lot}.")
        elif examined < lot and not self.cleaned_data.get("lot_sample"):
            self.add_error("lot_sample", "Say how those were chosen.")
        if not self.cleaned_data.get("lot_certificate"):
            self.add_error("lot_certificate", "Give the number of the lot's certificate.")

    def following(self) -> Following:
        entered = self.cleaned_data
        return Following(
            given=ActionInput(
                protection=entered.get("protection", ""),
                look_again=entered.get("look_again"),
                destination=entered.get("destination", ""),
                confirmed=entered.get("confirmed", False),
                override=entered.get("override", ""),
                more={name.removeprefix("lot_"): entered.get(name) for name in LOT if name in self.fields},
            ),
            repair={name: entered[name] for name in REPAIR if name in entered},
            route=entered.get("route", ""),
            quantity=entered.get("quantity"),
            withdraw_now=entered.get("withdraw_now", False),
        )

    def rests_on(self) -> dict:
        entered = self.cleaned_data
        return {
            "examined": list(Event.objects.filter(pk__in=entered.get("examined", ()))),
            "photos": list(Photo.objects.filter(pk__in=entered.get("photos", ()))),
        }


class WholeForm(forms.Form):
    """One decision over all that is missing of a subassembly."""

    fields: DeclaredFields
    use_required_attribute = False
    outcome = chosen("Decided", [(kind.value, WHOLE_SAYS[kind]) for kind in OF_AN_EMPTY_PLACE])
    route = chosen("Route", [], "Of each new piece. Its steps can be changed afterwards.")
    reason = asked(text("Why"))
    provisional = forms.BooleanField(label="Only note it: the responsible engineer decides", required=False)
    places = asked(forms.TypedMultipleChoiceField(label="Places", required=False, coerce=int, widget=CheckboxList))

    def __init__(self, data=None, *, missing, **kwargs):
        ticked = [place.pk for place in missing]
        super().__init__(data, initial={"places": ticked} | kwargs.pop("initial", {}), **kwargs)
        self.fields["route"].choices = route_choices()
        self.fields["places"].choices = [(place.pk, capital(place.words)) for place in missing]
