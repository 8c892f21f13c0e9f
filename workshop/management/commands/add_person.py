import sys
from getpass import getpass

from django.contrib.auth import get_user_model
from django.contrib.auth.models import Group
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError
from django.db import transaction

from core.roles import Role

ROLES = ", ".join(role.value for role in Role)


class Command(BaseCommand):
    help = f"Add a person who can sign in. The first one is best a works manager. Roles: {ROLES}."

    def add_arguments(self, parser):
        parser.add_argument("username", help="the name to sign in with")
        parser.add_argument(
            "--name", default="", help="the name that stands behind what they sign, such as 'Ada Marsh'"
        )
        parser.add_argument("--role", action="append", default=[], metavar="ROLE", help="one role; may be said again")

    def handle(self, *, username, name, role, **options):
        roles = [known(word) for word in role]
        if not roles:
            raise CommandError(f"Say at least one --role: {ROLES}.")
        first, _, last = name.strip().partition(" ")
        person = get_user_model()(username=username, first_name=first, last_name=last.strip())
        refuse_if_bad(person)
        person.set_password(password_for(person))
        with transaction.atomic():
            person.save()
            person.groups.set(Group.objects.filter(name__in=roles))
        self.stdout.write(f"{person} can sign in as {username} ({', '.join(roles)}).")


def known(word: str) -> str:
    try:
        return Role(" ".join(word.replace("-", " ").lower().split())).value
    except ValueError:
        raise CommandError(f"There is no role {word!r}. The roles are: {ROLES}.") from None


def refuse_if_bad(person) -> None:
    try:
        person.full_clean(exclude=["password"])
    except ValidationError as trouble:
        troubles = "; ".join(f"{field}: {' '.join(sentences)}" for field, sentences in trouble.message_dict.items())
        raise CommandError(f"{troubles} Nobody was added.") from None


def password_for(person) -> str:
    """Asked for twice at a terminal, or else the first line of what is sent to the command."""
    if sys.stdin.isatty():
        password = getpass(f"Password for {person.username}: ")
        if getpass("The same again: ") != password:
            raise CommandError("The two passwords differ. Nobody was added.")
    else:
        password = sys.stdin.readline().rstrip("\r\n")
    try:
        validate_password(password, person)
    except ValidationError as trouble:
        raise CommandError(f"{' '.join(trouble.messages)} Nobody was added.") from None
    return password
