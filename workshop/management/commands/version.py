from django.core.management.base import BaseCommand

from workshop.upgrading.command_line import VERSION


class Command(BaseCommand):
    help = "Say which version of Cotter this is."
    requires_system_checks = []

    def handle(self, **options):
        self.stdout.write(VERSION)
