from django.core.management.base import BaseCommand

from parts.drawings.writers import papers
from parts.photos import writers as photos


class Command(BaseCommand):
    help = (
        "Remove files of photos and papers that nothing in the register names, as an upload cut off leaves; "
        "and name the photos whose files are missing. Files younger than an hour are left alone."
    )

    def add_arguments(self, parser):
        parser.add_argument("--dry-run", action="store_true", help="only say what would be removed")

    def handle(self, *, dry_run, **options):
        orphans, missing = photos.sweep(dry_run=dry_run)
        more_orphans, more_missing = papers.sweep(dry_run=dry_run)
        orphans, missing = orphans + more_orphans, missing + more_missing
        for name in orphans:
            self.stdout.write(f"{'would remove' if dry_run else 'removed'} {name}")
        for name in missing:
            self.stderr.write(f"missing: {name}. A backup may still have it.")
        self.stdout.write(f"{len(orphans)} files without a photo, {len(missing)} files of photos missing.")
