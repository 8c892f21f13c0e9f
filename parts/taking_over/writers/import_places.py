"""The places of an import: subassemblies, locations and positions, in bulk, larger ones before what is in them."""

from core.models import bulk
from parts.actions import writing
from parts.domain.import_plan import FITTED
from parts.domain.import_rows import ImportPlan, ImportStep, place_notes
from parts.domain.import_status import fresh_standing, stands_alone
from parts.domain.importing import PathKey, PlaceKey
from parts.domain.register_cells import fold, word_key
from parts.domain.words import Whereabouts
from parts.models import Location, LocationKind, Locomotive, Position, Subassembly
from parts.models.locations import AWAY
from parts.structure.writers.structure import code_among

EVIDENCE = "the works' register"
KINDS = (
    (LocationKind.CRATE, ("crate", "box", "bin", "pallet", "tray", "case")),
    (LocationKind.BAG, ("bag",)),
    (LocationKind.SHELF, ("shelf", "shelves")),
    (LocationKind.RACK, ("rack", "bay")),
    (LocationKind.BENCH, ("bench", "table")),
    (LocationKind.BUILDING, ("building", "shed", "store", "shop", "container", "room", "yard", "barn", "hall")),
)


def likely_kind(name: str) -> str:
    """What sort of place a name speaks of, by the first word that says so."""
    for word in name.split():
        for kind, names in KINDS:
            if word_key(word).rstrip("s") in {one.rstrip("s") for one in names}:
                return kind.value
    return LocationKind.OTHER.value


