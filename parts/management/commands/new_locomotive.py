from collections.abc import Iterator

from django.core.management.base import BaseCommand, CommandError

from core.accounts.command_line import command_line
from core.domain.refusals import Refused
from parts.domain.choices import CHOICES, Articulation, Boiler, Brake, ValveGear, Valves
from parts.domain.hold_templates import Regime
from parts.domain.spec import FEWEST_TENDER_AXLES, MOST_TENDER_AXLES, UNITS
from parts.domain.structure import LocomotiveSpec, PlannedPosition, SpecError, StructurePlan, plan
from parts.structure.writers.locomotives import make_locomotive


class Command(BaseCommand):
    help = "Make a locomotive with a starting structure laid out from its wheel arrangement, or an empty one."

    def add_arguments(self, parser):
        parser.add_argument("--name", required=True)
        parser.add_argument("--slug", required=True, help="a short name for addresses, such as fern-4")
        what = parser.add_mutually_exclusive_group(required=True)
        what.add_argument(
            "--wheels",
            help="Whyte or UIC notation, such as 0-6-0T, 4-4-0, 2-6-6-2, 4-6-2+2-6-4, 0-6-0F, C, 1'C1' or B'B'",
        )
        what.add_argument("--empty", action="store_true", help="no starting structure")
        layout = parser.add_argument_group("what the structure is laid out for")
        layout.add_argument("--inside-cylinders", type=int, help="0, 1 or 2 (default 0)")
        layout.add_argument("--outside-cylinders", type=int, help="0 or 2 (default 2, or 0 with inside cylinders)")
        layout.add_argument("--valve-gear", default=ValveGear.STEPHENSON.value, help=", ".join(ValveGear))
        layout.add_argument("--valves", default=Valves.SLIDE.value, help=", ".join(Valves))
        layout.add_argument("--brake", default=Brake.VACUUM.value, help=", ".join(Brake))
        layout.add_argument("--superheated", action="store_true")
        layout.add_argument("--outside-frames", action="store_true")
        layout.add_argument("--steam-heating", action="store_true", help="pipes and valve to warm carriages")
        layout.add_argument("--boiler", default="", help=f"{', '.join(Boiler)} (default: as the wheels say)")
        layout.add_argument(
            "--articulation", default="", help=f"{', '.join(Articulation)} (default: as the wheels say)"
        )
        layout.add_argument(
            "--driven-axle", type=int, default=0, help="coupled axle from the leading end (default usual)"
        )
        layout.add_argument("--inside-driven-axle", type=int, default=0, help="if inside cylinders drive another one")
        layout.add_argument(
            "--carrying", choices=list(CARRYING), default="", help="single carrying axles (default usual)"
        )
        layout.add_argument(
            "--tender-axles", type=int, default=3,
            help=f"{FEWEST_TENDER_AXLES} to {MOST_TENDER_AXLES}, of a tender locomotive (default 3)",
        )  # fmt: skip
        layout.add_argument("--drawings-in", choices=UNITS, default="in", help="unit of the drawings (default in)")
        layout.add_argument(
            "--american", action="store_true", help="American words and practice: No. 1 and main axle …"
        )
        further = parser.add_argument_group("how it is built; what is left out is as usual")
        for name, choice in CHOICES.items():
            further.add_argument(
                f"--{name.replace('_', '-')}", default="", help=f"{choice.label}: {', '.join(choice.words)}"
            )
        parser.add_argument(
            "--boiler-rules",
            choices=list(Regime),
            default="",
            help="hold points to start with (default United Kingdom, or United States with --american); "
            "a starting list: what applies, the competent person decides",
        )
        parser.add_argument("--dry-run", action="store_true", help="print the starting structure and make nothing")
        about = parser.add_argument_group("what is known of it")
        for option in ("gauge", "builder", "works-number", "built"):
            about.add_argument(f"--{option}", default="")

    def handle(self, **options):
        described = {field: options[field] for field in ("gauge", "builder", "works_number", "built", "american")}
        try:
            spec = None if options["empty"] else spec_of(options)
            if options["dry_run"]:
                self.stdout.write("\n".join(printed(spec)))
                return
            regime, named = options["boiler_rules"], {"name": options["name"], "slug": options["slug"]}
            made = make_locomotive(command_line(), spec=spec, regime=regime, **named, **described)
        except (SpecError, Refused) as trouble:
            raise CommandError(str(trouble)) from None
        positions, subassemblies = made.positions.count(), made.subassemblies.count()
        self.stdout.write(f"Made {made.name} ({made.slug}): {subassemblies} subassemblies, {positions} positions.")
        if holds := made.open_overhaul().holds.count():
            self.stdout.write(
                f"{holds} hold points to start with. What applies, the competent person and the local code decide."
            )


def printed(spec: LocomotiveSpec | None) -> Iterator[str]:
    """The starting structure in words, subassembly by subassembly in the order of assembly."""
    planned = plan(spec) if spec else StructurePlan((), ())
    names = {sub.code: sub.name for sub in planned.subassemblies}
    for sub in planned.subassemblies:
        after = ", ".join(names[code] for code in sub.goes_on_after)
        yield f"{sub.name}{f', goes on after {after}' if after else ''}"
        yield from (f"    {_in_words(place)}" for place in planned.positions if place.subassembly == sub.code)


def _in_words(place: PlannedPosition) -> str:
    where = ", ".join(filter(None, (place.name, place.side, place.axle and f"{place.axle} axle", place.end)))
    looks = ", ".join(filter(None, (place.crack_check and f"crack check: {place.crack_check}", *place.calls_for)))
    marks = [word for word in ("safety_critical", "pressure_part") if getattr(place, word)]
    words = [f"{place.quantity} of" if place.quantity > 1 else "", place.material, looks]
    return "; ".join(filter(None, (where, *words, *(mark.replace("_", " ") for mark in marks))))


CARRYING = {"rigid": True, "truck": False}
SAME = (
    "wheels", "valve_gear", "valves", "brake", "superheated", "outside_frames", "tender_axles", "steam_heating",
    "boiler", "articulation", "driven_axle", "inside_driven_axle", *CHOICES,
)  # fmt: skip


def spec_of(options) -> LocomotiveSpec:
    """The spec that the options describe; without cylinders named there are two outside ones."""
    inside, outside = options["inside_cylinders"], options["outside_cylinders"]
    return LocomotiveSpec(
        inside_cylinders=inside or 0,
        outside_cylinders=outside if outside is not None else (0 if inside else 2),
        british=not options["american"],
        rigid_carrying=CARRYING.get(options["carrying"]),
        unit=options["drawings_in"],
        **{field: options[field] for field in SAME},
    )
