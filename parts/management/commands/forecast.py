"""manage.py forecast SLUG [--json] [--keep]: when it could be together, for people or for another program."""

import json
from datetime import date

from django.core.management.base import BaseCommand, CommandError

from parts.actions import writing
from parts.domain.forecast import Outlook, forecast
from parts.domain.forecast_words import told
from parts.domain.plain import day
from parts.domain.sequence import OrderLoop
from parts.forecast.loading import OpenWork
from parts.forecast.writers import keep
from parts.models import Locomotive


class Command(BaseCommand):
    help = "When each subassembly of a locomotive, and the whole, could be together, and what decides it."

    def add_arguments(self, parser):
        parser.add_argument("slug", help="the locomotive's short name")
        parser.add_argument("--json", action="store_true", help="everything, for another program")
        parser.add_argument("--keep", action="store_true", help="keep it, to compare later ones with")
        parser.add_argument("--runs", type=int, default=2000, help="how many runs (2000)")
        parser.add_argument("--seed", type=int, default=1, help="the same seed gives the same runs (1)")
        parser.add_argument("--today", type=date.fromisoformat, default=None, help="as if it were this day: 2026-11-29")

    def handle(self, slug, *, runs, seed, today, **options):
        locomotive = Locomotive.objects.filter(slug=slug).first()
        if locomotive is None:
            there = ", ".join(Locomotive.objects.values_list("slug", flat=True)) or "none yet"
            raise CommandError(
                f"No locomotive is called “{slug}” here. There is: {there}. Make one with new_locomotive."
            )
        if runs < 1:
            raise CommandError("Give at least one run.")
        today = today or writing.today()
        try:
            found = forecast(OpenWork(locomotive, today).workshop(), runs=runs, seed=seed)
        except OrderLoop as loop:
            raise CommandError(f"The order of assembly contradicts itself: {loop}. Mend it under Structure.") from None
        if options["keep"]:
            keep(locomotive, found, today)
        if options["json"]:
            self.stdout.write(json.dumps(as_json(locomotive, found, today, runs, seed), ensure_ascii=False, indent=1))
            return
        self.stdout.write(f"{locomotive.name}, as of {day(today)}\n\n")
        for sentence in found.missing:
            self.stdout.write(sentence)
        if found.whole:
            for code, outlook in [*found.subassemblies.items(), ("the whole", found.whole)]:
                half, nine = told(outlook.half, today), told(outlook.nine_in_ten, today)
                self.stdout.write(f"{code:40} half {half:>20}   nine in ten {nine}")
            self.stdout.write("\nWhat this assumes:")
            for sentence in found.assumes:
                self.stdout.write(f"  {sentence}")


def as_json(locomotive, found, today, runs, seed) -> dict:
    return {
        "locomotive": locomotive.slug,
        "as_of": today.isoformat(),
        "runs": runs,
        "seed": seed,
        "missing": list(found.missing),
        "assumes": list(found.assumes),
        "whole": _outlook(found.whole) if found.whole else None,
        "subassemblies": {code: _outlook(outlook) for code, outlook in found.subassemblies.items()},
    }


def _outlook(outlook: Outlook) -> dict:
    return {
        "half": outlook.half.isoformat() if outlook.half else None,
        "nine_in_ten": outlook.nine_in_ten.isoformat() if outlook.nine_in_ten else None,
        "decided_by": [each.name for each in outlook.decided_by],
    }
