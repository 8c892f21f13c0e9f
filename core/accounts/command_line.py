"""The person that stands behind what the commands write: nobody signs in as it."""

from django.contrib.auth import get_user_model

USERNAME = "the-command-line"


def command_line():
    """The person named in what a command wrote; made when first needed, and never able to sign in."""
    people = get_user_model()
    person, made = people.objects.get_or_create(
        username=USERNAME, defaults={"first_name": "the command line", "is_active": False}
    )
    if made:
        person.set_unusable_password()
        person.save(update_fields=["password"])
    return person