class Places:
    """Where the pieces of an import will be: written first, and known by their keys from then on."""

    def __init__(self, locomotive: Locomotive, made: ImportPlan, actor, source: str):
        self.locomotive, self.made, self.actor, self.source = locomotive, made, actor, source
        self.day = writing.today()
        self.subassemblies: dict[PathKey, Subassembly] = {}
        self.locations: dict[PathKey, Location] = {}
        self.positions: dict[PlaceKey, int] = {}
        self.opened: list[int] = []
        self.emptied: list[int] = []  # places that were there, and are known to be empty from now on
        self.around = {step.outer for step in made.steps} | made.opened

    def write(self, tell) -> None:
        self._subassemblies()
        self._locations()
        self._positions(tell)

    def _subassemblies(self) -> None:
        there = list(Subassembly.objects.filter(locomotive=self.locomotive))
        codes = {sub.code for sub in there}
        last = max((sub.sequence for sub in there), default=0)
        self._find(there, self.subassemblies)
        for number, (key, path) in enumerate(self.made.subassemblies.items(), 1):
            parent = self.subassemblies.get(key[:-1])
            sub = Subassembly(
                locomotive=self.locomotive,
                parent=parent,
                name=path[-1],
                code=code_among(codes, path[-1], parent),
                sequence=last + 10 * number,
            )
            codes.add(sub.code)
            self.subassemblies[key] = sub
        for batch in _by_depth(self.made.subassemblies):
            Subassembly.objects.bulk_create([self.subassemblies[key] for key in batch])
        self._log(
            [
                writing.Entry(
                    word="add subassembly", about=[("subassembly", self.subassemblies[key].pk)], remark=path[-1]
                )
                for key, path in self.made.subassemblies.items()
            ]
        )

    def _log(self, entries: list[writing.Entry]) -> None:
        """Each about the locomotive and its overhaul besides."""
        common = writing.about(locomotive=self.locomotive)
        for entry in entries:
            entry.about += common
        writing.write(self.actor, entries)

    def _locations(self) -> None:
        self._find(list(Location.objects.all()), self.locations)
        for key, path in self.made.locations.items():
            parent, kind = self.locations.get(key[:-1]), likely_kind(path[-1])
            self.locations[key] = Location(
                name=path[-1],
                kind=kind,
                parent=parent,
                path=f"{parent.path} / {path[-1]}" if parent else path[-1],
                away=kind in AWAY or bool(parent and parent.away),
            )
        for batch in _by_depth(self.made.locations):
            Location.objects.bulk_create([self.locations[key] for key in batch])
        made = [self.locations[key] for key in self.made.locations]
        writing.write(
            self.actor,
            [writing.Entry(word="add location", about=[("location", location.pk)]) for location in made],
        )

    def _find(self, there, by_path) -> None:
        """Fill `by_path` with what is there, by the folded path of names."""
        by_id = {one.pk: one for one in there}

        def path(one):
            up = by_id.get(one.parent_id)
            return (*path(up), fold(one.name)) if up else (fold(one.name),)

        for one in there:
            if not one.retired:
                by_path[path(one)] = one
            elif (became := by_id.get(getattr(one, "merged_into_id", None))) and not became.retired:
                by_path.setdefault(path(one), became)

    def made_rows(self) -> dict[str, list[int]]:
        """The numbers of what was not there before."""
        return {
            "place": [self.positions[step.key] for step in self.made.steps if step.adds_place],
            "subassembly": [self.subassemblies[key].pk for key in self.made.subassemblies],
            "location": [self.locations[key].pk for key in self.made.locations],
        }

    def _positions(self, tell) -> None:
        steps = self.made.steps
        self.positions = self.made.known_ids | {step.key: step.known.id for step in steps if step.known}
        waiting = [step for step in steps if step.adds_place]
        total = len(waiting)
        while waiting:  # built-up pieces before what is in them
            batch = [step for step in waiting if step.outer is None or step.outer in self.positions]
            ids = bulk.take_ids(Position, len(batch))
            bulk.insert(Position, [self._position(step, pk) for step, pk in zip(batch, ids, strict=True)])
            self.positions.update((step.key, pk) for step, pk in zip(batch, ids, strict=True))
            waiting = [step for step in waiting if step.key not in self.positions]
            tell("positions", total - len(waiting), total)
        self._known_empty()
        self.opened = [self.positions[key] for key in self.made.opened]

    def _position(self, step: ImportStep, pk: int) -> dict:
        row = step.row
        return {
            "id": pk,
            "locomotive_id": self.locomotive.pk,
            "subassembly_id": self.subassemblies[step.key[0]].pk,
            "part_of_id": self.positions[step.outer] if step.outer else None,
            "name": row.position,
            "side": row.side,
            "axle": row.axle,
            "end": row.end,
            "quantity": row.quantity,
            "drawing": row.drawing,
            "material": row.material,
            "safety_critical": row.safety_critical,
            "crack_check": row.crack_check,
            "notes": "" if row.has_piece else place_notes(row),
            "source": EVIDENCE,
            **(self._emptied(row) if step.adds_empty or step.withdraws else {}),
            **self._standing(step),
        }

    def _standing(self, step: ImportStep) -> dict:
        """What the place needs, where its own row says all; the others are looked at when everything is written."""
        if not stands_alone(step, self.around):
            return {}
        now = fresh_standing(step, whereabouts=self._whereabouts(step))
        return {"standing": str(now.status), "need": str(now.need or "")}

    def _whereabouts(self, step: ImportStep) -> Whereabouts:
        if step.row.state in FITTED:
            return Whereabouts.WORKS
        if not step.location:
            return Whereabouts.UNKNOWN
        return Whereabouts.ELSEWHERE if self.locations[step.location].away else Whereabouts.WORKS

    def not_settled(self) -> list[int]:
        """The places that the import touched and whose standing their own row does not settle."""
        ids = {self.positions[step.key] for step in self.made.steps if not stands_alone(step, self.around)}
        return sorted(ids | set(self.opened) | {self.made.known_ids[key] for key in self.made.known_ids})

    def _emptied(self, row) -> dict:
        withdrawn = ": withdrawn" if row.has_piece else ""
        return {
            "known_empty_on": self.day,
            "known_empty_by_id": self.actor.pk,
            "evidence": f"{EVIDENCE}{withdrawn}",
        }

    def _known_empty(self) -> None:
        """Empty places are told in the log; those that were in the register already are marked now."""
        self._log(
            [
                writing.Entry(
                    word="known empty",
                    about=[("place", self.positions[step.key])],
                    remark=EVIDENCE,
                    data={"row": step.row.number},
                )
                for step in self.made.steps
                if step.adds_empty
            ]
        )
        for step in self.made.steps:
            if step.known and not step.known.known_empty and (step.adds_empty or step.withdraws):
                Position.objects.filter(pk=step.known.id).update(**self._emptied(step.row))
                self.emptied.append(step.known.id)


def _by_depth(paths):
    """Their keys, those with short paths first, in batches of one depth."""
    for depth in sorted({len(key) for key in paths}):
        yield [key for key in paths if len(key) == depth]
