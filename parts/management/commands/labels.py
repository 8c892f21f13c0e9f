import os
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from parts import printing
from parts.actions.people import command_line
from parts.actions.writing import one_transaction
from parts.labels import SHEETS, LabelError
from parts.models import Location, Tag


class Command(BaseCommand):
    help = "Print part tags and crate labels as a PDF."

    def add_arguments(self, parser):
        what = parser.add_mutually_exclusive_group(required=True)
        what.add_argument("--tags", nargs="+", metavar="CODE", help="tags of pieces or crates")
        what.add_argument("--crates", nargs="+", metavar="NAME", help="crates or shelves by name, path or tag")
        what.add_argument(
            "--contents", nargs="+", metavar="NAME", help="the pieces that lie in these crates or shelves"
        )
        what.add_argument("--unused", type=int, metavar="N", help="issue N new tags, tied to nothing yet")
        parser.add_argument(
            "--sheet",
            default="a4-3x8",
            help=f"one of {', '.join(SHEETS)}, or such as a4:cols=3,rows=8,margin=10,start=5",
        )
        parser.add_argument("--address", default="", help="instead of COTTER_ADDRESS, such as http://cotter.local:8000")
        parser.add_argument("--out", required=True, metavar="FILE", help="where the PDF goes")

    def handle(self, *, tags, crates, contents, unused, sheet, address, out, **options):
        person, target = command_line(), Path(out)
        if os.path.isdir(target) or not os.path.isdir(target.parent):
            raise CommandError(f"--out {target}: name a file in a folder that is there, such as labels.pdf.")
        try:
            base = printing.address(address)
            with one_transaction():  # what was issued is forgotten again where the file cannot be written
                if unused is not None:
                    pdf = printing.print_unused(unused, sheet, base, person)
                elif crates:
                    pdf = printing.print_crates(places_meant("--crates", crates), sheet, base, person)
                else:
                    pdf = printing.print_tags(chosen(tags, contents), sheet, base, person)
                target.write_bytes(pdf)
        except LabelError as trouble:
            raise CommandError(str(trouble)) from None
        except OSError as trouble:
            raise CommandError(f"--out {target} cannot be written: {trouble.strerror or trouble}.") from None
        if warning := printing.shaky(base):
            self.stderr.write(f"Take care: {warning}")
        self.stdout.write(f"{target} is written. Print it at its full size.")


def chosen(tags, contents) -> list[Tag]:
    """The tags named, or those of the pieces that lie in the places named."""
    codes = tags or [code for place in places_meant("--contents", contents) for code in Tag.objects.codes_in(place)]
    return printing.tags_of(" ".join(codes))


def places_meant(option: str, names: list[str]) -> list[Location]:
    """The one place that each name means; every name that means none or several is told."""
    wrong, places = [], []
    for name, found in zip(names, Location.objects.meant_by_each(names), strict=True):
        places += found[:1]
        if len(found) != 1:
            some = "; ".join(place.path for place in found[:3]) or "no place is called that"
            wrong.append(f"{option} {name}: {some}. Write its tag, or its whole path.")
    if wrong:
        raise CommandError(" ".join(wrong))
    return places
