from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from workshop.backups import BackupRefused, restore, tell_the_chain
from workshop.serving.instance_lock import AnotherInstance, one_instance


class Command(BaseCommand):
    help = "Put a backup back. A damaged one is refused, and what is there is never overwritten without --overwrite."

    def add_arguments(self, parser):
        parser.add_argument("file", type=Path, help="a file that the backup command made")
        parser.add_argument("--overwrite", action="store_true", help="set aside what is there and put the backup there")

    def handle(self, *, file, overwrite, **options):
        try:
            with one_instance(settings.DATA):
                old = restore(file.absolute(), overwrite=overwrite)
                tell_the_chain()
        except (BackupRefused, AnotherInstance) as refused:
            raise CommandError(str(refused)) from None
        self.stdout.write(f"Restored {file} to {settings.DATA}.")
        if old:
            self.stdout.write(f"What was there before is in {old}; delete that folder when you no longer need it.")
        self.stdout.write("Start Cotter with the serve command; it brings an older backup up to date by itself.")
