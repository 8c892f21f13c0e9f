"""Forms of the structure: subassemblies, their order, and positions."""

from typing import Any

from django import forms

from core.web.widgets import CheckboxList, DeclaredFields, seen
from parts.actions.forms import asked, line, text
from parts.common.small_forms import chosen
from parts.domain.job_words import EvidenceKind

from ..domain.words import Kind, Method, Side
from ..models import Position, Subassembly

METHODS = [("", "none called for")] + [(m.value, "any method" if m is Method.ANY else m.value) for m in Method]
SIDES = [("", "neither"), (Side.LH.value, "LH"), (Side.RH.value, "RH")]
FURTHER = [(kind.value, kind.value) for kind in Kind if kind is not Kind.CRACK_CHECK]


class After(forms.ModelMultipleChoiceField):
    """What something goes on after, ticked from the subassemblies of its locomotive."""

    def __init__(self, **kwargs):
        usual: dict[str, Any] = {"required": False, "widget": CheckboxList, "label": "Goes on after"}
        super().__init__(Subassembly.objects.none(), **usual | kwargs)


class SubassemblyForm(forms.Form):
    fields: DeclaredFields
    name = forms.CharField(
        label="Name", max_length=120, error_messages={"required": "Nothing was written. Name the subassembly."}
    )
    parent = forms.ModelChoiceField(
        Subassembly.objects.none(), required=False, label="Part of", empty_label="the whole locomotive"
    )
    after = After()

    def __init__(self, *args, locomotive, **kwargs):
        super().__init__(*args, **kwargs)
        there = locomotive.subassemblies.in_use()
        self.fields["parent"].queryset = there
        self.fields["after"].queryset = there


class EditSubassemblyForm(forms.Form):
    fields: DeclaredFields
    name = forms.CharField(
        label="Name", max_length=120, error_messages={"required": "Nothing was written. Name the subassembly."}
    )

    parent = forms.ModelChoiceField(
        Subassembly.objects.none(), required=False, label="Part of", empty_label="the whole locomotive"
    )
    follows = forms.ModelChoiceField(
        Subassembly.objects.none(), required=False, label="Stands after", empty_label="nothing: it is the first"
    )

    def __init__(self, data=None, *, subassembly, follows, **kwargs):
        given = {"name": subassembly.name, "parent": subassembly.parent_id, "follows": follows}
        super().__init__(data, initial=given, **kwargs)
        others = subassembly.locomotive.subassemblies.in_use().exclude(pk=subassembly.pk)
        self.fields["parent"].queryset = others
        self.fields["follows"].queryset = others.filter(parent=subassembly.parent_id)


class AssemblyOrderForm(forms.Form):
    """What a subassembly, or one place in its own right, goes on after. `read` names the choice whose consequences the
    person has read."""

    fields: DeclaredFields
    after = After()
    read = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, data=None, *, thing, **kwargs):
        super().__init__(data, initial={"after": [edge.after_id for edge in thing.goes_on_after.all()]}, **kwargs)
        own = thing.pk if isinstance(thing, Subassembly) else thing.subassembly_id
        self.fields["after"].queryset = thing.locomotive.subassemblies.in_use().exclude(pk=own)

    def named(self) -> str:
        return "read " + " ".join(str(sub.pk) for sub in sorted(self.cleaned_data["after"], key=lambda sub: sub.pk))

    def now_read(self) -> None:
        """The page that is shown now tells what follows from this choice."""
        sent: Any = self.data  # as it came, several values under one name
        sent = sent.copy()
        sent["read"] = self.named()
        self.data = sent


class Lines(forms.CharField):
    """Several words, one a line."""

    widget = forms.Textarea({"rows": 3})

    def prepare_value(self, value):
        return value if isinstance(value, str) else "\n".join(value or ())

    def clean(self, value):
        text = super().clean(value) or ""
        return list(dict.fromkeys(" ".join(line.split()) for line in text.splitlines() if line.strip()))


