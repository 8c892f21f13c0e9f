"""Lists the limit sheets that are kept, after adding the published one that comes with the program if it is wanting."""

from django.core.management.base import BaseCommand

from inspections.limit_sheets.writers import ship

from ...models import LimitSheet


class Command(BaseCommand):
    help = "List the limit sheets; add the published one that comes with the program, if it or this edition is wanting."

    def handle(self, **options):
        ship()
        for sheet in LimitSheet.objects.with_counts():
            self.stdout.write(f"{sheet}: {sheet.clauses} rows, from {sheet.source}. {sheet.jurisdiction}")
