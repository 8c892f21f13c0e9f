"""Writers of invitations: made with their roles, used once by whoever holds the card, or withdrawn."""

from datetime import timedelta

from django.contrib.auth.models import Group
from django.utils import timezone

from core.accounts import credentials
from core.domain import codes
from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused
from core.log import writing
from core.models import Invitation, Person
from core.roles import Role

from . import people

NOT_BY_EVERYBODY = frozenset({Role.RESPONSIBLE_ENGINEER.value, Role.WORKS_MANAGER.value})
"""Roles that only who gives out roles anyway may invite somebody to."""

WHY_NOT = {
    "used": "This invitation has been used.",
    "withdrawn": "This invitation was withdrawn.",
    "expired": "This invitation has expired.",
}


def roles_to_give(actor: Person) -> list[str]:
    every = may(actor.role_names, "edit people")
    return [role.value for role in Role if every or role.value not in NOT_BY_EVERYBODY]


def invite(actor: Person, *, form_key: str, roles, name: str = "", days: int = 14) -> tuple[Invitation, str]:
    """A new invitation, and its code, to be printed and then forgotten."""
    writing.allow(actor, "invite")
    refused = [role for role in roles if role not in roles_to_give(actor)]
    if refused:
        sentence = f"Roles: you may not invite a {refused[0]}."
        raise Refused(Refusal("roles", sentence, "The works manager does that."))
    if not roles:
        raise Refused(Refusal("roles", "Roles: none chosen.", "Choose at least one; a trustee only reads."))
    code = codes.new_code()
    with writing.one_transaction():
        made, new = Invitation.objects.get_or_create(
            form_key=form_key,
            defaults={
                "code_hash": codes.hashed(code),
                "name": " ".join(name.split()),
                "roles": sorted(roles),
                "made_by": actor,
                "expires": timezone.now() + timedelta(days=days),
            },
        )
        if not new:
            raise Refused(
                Refusal(
                    "twice",
                    "This invitation was made already, and its code is shown only once.",
                    "If the card is lost, withdraw the invitation below and make another.",
                )
            )
        writing.log(actor, "invite", remark=str(made), data={"invitation": made.pk, "roles": made.roles})
    return made, code


def withdraw(invitation: Invitation, actor: Person) -> None:
    writing.allow(actor, "invite")
    with writing.one_transaction():
        invitation = Invitation.objects.select_for_update(of=("self",)).get(pk=invitation.pk)
        _refuse_if_over(invitation)
        invitation.withdrawn_at = timezone.now()
        invitation.save(update_fields=["withdrawn_at"])
        writing.log(actor, "withdraw invitation", remark=str(invitation), data={"invitation": invitation.pk})


def join(invitation: Invitation, *, name: str, username: str, password: str = "", pin: str = "") -> Person:
    """The new person, by their own hand; the invitation is used up by it."""
    person = Person(username=username.strip())
    people.name_as(person, name)
    trouble = list(people.troubles_of(person, invitation.roles, password))
    if not (password or pin):
        trouble.append(Refusal("password", "Password: nothing was written.", "Choose a password, or a PIN, or both."))
    if pin and (why := credentials.pins.why_not(pin)):
        trouble.append(Refusal("pin", f"PIN: {why}"))
    if trouble:
        raise Refused(*trouble)
    person.pin = credentials.hash_of_pin(pin) if pin else ""
    person.set_password(password or None)
    with writing.one_transaction():
        invitation = Invitation.objects.select_for_update(of=("self",)).get(pk=invitation.pk)
        _refuse_if_over(invitation)
        people.store(person)
        person.groups.set(Group.objects.filter(name__in=invitation.roles))
        invitation.used_by, invitation.used_at = person, timezone.now()
        invitation.save(update_fields=["used_by", "used_at"])
        data = {"person": person.pk, "invitation": invitation.pk, "roles": invitation.roles}
        writing.log(person, "join", remark=f"invited by {invitation.made_by}", data=data)
    return person


def _refuse_if_over(invitation: Invitation) -> None:
    if invitation.state != "waiting":
        raise Refused(Refusal("over", WHY_NOT[invitation.state], "Ask whoever gave it to you for a new one."))
