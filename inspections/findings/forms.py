"""The form in which the engineer decides: all that a record found alike, or each indication by itself."""

from collections.abc import Mapping, Sequence

from django import forms

from core.domain.refusals import Refusal
from core.web.widgets import DeclaredFields
from parts.actions.forms import asked, line, text

from ..cracks.crack_record import told
from ..models import FindingDecision, Indication
from ..records.forms import CHOOSE

ACCEPT = FindingDecision.Decision.ACCEPT.value
CHOICES = FindingDecision.Decision.choices
ALL = 0


class Decide(forms.Form):
    """`barred` says by number of the indication (0: all of them) why it may not stand as it is."""

    fields: DeclaredFields
    use_required_attribute = False
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)
    decision = asked(
        forms.ChoiceField(
            label="Decision", required=False, choices=CHOICES, widget=forms.RadioSelect, error_messages=CHOOSE
        )
    )
    reason = asked(text("Reason"))

    def __init__(self, *args, shown: Sequence[Indication], barred: Mapping[int, list[Refusal]], made=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.shown, self.barred, self.made = shown, barred, made or {}
        if shown:
            self.fields["decision"].label = "All of them alike"
            self.fields["decision"].asked = False
        for one in shown:
            self.fields[f"decision-{one.number}"] = forms.ChoiceField(
                label=f"Decision on {one.number}", required=False, choices=CHOICES, widget=forms.RadioSelect,
                error_messages=CHOOSE,
            )  # fmt: skip
            self.fields[f"reason-{one.number}"] = line(f"A reason of its own for {one.number}", most=2000)

    def clean(self):
        super().clean()
        entered = self.cleaned_data
        of_all = entered.get("decision")
        each = [one for one in self.shown if entered.get(f"decision-{one.number}")]
        if not self.errors and not of_all and not each:
            self.add_error("decision", "None chosen. Choose one.")
        if of_all and each:
            self.add_error("decision", "All are decided alike here, and some by themselves below. Do one or the other.")
        for number in (ALL, *(one.number for one in self.shown)):
            name = "decision" if number == ALL else f"decision-{number}"
            if entered.get(name) == ACCEPT and (against := self.barred.get(number)):
                self.add_error(name, " ".join(f"{refusal.sentence} {refusal.cure}" for refusal in against))
        return entered

    def decisions(self) -> list[tuple[Indication | None, str, str]]:
        """As `decide_each` takes them; the common reason stands where none of its own is given."""
        entered = self.cleaned_data
        if entered["decision"]:
            return [(None, entered["decision"], entered["reason"])]
        return [
            (one, entered[f"decision-{one.number}"], entered[f"reason-{one.number}"] or entered["reason"])
            for one in self.shown
            if entered[f"decision-{one.number}"]
        ]

    def of_all(self) -> dict:
        return {"choice": self["decision"], "barred": self.barred.get(ALL, ())}

    def each(self) -> list[dict]:
        """Every indication with what was decided before, its own choice and reason, and why it may not stand."""
        return [
            {
                "shown": one,
                "words": told(one),
                "made": self.made.get(one.number),
                "choice": self[f"decision-{one.number}"],
                "reason": self[f"reason-{one.number}"],
                "barred": self.barred.get(one.number, ()),
            }
            for one in self.shown
        ]
