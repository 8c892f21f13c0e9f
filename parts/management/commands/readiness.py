"""manage.py readiness SLUG [--json]: what is stopping us, for people or for another program."""

import json

from django.core.management.base import BaseCommand, CommandError

from parts.actions import writing
from parts.domain.readiness_json import as_json
from parts.domain.sequence import OrderLoop
from parts.models import Locomotive
from parts.queries.readiness import load_whole
from parts.readiness.readiness_context import word_of


class Command(BaseCommand):
    help = "How far each subassembly of a locomotive is from going together, and what blocks it."

    def add_arguments(self, parser):
        parser.add_argument("slug", help="the locomotive's short name")
        parser.add_argument("--json", action="store_true", help="everything, for another program")

    def handle(self, slug, **options):
        locomotive = Locomotive.objects.filter(slug=slug).first()
        if locomotive is None:
            there = ", ".join(Locomotive.objects.values_list("slug", flat=True)) or "none yet"
            raise CommandError(
                f"No locomotive is called “{slug}” here. There is: {there}. Make one with new_locomotive."
            )
        try:
            found = load_whole(locomotive, writing.today())
        except OrderLoop as loop:
            raise CommandError(f"The order of assembly contradicts itself: {loop}. Mend it under Structure.") from None
        if options["json"]:
            self.stdout.write(json.dumps(as_json(found), ensure_ascii=False, indent=1))
            return
        self.stdout.write(f"{locomotive.name}, as of {found.as_of:%Y-%m-%d}\n\n")
        self.stdout.write(f"{'subassembly':40} {'required':>8} {'refitted':>8} {'ready':>6} {'blocked':>8}  stands")
        for sub in found.subassemblies:
            own, indent = sub.own, "  " * (len(found.order.lineage[sub.sub.id]) - 1)
            name = f"{indent}{sub.sub.name}"
            self.stdout.write(
                f"{name:40} {own.required:8} {own.refitted:8} {own.ready:6} {own.blocked:8}  {word_of(sub)}"
            )
