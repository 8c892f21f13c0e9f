import os
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from core.accounts.command_line import command_line
from parts.actions.writing import one_transaction
from parts.domain import addresses
from parts.labels import printing
from parts.labels.errors import LabelError
from parts.labels.label_texts import LabelKind
from parts.labels.sheets import SHEETS
from parts.models import Location, Tag


class Command(BaseCommand):
    help = "Print labels of pieces, bags, crates and shelves as a PDF."

    def add_arguments(self, parser):
        what = parser.add_mutually_exclusive_group(required=True)
        what.add_argument("--tags", nargs="+", metavar="CODE", help="tags of pieces or crates")
        what.add_argument("--crates", nargs="+", metavar="NAME", help="crates or shelves by name, path or tag")
        what.add_argument("--shelves", nargs="+", metavar="NAME", help="the same, the name large enough for an aisle")
        what.add_argument(
            "--contents", nargs="+", metavar="NAME", help="the pieces that lie in these crates or shelves"
        )
        what.add_argument("--unused", type=int, metavar="N", help="issue N new tags, tied to nothing yet")
        parser.add_argument("--bags", action="store_true", help="with --tags or --contents: labels of bags")
        parser.add_argument("--whole", action="store_true", help="with --crates: the whole list, on further labels")
        parser.add_argument(
            "--sheet",
            default="a4-3x8",
            help=f"one of {', '.join(SHEETS)}, or such as a4:cols=3,rows=8,margin=10,start=5",
        )
        parser.add_argument("--address", default="", help=f"instead of COTTER_ADDRESS, such as {addresses.EXAMPLE}")
        parser.add_argument("--out", required=True, metavar="FILE", help="where the PDF goes")

    def handle(self, *, address, out, **options):
        person, target = command_line(), Path(out)
        if os.path.isdir(target) or not os.path.isdir(target.parent):
            raise CommandError(f"--out {target}: name a file in a folder that is there, such as labels.pdf.")
        try:
            base = printing.address(address)
            with one_transaction():  # what was issued is forgotten again where the file cannot be written
                printed = printing.print_batch(batch(**options), base, person)
                target.write_bytes(printed.pdf)
        except LabelError as trouble:
            raise CommandError(str(trouble)) from None
        except OSError as trouble:
            raise CommandError(f"--out {target} cannot be written: {trouble.strerror or trouble}.") from None
        for doubt in addresses.doubts(base):
            self.stderr.write(f"Take care: {doubt}")
        if printed.unprintable:
            self.stderr.write(f"Take care: the fonts lack {printed.unprintable}; the sign � is printed there.")
        self.stdout.write(f"{target} is written. Print it at its full size.")


def batch(*, tags, crates, shelves, contents, unused, bags, whole, sheet, **options) -> printing.Batch:
    if unused is not None:
        return printing.Batch(kind=LabelKind.UNUSED, sheet=sheet, unused=unused)
    if crates:
        return printing.Batch(kind=LabelKind.CRATES, sheet=sheet, places=places_meant("--crates", crates), whole=whole)
    if shelves:
        return printing.Batch(kind=LabelKind.SHELVES, sheet=sheet, places=places_meant("--shelves", shelves))
    return printing.Batch(kind=LabelKind.BAGS if bags else LabelKind.PIECES, sheet=sheet, tags=chosen(tags, contents))


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
