from django.core.management.base import BaseCommand, CommandError

from core.accounts.command_line import command_line
from core.domain.refusals import Refused
from parts.domain.structure import Brake, LocomotiveSpec, SpecError, ValveGear, Valves
from parts.structure.writers.locomotives import make_locomotive


class Command(BaseCommand):
    help = "Make a locomotive with a starting structure laid out from its wheel arrangement, or an empty one."

    def add_arguments(self, parser):
        parser.add_argument("--name", required=True)
        parser.add_argument("--slug", required=True, help="a short name for addresses, such as fern-4")
        what = parser.add_mutually_exclusive_group(required=True)
        what.add_argument("--wheels", help="Whyte notation, such as 0-4-0ST, 0-6-0T, 2-6-2T or 4-4-0")
        what.add_argument("--empty", action="store_true", help="no starting structure")
        layout = parser.add_argument_group("what the structure is laid out for")
        layout.add_argument("--inside-cylinders", type=int, help="0, 1 or 2 (default 0)")
        layout.add_argument("--outside-cylinders", type=int, help="0 or 2 (default 2, or 0 with inside cylinders)")
        layout.add_argument("--valve-gear", default=ValveGear.STEPHENSON.value, help=", ".join(ValveGear))
        layout.add_argument("--valves", default=Valves.SLIDE.value, help=", ".join(Valves))
        layout.add_argument("--brake", default=Brake.VACUUM.value, help=", ".join(Brake))
        layout.add_argument("--superheated", action="store_true")
        layout.add_argument("--outside-frames", action="store_true")
        layout.add_argument("--tender-axles", type=int, default=3, help="2, 3 or 4, of a tender locomotive (default 3)")
        layout.add_argument("--american", action="store_true", help="American words: No. 1 and main axle …")
        about = parser.add_argument_group("what is known of it")
        for option in ("gauge", "builder", "works-number", "built"):
            about.add_argument(f"--{option}", default="")

    def handle(self, **options):
        described = {field: options[field] for field in ("gauge", "builder", "works_number", "built", "american")}
        try:
            spec = None if options["empty"] else spec_of(options)
            made = make_locomotive(command_line(), name=options["name"], slug=options["slug"], spec=spec, **described)
        except (SpecError, Refused) as trouble:
            raise CommandError(str(trouble)) from None
        positions, subassemblies = made.positions.count(), made.subassemblies.count()
        self.stdout.write(f"Made {made.name} ({made.slug}): {subassemblies} subassemblies, {positions} positions.")


def spec_of(options) -> LocomotiveSpec:
    inside, outside = options["inside_cylinders"], options["outside_cylinders"]
    return LocomotiveSpec(
        wheels=options["wheels"],
        inside_cylinders=inside or 0,
        outside_cylinders=outside if outside is not None else (0 if inside else 2),
        valve_gear=options["valve_gear"],
        valves=options["valves"],
        brake=options["brake"],
        british=not options["american"],
        superheated=options["superheated"],
        outside_frames=options["outside_frames"],
        tender_axles=options["tender_axles"],
    )
