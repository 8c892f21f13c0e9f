from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from parts.domain.plain import several
from workshop.backups import BackupRefused, prove


class Command(BaseCommand):
    help = "Read a backup through and say whether it can be restored. No register is touched, and none need be there."

    def add_arguments(self, parser):
        parser.add_argument(
            "file", type=Path, help="a file that the backup command made, or one of those made by night"
        )

    def handle(self, *, file, **options):
        try:
            proved = prove(file.absolute())
        except BackupRefused as refused:
            raise CommandError(str(refused)) from None
        self.stdout.write(f"{file} can be restored: {several(proved.files, 'file')}, each as it was backed up.")
        self.stdout.write(f"Made at {proved.made} by Cotter {proved.version}.")
        if proved.seal:
            self.stdout.write(f"{proved.seal.in_words()}.")
