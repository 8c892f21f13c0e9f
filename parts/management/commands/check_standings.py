"""`manage.py check_standings`: is what is stored of every place what its rows say?"""

from datetime import date

from django.core.management.base import BaseCommand, CommandError

from parts.actions.refresh import out_of_date, refresh_where
from parts.actions.writing import one_transaction
from parts.domain.plain import day, several
from parts.models import Locomotive, Position


class Command(BaseCommand):
    help = "Work out again how every place stands, and compare it with what is stored."

    def add_arguments(self, parser):
        parser.add_argument("--locomotive", metavar="SLUG", help="this locomotive only")
        parser.add_argument("--mend", action="store_true", help="store what the rows say")

    def handle(self, *args, locomotive=None, mend=False, **options):
        differ = 0
        for one in self.asked_for(locomotive):
            differ += self.mend(one) if mend else self.tell(one)
        if mend:
            self.stdout.write(f"{several(differ, 'place')} mended.")
        elif differ:
            raise CommandError(f"{several(differ, 'place')} out of date. Run it again with --mend.")
        else:
            self.stdout.write("Every place stands as its rows say.")

    def asked_for(self, slug):
        if slug is None:
            return list(Locomotive.objects.all())
        found = list(Locomotive.objects.filter(slug=slug))
        if not found:
            known = ", ".join(Locomotive.objects.values_list("slug", flat=True)) or "none yet"
            raise CommandError(f"--locomotive: there is no “{slug}” here. Those known: {known}.")
        return found

    def tell(self, locomotive) -> int:
        found = out_of_date({"locomotive": locomotive})
        stored = Position.objects.in_bulk([place.pk for place in found])
        for place in found:
            was = stored[place.pk]
            self.stdout.write(
                f"{locomotive.slug}: {place.words}: stored as {_said(was)}, but its rows say {_said(place)}."
            )
        return len(found)

    def mend(self, locomotive) -> int:
        with one_transaction():
            return refresh_where({"locomotive": locomotive})


def _said(place) -> str:
    later = [f", from {day(date.fromisoformat(on))} {_word(word, need)}" for on, word, need in place.later]
    return _word(place.standing, place.need) + "".join(later)


def _word(word: str, need: str) -> str:
    return f"{word} ({need})" if need else word
