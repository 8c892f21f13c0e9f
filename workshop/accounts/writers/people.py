"""Writers of people: added, given roles, authorised to sign, deactivated. Nobody is ever deleted."""

from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.models import Group
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from core.accounts import devices
from core.domain.refusals import Refusal, Refused
from core.log import writing
from core.models import Authorisation, Card, Event, Person
from parts.actions.writing import not_overtaken
from parts.domain.words import Kind, Method

FORM = ("first_name", "last_name", "username", "password")
"""What the form of a person may change."""


def edits_of(person: Person):
    """The events that change what the form of a person shows."""
    return Event.objects.filter(action="edit person", data__person=person.pk)


def save_person(
    person: Person, actor: Person, *, name: str, username: str, roles, password: str = "", seen: int | None = None
) -> Person:
    """Add a person or change one. A blank password keeps the one there is."""
    writing.allow(actor, "edit people")
    added = person.pk is None
    before = [] if added else sorted(person.role_names)
    name_as(person, name)
    person.username = username.strip()
    trouble = list(_troubles(person, roles, password, added, actor))
    if trouble:
        raise Refused(*trouble)
    with writing.one_transaction():
        if not added:
            Person.objects.select_for_update().get(pk=person.pk)
            not_overtaken(edits_of(person), seen)
        if password:
            person.set_password(password)
        store(person)
        person.groups.set(Group.objects.filter(name__in=roles))
        person.__dict__.pop("role_names", None)
        data = {"person": person.pk, "roles": [before, sorted(roles)], "new password": bool(password)}
        writing.log(actor, "add person" if added else "edit person", remark=str(person), data=data)
        if password and not added:
            devices.end_all(person)
    return person


def store(person: Person) -> None:
    """Somebody else may have taken the sign-in name since it was looked for."""
    try:
        with transaction.atomic():
            person.save(update_fields=FORM if person.pk else None)
    except IntegrityError:
        raise Refused(_taken(person)) from None


def _taken(person: Person) -> Refusal:
    return Refusal("username", f"Sign-in name: {person.username} is taken.", "Choose another.")


def name_as(person: Person, name: str) -> None:
    person.first_name, _, person.last_name = " ".join(name.split()).partition(" ")


def _troubles(person, roles, password, added, actor):
    yield from troubles_of(person, roles, password)
    if person.pk == actor.pk and "works manager" not in roles:
        yield Refusal("roles", "Roles: you would no longer be works manager.", "Another works manager changes that.")
    if added and not password:
        yield Refusal("password", "Password: nothing was written.", "Give a first one; the person can change it.")


def troubles_of(person: Person, roles, password: str):
    """What is wrong with a person, whoever writes them down."""
    if not person.first_name:
        yield Refusal("name", "Name: nothing was written.", "It is printed on what the person signs.")
    if Person.objects.filter(username__iexact=person.username).exclude(pk=person.pk).exists():
        yield _taken(person)
    try:
        person.full_clean(exclude=["password", "first_name"])
    except ValidationError as errors:
        for field, sentences in errors.message_dict.items():
            if (
                field != "username"
                or not Person.objects.filter(username=person.username).exclude(pk=person.pk).exists()
            ):
                yield Refusal(field, f"{field.replace('_', ' ').capitalize()}: {' '.join(sentences)}", "")
    if not roles:
        yield Refusal("roles", "Roles: none chosen.", "Choose at least one; a trustee only reads.")
    if password:
        try:
            validate_password(password, person)
        except ValidationError as errors:
            yield Refusal("password", f"Password: {' '.join(errors.messages)}", "")


def set_active(person: Person, actor: Person, active: bool) -> None:
    """A person who has left signs in no more, and is signed out everywhere at once; their name stays behind what they
    signed. Their card is good for nothing then; who comes back gets a new one."""
    writing.allow(actor, "edit people")
    if person.pk == actor.pk:
        raise Refused(Refusal("self", "You cannot deactivate yourself.", "Another works manager does that."))
    with writing.one_transaction():
        person.is_active = active
        person.save(update_fields=["is_active"])
        writing.log(actor, "reactivate person" if active else "deactivate person", remark=str(person))
        if not active:
            devices.end_all(person)
            Card.objects.filter(person=person).delete()


def sign_out_everywhere(person: Person, actor: Person) -> int:
    """A phone was lost, say. How many devices there were."""
    writing.allow(actor, "edit people")
    with writing.one_transaction():
        ended = devices.end_all(person)
        writing.log(actor, "sign out", remark=str(person), data={"person": person.pk, "devices": ended})
    return ended


def change_own_password(request, new: str) -> None:
    """The other devices of the person are signed out by it, this one stays."""
    person, key = request.user, request.session.session_key
    try:
        validate_password(new, person)
    except ValidationError as trouble:
        raise Refused(Refusal("new", " ".join(trouble.messages))) from None
    with writing.one_transaction():
        person.set_password(new)
        person.save(update_fields=["password"])
        update_session_auth_hash(request, person)
        devices.renamed(request, key)
        devices.end_all(person, but=request.session.session_key)
        writing.log(person, "change password", data={"person": person.pk})


def authorise(
    person: Person, actor: Person, *, kind: str, method: str = "", level: str = "", until=None
) -> Authorisation:
    """The right to sign one kind of examination, by one method where it has methods; a new date renews it."""
    writing.allow(actor, "edit people")
    if kind == Kind.CRACK_CHECK and method not in [m.value for m in Method if m is not Method.ANY]:
        raise Refused(Refusal("method", "Method: none chosen.", "A crack check is signed for one method."))
    if kind != Kind.CRACK_CHECK:
        method = ""
    if until and until < writing.today():
        raise Refused(
            Refusal("until", "Good until: the day has passed.", "Give the date on the certificate, or end it.")
        )
    with writing.one_transaction():
        made, _ = Authorisation.objects.update_or_create(
            person=person, kind=kind, method=method, defaults={"level": level.strip(), "until": until}
        )
        data = {"person": person.pk, "level": level, "until": until.isoformat() if until else ""}
        writing.log(actor, "authorise", remark=f"{person}: {made.as_word()}", data=data)
        return made


def end_authorisation(authorisation: Authorisation, actor: Person) -> None:
    """From now on the person signs this kind no more; what was signed stays."""
    writing.allow(actor, "edit people")
    with writing.one_transaction():
        writing.log(actor, "end authorisation", remark=str(authorisation))
        authorisation.delete()
