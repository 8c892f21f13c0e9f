from django.conf import settings
from django.core.management.base import CommandError

from workshop import demo, server
from workshop.claim import Claimed, claim

from . import serve


class Command(serve.Command):
    help = "Build an invented locomotive in pieces, in a data folder of its own, and serve it."

    def add_arguments(self, parser):
        super().add_arguments(parser)
        parser.add_argument("--no-serve", action="store_true", help="only build it")
        parser.add_argument("--fresh", action="store_true", help="build it anew, forgetting what was done to it")

    def handle(self, *, host, port, no_serve, fresh, **options):
        try:
            with claim(settings.DATA):
                self.build(fresh)
                if not no_serve:
                    server.prepare()
                    self.serve(host, port)
        except (server.CannotServe, demo.NotTheDemo, Claimed) as refused:
            raise CommandError(str(refused)) from None
        except KeyboardInterrupt:
            self.stdout.write("Stopped.")

    def build(self, fresh: bool) -> None:
        people = [] if fresh else demo.sign_ins()
        if not people:
            self.stdout.write("Building the demo …")
            self.stdout.flush()
            people = demo.build()
        self.stdout.write("Everything in the demo is invented. Sign in as one of these:")
        for role, username, password in people:
            self.stdout.write(f"  {role:<22} {username:<14} {password}")
        self.stdout.write(f"The demo's data folder is {settings.DATA}.")
