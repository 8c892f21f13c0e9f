"""What a password may not be, besides what Django refuses."""

from django.core.exceptions import ValidationError

FEW = 4
"""Letters that would be left to guess once the name is known."""


class NotMadeOfTheName:
    """`wrenwren` or `wren2026` of somebody called Wren: Django compares lengths, and lets these pass."""

    def validate(self, password: str, user=None) -> None:
        names = (user.username, user.first_name, user.last_name) if user else ()
        for name in (name.casefold() for name in names if len(name) > 2):
            rest = password.casefold().replace(name, "")
            if rest != password.casefold() and len(rest) <= FEW:
                raise ValidationError(self.get_help_text(), code="password_made_of_name")

    def get_help_text(self) -> str:
        return "The password is little more than the name. Choose one that the name does not give away."
