from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management.base import BaseCommand, CommandError

from workshop.serving import server
from workshop.serving.instance_lock import AnotherInstance, one_instance

EVERY_ADDRESS = "0.0.0.0"


def port(text: str) -> int:
    number = int(text)
    if not 0 <= number <= 65535:
        raise ValueError
    return number


class Command(BaseCommand):
    help = "Serve Cotter to this computer and its network until Ctrl-C."

    def add_arguments(self, parser):
        parser.add_argument(
            "--host", default=EVERY_ADDRESS, help="listen on this address only, such as 127.0.0.1 (default: on all)"
        )
        parser.add_argument("--port", type=port, default=8000, help="a number from 0 (any free one) to 65535")

    def handle(self, *, host, port, **options):
        try:
            with one_instance(settings.DATA):
                server.prepare(self.stdout)
                self.serve(host, port)
        except (server.CannotServe, AnotherInstance) as refused:
            raise CommandError(str(refused)) from None
        except KeyboardInterrupt:
            self.stdout.write("Stopped.")

    def serve(self, host: str, port: int) -> None:
        listening = server.listen(host, port)
        server.log_to_file(settings.DATA)
        places = server.addresses(host, server.port_of(listening))
        self.stdout.write(f"Cotter is at {places[0]}")
        for place in places[1:]:
            self.stdout.write(f"and, for a phone on the same network, at {place}")
        self.stdout.write(f"Its data folder is {settings.DATA}. Ctrl-C stops it.")
        if not get_user_model().objects.exists():
            self.stdout.write("Nobody can sign in yet. Add the first person: python3 run.py add_person --help")
        self.stdout.flush()
        server.run(listening)
