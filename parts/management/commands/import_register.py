from pathlib import Path

from django.core.management.base import BaseCommand, CommandError
from django.db import transaction

from core.accounts.command_line import command_line
from core.domain.refusals import Refused
from parts.domain.import_matching import COLUMN
from parts.domain.import_words import answer, handed_back, named
from parts.domain.importing import head_word
from parts.domain.list_files import as_csv
from parts.domain.plain import listed, several
from parts.domain.register_cells import fold
from parts.domain.spreadsheets import MOST_BYTES, SheetError
from parts.models import Locomotive
from parts.taking_over.writers.importing import (
    NEEDS,
    in_our_words,
    look_over,
    look_over_good_rows,
    read_list,
    remember,
    still_to_match,
    take_over,
)

WIDTH = 30
NAMED = 40


class Command(BaseCommand):
    help = (
        "Take over a works' own list of positions and pieces (CSV or XLSX). It only adds; what is there already is "
        "never changed, and while one row is bad nothing is written."
    )

    def add_arguments(self, parser):
        parser.add_argument("file", type=Path, help="a CSV file (UTF-8, comma or semicolon) or an XLSX workbook")
        parser.add_argument("--locomotive", required=True, metavar="SLUG", help="the locomotive's short name")
        parser.add_argument(
            "--mean", action="append", default=[], metavar="COLUMN:WORD=MEANING",
            help="what a word of the list means, remembered: column:Where kept=location, state:washed=cleaned",
        )  # fmt: skip
        parser.add_argument("--as-guessed", action="store_true", help="take what is guessed where it is not said")
        parser.add_argument("--sheet", default="", metavar="NAME", help="of a workbook that has several lists")
        parser.add_argument("--good-rows", action="store_true", help="take over the good rows and leave out the others")
        parser.add_argument("--hand-back", type=Path, metavar="FILE", help="write the other rows, with what mends each")
        parser.add_argument("--dry-run", action="store_true", help="say what would happen, and write nothing")

    def handle(self, *, file, locomotive, dry_run, mean, as_guessed, sheet, good_rows, hand_back, **options):
        found = Locomotive.objects.filter(slug=locomotive).first()
        if found is None:
            raise CommandError(
                f"There is no locomotive “{locomotive}”. Make it first: "
                f"python manage.py new_locomotive --name NAME --slug {locomotive} --wheels 0-6-0T (or --empty)"
            )
        try:
            with transaction.atomic():
                given = read_list(_content(file), sheet)
                _settle(found, given, mean, as_guessed)
                whole, made = self._look(found, given, hand_back, good_rows)
                transaction.set_rollback(dry_run)  # what the words mean is forgotten with it
            if not dry_run and not made.bad:
                bar, ours = ProgressBar(self.stderr), in_our_words(given)
                made = take_over(found, ours, command_line(), source=file.name, good_rows=good_rows, progress=bar)
        except (SheetError, Refused) as trouble:
            raise CommandError(f"{file.name}: {trouble}") from None
        lines = answer(made, locomotive=found.name, rows=len(given.rows), dry_run=dry_run)
        if made.bad:
            raise CommandError("\n".join(lines))
        if dry_run:
            lines += [f"{heading}: {listed(names[:NAMED])}." for heading, names in named(made)]
        if good_rows and (rows := len({bad.row for bad in whole.bad})):
            lines.append(f"Left out, since something is wrong with them: {several(rows, 'row')}.")
        self.stdout.write("\n".join(lines))

    def _look(self, locomotive, given, hand_back, good_rows):
        """What an import of all of it would do, and what is to be done."""
        self._tell_near(locomotive, given)
        sheet = in_our_words(given)
        whole = look_over(locomotive, sheet)
        good, bad = look_over_good_rows(locomotive, sheet) if whole.bad else (whole, ())
        if hand_back and bad:
            hand_back.write_bytes(as_csv(*handed_back(given, bad)))
        return whole, good if good_rows else whole

    def _tell_near(self, locomotive, sheet):
        """Names that are nearly known, and words that nobody has matched: as it would be asked on screen."""
        for question in still_to_match(locomotive, sheet):
            means = question.guess or "…"
            self.stderr.write(f"{question.asks} …? Say: --mean '{question.column}:{question.written}={means}'")


def _settle(locomotive, sheet, mean, as_guessed):
    """What is said on the command line answers what the list asks, the columns first. As guessed, a column of which
    nothing is guessed is left alone."""
    entered = {}
    for each in mean:
        key, equals, meant = each.partition("=")
        column, colon, word = key.partition(":")
        if not (equals and colon):
            raise CommandError(f"--mean {each}: write it as COLUMN:WORD=MEANING.")
        entered[column, (head_word if column == COLUMN else fold)(word)] = meant
    for _ in ("the columns", "the words in them"):
        asked = still_to_match(locomotive, sheet)
        guesses = {one.key: one.guess for one in asked if as_guessed and (one.guess or one.column == COLUMN)}
        answers = guesses | entered
        remember([(one, answers[one.key]) for one in asked if one.key in answers], command_line(), locomotive)


def _content(file: Path) -> bytes:
    try:
        if file.stat().st_size > MOST_BYTES:
            raise CommandError(f"{file.name} is larger than {MOST_BYTES // 1_000_000} MB. Split it by subassembly.")
        return file.read_bytes()
    except OSError as trouble:
        raise CommandError(f"{file} cannot be read: {trouble.strerror}.") from None


class ProgressBar:
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
