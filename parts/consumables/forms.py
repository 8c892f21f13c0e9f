"""Small forms of consumables. What they must say the writers ask."""

from django import forms

from parts.actions.fields import LocationField
from parts.actions.forms import asked, day, line
from parts.common.small_forms import SeenForm
from parts.models import Consumable, Firm


def how_many(label: str, help_text: str = "", least: int = 1) -> forms.IntegerField:
    wrong = {"invalid": "Write a whole number.", "min_value": f"Write {least} or more."}
    return forms.IntegerField(
        label=label, help_text=help_text, required=False, min_value=least, max_value=1_000_000, error_messages=wrong,
        widget=forms.NumberInput({"class": "input-short", "inputmode": "numeric"}),
    )  # fmt: skip


class ConsumableForm(SeenForm):
    name = asked(line("What it is", "Such as: cylinder cover joint, split pin, worsted.", most=120))
    size = line("Size", "As one asks for it in a shop or a works.", most=120)
    unit = line("Counted in", "Such as m or kg. Blank: counted singly.", most=12)
    least = how_many("Least stock", "Order more when there are fewer than this.", least=0)
    location = LocationField(label="Stock place", required=False)
    note = line("Note", most=300)

    def offer(self) -> None:
        """The places to choose from; asked for once the form is shown."""
        field = self.fields["location"]
        assert isinstance(field, LocationField)
        field.offer()


class AddConsumable(ConsumableForm):
    in_stock = how_many("In stock now", least=0)


class Quantity(SeenForm):
    quantity = asked(how_many("How many"))
    why = line("What for", "The place or the job.", most=300)


class ArrivedForm(SeenForm):
    quantity = asked(how_many("How many came", "What did not come stays on order."))


class CountForm(SeenForm):
    quantity = asked(how_many("How many are there", least=0))
    why = line("Remark", most=300)


class OrderConsumableForm(SeenForm):
    quantity = asked(how_many("How many"))
    firm = asked(forms.ModelChoiceField(
        Firm.objects.in_use(), label="Firm", required=False, empty_label="None of these",
        help_text="Choose one, or write the name below.",
        error_messages={"invalid_choice": "Choose a firm from the list."},
    ))  # fmt: skip
    who = asked(line("Or of whom", "A shop that is not in the register.", most=120))
    promised = day("Promised for")


class WantForm(forms.Form):
    use_required_attribute = False
    consumable = forms.ModelChoiceField(
        Consumable.objects.in_use().order_by("name", "size"), empty_label="Choose one",
        error_messages={"required": "Choose a consumable.", "invalid_choice": "Choose one of these."},
    )  # fmt: skip
    quantity = asked(how_many("How many", "Each time this place goes together. 0: the place takes none.", least=0))