class PositionForm(forms.Form):
    """Every thing that a place says of itself, in plain words."""

    fields: DeclaredFields
    name = forms.CharField(
        label="Name", max_length=120, error_messages={"required": "Nothing was written. Name the place."}
    )
    side = forms.ChoiceField(
        choices=SIDES,
        required=False,
        widget=forms.RadioSelect,
        label="Side",
        help_text="Looking forward from the footplate.",
    )
    axle = forms.CharField(label="Axle", max_length=60, required=False, help_text="Such as leading, driving, trailing.")
    end = forms.CharField(label="End", max_length=40, required=False, help_text="Such as front, rear, top.")
    inside = forms.ChoiceField(
        choices=[("", "not said"), ("inside", "inside"), ("outside", "outside")],
        required=False,
        label="Inside or outside",
    )
    subassembly = forms.ModelChoiceField(
        Subassembly.objects.none(),
        label="Belongs to",
        required=False,
        empty_label=None,
        help_text="In another subassembly it takes the places inside it along.",
    )
    part_of = forms.ModelChoiceField(
        Position.objects.none(),
        required=False,
        label="Part of",
        empty_label="no built-up piece",
        help_text="A wheelset, a rod, an axlebox …",
    )
    quantity = forms.IntegerField(label="How many go here", min_value=1, max_value=100000, initial=1)
    drawing = forms.CharField(label="Drawing number", max_length=120, required=False)
    material = forms.CharField(label="Material", max_length=120, required=False)
    required = forms.BooleanField(label="It must be filled before the job is complete", required=False, initial=True)
    needed_first = forms.BooleanField(
        label="What goes on after this subassembly waits for it", required=False, initial=True
    )
    safety_critical = forms.BooleanField(label="Safety-critical", required=False)
    pressure_part = forms.BooleanField(label="Pressure part", required=False)
    crack_check = forms.ChoiceField(choices=METHODS, required=False, label="Crack check")
    surfaces = Lines(required=False, label="Surfaces that a crack check must reach", help_text="One a line.")
    calls_for = forms.MultipleChoiceField(
        choices=FURTHER, required=False, widget=CheckboxList, label="Further examinations called for"
    )
    material_papers = forms.BooleanField(label="A new piece needs its material papers", required=False)
    made_to_suit = forms.BooleanField(label="Made to suit at fitting (packing, liner, shim)", required=False)
    matched = forms.CharField(
        label="Matched set",
        max_length=80,
        required=False,
        help_text="Places with the same word here are machined together.",
    )
    carries_identity = forms.BooleanField(
        label="The built-up piece is known by this one (a wheelset by its axle)", required=False
    )
    caution = forms.CharField(label="Caution where it is worked on", max_length=300, required=False)
    notes = forms.CharField(label="Notes", required=False, widget=forms.Textarea({"rows": 3}))
    after = After(
        label="Goes on after, in its own right",
        help_text="Only where it goes on later than the rest of its subassembly.",
    )

    def __init__(self, *args, subassembly, position=None, **kwargs):
        if position is not None:
            kwargs["initial"] = {name: getattr(position, name) for name in self.base_fields if name != "after"}
        super().__init__(*args, **kwargs)
        self.fields["subassembly"].queryset = subassembly.locomotive.subassemblies.in_use()
        if position is None:
            del self.fields["subassembly"]
        self.fields["part_of"].queryset = subassembly.positions.that_may_be_built_up(position)
        self.fields["after"].queryset = subassembly.locomotive.subassemblies.in_use().exclude(pk=subassembly.pk)
        if position is not None:
            del self.fields["after"]  # changed on a page of its own, which says what follows from it


class MergeForm(forms.Form):
    """Which of the two stays."""

    fields: DeclaredFields
    into: Any = forms.ModelChoiceField(
        None,
        label="It is the same as",
        empty_label="Choose the other one",
        error_messages={"required": "Choose the other one."},
    )  # fmt: skip

    def __init__(self, data=None, *, others, **kwargs):
        super().__init__(data, **kwargs)
        self.fields["into"].queryset = others


class KnownEmptyForm(forms.Form):
    evidence = forms.CharField(
        label="How is it known?",
        widget=forms.Textarea({"rows": 3}),
        help_text="Holes, a stamping, a drawing, a photograph; who looked and where.",
        error_messages={"required": "Nothing was written. Say how it is known: holes, a drawing, a photograph."},
    )


class OverhaulForm(forms.Form):
    reason = forms.CharField(label="Why it comes into the works", max_length=200, required=False)


class EvidenceForm(forms.Form):
    fields: DeclaredFields
    use_required_attribute = False
    kind = chosen("What it is known from", [(kind.value, kind.capitalize()) for kind in EvidenceKind])
    words = asked(text("What it shows", "Where, how many, what size; and what follows from it."))
    source = line("Where the evidence is", "Whose photograph, which drawing, who has seen it.")
    photos = forms.MultipleChoiceField(label="Pictures of it", required=False, widget=CheckboxList)

    def __init__(self, *args, place, **kwargs):
        super().__init__(*args, **kwargs)
        pictures = list(place.photos.all()[:24])
        self.fields["photos"].choices = [(photo.pk, seen(photo)) for photo in pictures]
        self.fields["photos"].pictured = True
        if not pictures:
            del self.fields["photos"]
