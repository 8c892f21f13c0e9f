from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from core.accounts.command_line import command_line
from core.domain.refusals import Refused
from parts.domain.import_telling import answer
from parts.domain.importing import read_sheet
from parts.domain.spreadsheets import MOST_BYTES, SheetError
from parts.models import Locomotive
from parts.taking_over.writers.importing import NEEDS, look_over, take_over

WIDTH = 30


class Command(BaseCommand):
    help = (
        "Take over a works' own list of positions and pieces (CSV or XLSX). It only adds; what is there already is "
        "never changed, and while one row is bad nothing is written."
    )

    def add_arguments(self, parser):
        parser.add_argument("file", type=Path, help="a CSV file (UTF-8, comma or semicolon) or an XLSX workbook")
        parser.add_argument("--locomotive", required=True, metavar="SLUG", help="the locomotive's short name")
        parser.add_argument("--dry-run", action="store_true", help="say what would happen, and write nothing")

    def handle(self, *, file, locomotive, dry_run, **options):
        found = Locomotive.objects.filter(slug=locomotive).first()
        if found is None:
            raise CommandError(
                f"There is no locomotive “{locomotive}”. Make it first: "
                f"python manage.py new_locomotive --name NAME --slug {locomotive} --wheels 0-6-0T (or --empty)"
            )
        try:
            sheet = read_sheet(_content(file))
            if dry_run:
                made = look_over(found, sheet)
            else:
                made = take_over(found, sheet, command_line(), source=file.name, progress=Bar(self.stderr))
        except (SheetError, Refused) as trouble:
            raise CommandError(f"{file.name}: {trouble}") from None
        lines = answer(made, locomotive=found.name, rows=len(sheet.rows), dry_run=dry_run)
        if made.bad:
            raise CommandError("\n".join(lines))
        self.stdout.write("\n".join(lines))


def _content(file: Path) -> bytes:
    try:
        if file.stat().st_size > MOST_BYTES:
            raise CommandError(f"{file.name} is larger than {MOST_BYTES // 1_000_000} MB. Split it by subassembly.")
        return file.read_bytes()
    except OSError as trouble:
        raise CommandError(f"{file} cannot be read: {trouble.strerror}.") from None


class Bar:
    """How far the writing is, on one line that is drawn over; a line for each step where nobody watches."""

    def __init__(self, out):
        self.out, self.drawn = out, out.isatty()

    def __call__(self, what: str, done: int, total: int) -> None:
        if not self.drawn:
            if done == total and total >= 1000:
                self.out.write(f"{what}: {done} of {total}", style_func=str)
            return
        full = WIDTH * done // total if total else WIDTH
        line = f"\r[{'#' * full}{'.' * (WIDTH - full)}] {what}, {done} of {total}".ljust(79)
        self.out.write(line, style_func=str, ending="\n" if (what, done) == (NEEDS, total) else "")
        self.out.flush()
