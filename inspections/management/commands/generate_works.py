import re

from django.core.management.base import BaseCommand, CommandError

from core.domain.refusals import Refused
from parts.models import Locomotive

from ..generating import generate

MOST_POSITIONS = 200_000


class Command(BaseCommand):
    help = "Make a large invented register to measure with: the same for the same seed."

    def add_arguments(self, parser):
        parser.add_argument("--positions", type=int, required=True, help="of each locomotive")
        parser.add_argument("--seed", type=int, default=1)
        parser.add_argument("--slug", default="invented-works", help="the locomotive's short name")
        parser.add_argument("--locomotives", type=int, default=1, help="so many, their short names ending in -2, -3 …")

    def handle(self, *, positions, seed, slug, locomotives, **options):
        if not 20 <= positions <= MOST_POSITIONS:
            raise CommandError(f"--positions: write a number from 20 to {MOST_POSITIONS}.")
        if not 1 <= locomotives <= 100:
            raise CommandError("--locomotives: write a number from 1 to 100.")
        slugs = [slug] + [f"{slug}-{number}" for number in range(2, locomotives + 1)]
        if taken := Locomotive.objects.filter(slug__in=slugs).values_list("slug", flat=True).first():
            raise CommandError(f"There is a locomotive “{taken}” already. Choose another --slug.")
        for number, one in enumerate(slugs, 1):
            try:
                made = generate(positions=positions, seed=f"{seed} {number}", slug=one, name=_name(one))
            except Refused as refused:
                raise CommandError(str(refused)) from None
            self.stdout.write(
                f"Made {made.name} ({made.slug}), invented: {made.subassemblies.count()} subassemblies, "
                f"{made.positions.count()} positions, {made.components.count()} pieces."
            )


def _name(slug: str) -> str:
    return re.sub(r"-+", " ", slug).strip().capitalize()
