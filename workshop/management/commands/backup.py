from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from core.log import chain
from workshop.backups import BackupRefused, back_up


class Command(BaseCommand):
    help = "Write the database and all pictures into one file with checksums. Cotter may be in use meanwhile."

    def add_arguments(self, parser):
        parser.add_argument("file", type=Path, help="the file to write, such as cotter-backup.zip")
        parser.add_argument("--overwrite", action="store_true", help="replace the file if it is there")

    def handle(self, *, file, overwrite, **options):
        try:
            count = back_up(file.absolute(), overwrite=overwrite)
        except BackupRefused as refused:
            raise CommandError(str(refused)) from None
        size_mb = file.stat().st_size / 1_000_000
        self.stdout.write(f"Backed up the database and {count - 1} pictures to {file} ({size_mb:.1f} MB).")
        self.stdout.write(f"Write this on it, so that a rewritten past shows: {chain.seal().in_words()}.")
