from django.conf import settings
from django.core.management.base import CommandError

from workshop.serving import demo, server
from workshop.serving.instance_lock import AnotherInstance, one_instance

from . import serve


class Command(serve.Command):
    help = "Build an invented locomotive in pieces, in a data folder of its own, and serve it."

    def add_arguments(self, parser):
        super().add_arguments(parser)
        parser.add_argument("--no-serve", action="store_true", help="only build it")
        parser.add_argument("--fresh", action="store_true", help="build it again, forgetting what was done to it")

    def handle(self, *, host, port, no_serve=False, fresh=False, **options):
        try:
            with one_instance(settings.DATA):
                self.build(fresh)
                if no_serve:
                    self.stdout.write(f"The demo's data folder is {settings.DATA}.")
                else:
                    server.prepare(self.stdout)
                    self.serve(host, port)
        except (server.CannotServe, demo.NotTheDemo, AnotherInstance) as refused:
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
        widths = [max(map(len, column)) for column in zip(*people, strict=True)]
        for person in people:
            cells = (text.ljust(width) for text, width in zip(person, widths, strict=True))
            self.stdout.write("  " + "   ".join(cells).rstrip())
