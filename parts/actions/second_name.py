"""The second of two names under one piece of work: whoever checked types the own password or PIN beside the first."""

from django import forms

from core.access import proves_at
from core.models import Person
from core.roles import BENCH, EXAMINERS
from core.web.widgets import SecretInput

from .forms import asked


def ask_second_name(form: forms.Form, actor: Person, help_text: str) -> None:
    others = Person.objects.filter(is_active=True, groups__name__in=BENCH | EXAMINERS).exclude(pk=actor.pk)
    form.fields["checker"] = asked(
        forms.ModelChoiceField(
            others.distinct(),
            label="Checker",
            required=False,
            empty_label="Who has checked it with you",
            help_text=help_text,
            error_messages={"invalid_choice": "Choose somebody from the list."},
        )
    )
    form.fields["checker_password"] = asked(
        forms.CharField(
            label="The checker's own password or PIN",
            required=False,
            strip=False,
            widget=SecretInput(),
            help_text="The checker types it: that is the second signature.",
        )
    )


def prove_second_name(form: forms.Form, actor: Person) -> None:
    """`checker` becomes the number of the person; the password is forgotten."""
    entered = form.cleaned_data
    checker = entered.get("checker")
    if checker and (wrong := proves_at(checker, entered.get("checker_password", ""), beside=actor)):
        form.add_error("checker_password", f"{wrong} The checker types it again.")
    entered.pop("checker_password", None)
    if "checker" in form.fields:
        entered["checker"] = checker.pk if checker else None
