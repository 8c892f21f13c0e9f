"""`manage.py find_index`: does the index behind finding say what the register says?"""

from django.core.management.base import BaseCommand, CommandError

from parts.finding import find_index
from parts.models import Findable


class Command(BaseCommand):
    help = "Compare the index behind finding with the register; with --rebuild build it again."

    def add_arguments(self, parser):
        parser.add_argument("--rebuild", action="store_true", help="build the index again")

    def handle(self, *args, rebuild=False, **options):
        if rebuild:
            find_index.rebuild()
        if wrong := find_index.out_of_step():
            raise CommandError(f"Out of step: {'; '.join(wrong)}. Run it again with --rebuild.")
        self.stdout.write(f"The index is in step with the register: {Findable.objects.count()} things.")
