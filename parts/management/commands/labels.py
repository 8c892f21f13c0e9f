"""manage.py labels --tags … | --unused N | --crates … --sheet … --out FILE"""

from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from parts import printing
from parts.actions.people import command_line
from parts.labels import SHEETS, LabelError
from parts.models import Location, Tag


class Command(BaseCommand):
    help = "Print part tags and crate labels as a PDF."

    def add_arguments(self, parser):
        what = parser.add_mutually_exclusive_group(required=True)
        what.add_argument("--tags", nargs="+", metavar="CODE", help="tags of pieces or crates")
        what.add_argument("--crates", nargs="+", metavar="NAME", help="crates or shelves by name, path or tag")
        what.add_argument("--unused", type=int, metavar="N", help="issue N new tags, tied to nothing yet")
        parser.add_argument(
            "--sheet",
            default="a4-3x8",
            help=f"one of {', '.join(SHEETS)}, or such as a4:cols=3,rows=8,margin=10,start=5",
        )
        parser.add_argument("--address", default="", help="instead of COTTER_ADDRESS, such as http://cotter.local:8000")
        parser.add_argument("--out", required=True, metavar="FILE", help="where the PDF goes")

    def handle(self, *, tags, crates, unused, sheet, address, out, **options):
        person, target = command_line(), Path(out)
        if not target.parent.is_dir():
            raise CommandError(f"--out: there is no folder {target.parent}.")
        try:
            base = address or printing.address()
            if unused is not None:
                pdf = printing.print_unused(unused, sheet, base, person)
            else:
                chosen = printing.tags_of(" ".join(tags)) if tags else [_tag_of(name, person) for name in crates]
                pdf = printing.print_tags(chosen, sheet, base, person)
            target.write_bytes(pdf)
        except LabelError as trouble:
            raise CommandError(str(trouble)) from None
        except OSError as trouble:
            raise CommandError(f"--out: {trouble}") from None
        if warning := printing.shaky(base):
            self.stderr.write(f"Take care: {warning}")
        self.stdout.write(f"{target} is written.")


def _tag_of(name: str, person) -> Tag:
    """The tag that a crate bears; a crate without one gets its first."""
    found = Location.objects.meant_by(name)
    if len(found) != 1:
        some = "; ".join(place.path for place in found) or "no place is called that"
        raise CommandError(f"--crates {name}: {some}. Write its whole path.")
    return found[0].tags.filter(current=True).first() or printing.tagging.issue(found[0], person)
