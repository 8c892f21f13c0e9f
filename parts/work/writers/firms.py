"""Writers of the register of firms. What lies at a firm's location is known to be there."""

from django.db import IntegrityError, transaction

from core.domain.refusals import Refusal, Refused
from core.models import Event
from core.models.longest import longest
from parts.actions import writing
from parts.models import Firm, Location, LocationKind

FIELDS = ("name", "does", "contact", "note")


def add_firm(actor, *, name: str, does="", contact="", note="", location: Location | None = None) -> Firm:
    """Enter a firm. Its location is made if none that is away is given."""
    writing.allow(actor, "edit firms")
    firm = Firm(name=_tidy(name), does=_tidy(does), contact=contact.strip(), note=note.strip())
    _named(firm)
    with writing.one_transaction():
        firm.location = location or _location_called(firm.name)
        _is_away(firm.location)
        _save(firm)
        writing.log(actor, "add firm", location=firm.location, remark=firm.name, data={"firm": firm.pk})
        return firm


def edits_of(firm: Firm):
    """The events that change what the form of a firm shows."""
    return Event.objects.filter(action="edit firm", data__firm=firm.pk)


def edit_firm(
    firm: Firm, actor, *, name: str, does="", contact="", note="", location: Location | None = None, seen=None
) -> None:
    """Change what is known of it; the event keeps what was said before."""
    writing.allow(actor, "edit firms")
    entered = {"name": _tidy(name), "does": _tidy(does), "contact": contact.strip(), "note": note.strip()}
    with writing.one_transaction():
        firm = Firm.objects.select_for_update(of=("self",)).get(pk=firm.pk)
        writing.not_overtaken(edits_of(firm), seen)
        changed = {
            field: [getattr(firm, field), entered[field]] for field in FIELDS if getattr(firm, field) != entered[field]
        }
        for field, value in entered.items():
            setattr(firm, field, value)
        _named(firm)
        if location is not None and location.pk != firm.location_id:
            _is_away(location)
            changed["lies at"] = [firm.location.path, location.path]
            firm.location = location
        if changed:
            _save(firm)
            writing.log(actor, "edit firm", location=firm.location, remark=firm.name, data={"firm": firm.pk} | changed)


def retire_firm(firm: Firm, actor, *, retired: bool = True) -> None:
    """It is offered no more, or again; what it did stays readable."""
    writing.allow(actor, "edit firms")
    with writing.one_transaction():
        firm = Firm.objects.select_for_update(of=("self",)).get(pk=firm.pk)
        left = firm.steps.under_way().count() + firm.repairs.under_way().count()
        if retired and left:
            sentence = f"{firm.name} still has {left} of our jobs open."
            raise Refused(Refusal("in-use", sentence, "Finish those or give them to another firm first."))
        firm.retired = retired
        firm.save(update_fields=["retired"])
        action = "retire firm" if retired else "use firm again"
        writing.log(actor, action, location=firm.location, remark=firm.name, data={"firm": firm.pk})


def _named(firm):
    if not firm.name:
        raise Refused(Refusal("name", "Name: nothing was written.", "Write the name of the firm."))
    for field, label in (("name", "Name"), ("does", "What they do")):
        most = longest(Firm, field)
        if len(getattr(firm, field)) > most:
            raise Refused(Refusal(field, f"{label}: more than {most} characters.", "Say it in fewer words."))


def _location_called(name: str) -> Location:
    """The top place of this name if there is one that is away, else a new one."""
    found = Location.objects.filter(parent__isnull=True, name__iexact=name).first()
    return found or Location.objects.create(name=name, kind=LocationKind.FIRM, away=True, path=name)


def _is_away(location):
    if not location.away:
        sentence = f"Where it is: {location.path} is in our own works."
        raise Refused(Refusal("location", sentence, "Choose a place that is another firm's, or leave it blank."))


def _save(firm):
    try:
        with transaction.atomic():
            firm.save()
    except IntegrityError:
        taken = Firm.objects.filter(name__iexact=firm.name).exclude(pk=firm.pk).exists()
        if taken:
            raise Refused(
                Refusal(
                    "name", f"Name: “{firm.name}” is in the register already.", "Open that one, or tell them apart."
                )
            ) from None
        raise Refused(
            Refusal(
                "location", "Where it is: another firm is there already.", "Leave it blank, or choose another place."
            )
        ) from None


def _tidy(text: str) -> str:
    return " ".join(text.split())
