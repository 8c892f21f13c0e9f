"""`manage.py state_diagram`: the life of a piece drawn into DEVELOPERS.md from the one table."""

from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from parts.domain.states import diagram, piece_actions

START, END = "<!-- states -->", "<!-- /states -->"


def block() -> str:
    """The diagram between its marks, as it stands in a Markdown file."""
    return f"{START}\n```mermaid\n{diagram(piece_actions())}\n```\n{END}"


def redrawn(text: str) -> str:
    """The text with what is between the marks drawn anew; ValueError when a mark is missing."""
    before, rest = text.split(START, 1)
    _, after = rest.split(END, 1)
    return before + block() + after


class Command(BaseCommand):
    help = "Draw the states and actions of a piece again in DEVELOPERS.md."

    def add_arguments(self, parser):
        parser.add_argument("file", nargs="?", type=Path, default=Path(settings.ROOT) / "DEVELOPERS.md")

    def handle(self, *args, file, **options):
        try:
            text = file.read_text("utf-8")
        except OSError as trouble:
            raise CommandError(f"{file} cannot be read: {trouble.strerror}.") from None
        try:
            file.write_text(redrawn(text), "utf-8")
        except ValueError:
            raise CommandError(f"{file} lacks the lines {START} and {END}, between which the diagram goes.") from None
        self.stdout.write(f"Drawn in {file.name}.")
