"""A large invented register, for measuring: the same for the same seed. Its pieces have histories that real ones could
have had, written in bulk; none of it speaks of a real locomotive.
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from django.utils import timezone

from core.accounts.command_line import command_line
from core.models import Event, EventSubject
from core.models.bulk import insert, take_ids
from inspections.models import Examination
from inspections.records.digests import content_of, digest
from parts.actions import writing
from parts.actions.refresh import refresh_where
from parts.domain.tagcodes import new_code
from parts.domain.words import Kind, Method, Result, Side, State
from parts.models import (
    Component,
    GoesOnAfter,
    Location,
    LocationKind,
    Locomotive,
    Movement,
    Position,
    Subassembly,
    Tag,
)
from parts.structure.writers.locomotives import make_locomotive
from tests.benchmarks.linking import link

PLACES_IN_A_GROUP = 66
"""About 300 subassemblies for 20,000 positions."""
MAIN_GROUPS = 12
BUILT_UP = ("axlebox", "rod", "valve", "hanger")
INNER = ("bush", "key", "keep")

GROUPS = ("frames", "cylinders", "motion", "springs", "brakes", "boiler", "smokebox", "ashpan", "tanks", "cab", "pipes")
NOUNS = ("bracket", "bolt", "link", "lever", "plate", "pin", "cover", "rod", "stay", "guide", "spindle", "casing")
AXLES = ("leading", "driving", "trailing", "")
MATERIALS = ("steel", "cast iron", "bronze", "wrought iron", "")

S = State
STATES = {  # how the pieces of a works half-way through might lie; invented
    S.IN_PLACE: 12,
    S.STRIPPED: 20,
    S.CLEANED: 16,
    S.CRACK_CHECKED: 10,
    S.ACCEPTED: 12,
    S.REFITTED: 14,
    S.IN_THE_MAKING: 3,
    S.RENEWED: 3,
    S.WITHDRAWN: 3,
}
NOT_LOOKED_AT, EMPTY = 0.25, 0.05
WAY = (S.STRIPPED, S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.REFITTED)
STEPS = {
    S.STRIPPED: "strip",
    S.CLEANED: "clean",
    S.CRACK_CHECKED: "crack-check",
    S.ACCEPTED: "accept",
    S.REFITTED: "refit",
}


@dataclass
class Rows:
    """Everything that is to be written, table by table."""

    positions: list[dict] = field(default_factory=list)
    components: list[dict] = field(default_factory=list)
    events: list[dict] = field(default_factory=list)
    movements: list[dict] = field(default_factory=list)
    tags: list[dict] = field(default_factory=list)
    examinations: list[dict] = field(default_factory=list)


def generate_several(*, positions: int, locomotives: int, seed: int = 1, slug: str = "invented-works") -> None:
    """So many locomotives, each with so many positions; their short names end in -2, -3 …"""
    for number in range(1, locomotives + 1):
        short = slug if number == 1 else f"{slug}-{number}"
        name = short.replace("-", " ").capitalize()
        generate(positions=positions, seed=f"{seed} {number}", slug=short, name=name)


def generate(*, positions: int, seed: str, slug: str, name: str) -> Locomotive:
    """One locomotive with so many positions. Its tags alone depend on its short name too, since no two are alike."""
    with writing.one_transaction():
        actor = command_line()
        locomotive = make_locomotive(actor, name=name, slug=slug)
        _Works(locomotive, actor, positions, seed).build()
        refresh_where({"locomotive": locomotive})
        return locomotive


class _Works:
    def __init__(self, locomotive: Locomotive, actor, positions: int, seed: str):
        self.locomotive, self.actor, self.count = locomotive, actor, positions
        self.draw, self.draw_code = random.Random(seed), random.Random(f"{seed} {locomotive.slug}")
        self.overhaul = locomotive.open_overhaul()
        self.day, self.now = writing.today(), timezone.now()
        self.rows = Rows()
        self.codes = set()

    def build(self) -> None:
        self.groups = self._groups()
        self.crates = self._crates()
        for group, share in self._shares():
            self._fill(group, share)
        self._number()
        for model, rows in (
            (Position, self.rows.positions),
            (Event, self.rows.events),
            (EventSubject, list(self._subjects())),
            (Component, self.rows.components),  # behind the events that say its state
            (Movement, self.rows.movements),
            (Tag, self.rows.tags),
            (Examination, self.rows.examinations),
        ):
            insert(model, rows, numbered=model is EventSubject)
        link(self.rows.events[0]["id"])
        self._late_places()

    # --- structure ---

    def _groups(self) -> list[Subassembly]:
        """Main groups with parts, and parts of those; each goes on after some that come before it."""
        total = max(2, round(self.count / PLACES_IN_A_GROUP))
        mains = [self._group(number, None) for number in range(min(MAIN_GROUPS, total))]
        groups = list(mains)
        for number in range(len(mains), total):
            parent = self.draw.choice(mains if number < total // 2 or number < 2 * len(mains) else groups[len(mains) :])
            while parent.parent and parent.parent.parent:
                parent = parent.parent
            groups.append(self._group(number, parent))
        beside: dict = {}
        orders = []
        for group in groups:
            before = beside.setdefault(group.parent_id, [])
            if before and self.draw.random() < 0.7:
                orders.append(GoesOnAfter(subassembly=group, after=self.draw.choice(before[-3:])))
            before.append(group)
        GoesOnAfter.objects.bulk_create(orders)
        self.mains = mains
        return groups

    def _group(self, number: int, parent: Subassembly | None) -> Subassembly:
        what = GROUPS[number % len(GROUPS)]
        name = (
            f"{what.capitalize()}, group {number + 1}" if parent is None else f"{what.capitalize()}, part {number + 1}"
        )
        return Subassembly.objects.create(
            locomotive=self.locomotive, parent=parent, code=f"group-{number + 1}", name=name, sequence=10 * (number + 1)
        )

    def _shares(self) -> Iterator[tuple[Subassembly, int]]:
        share, more = divmod(self.count, len(self.groups))
        for number, group in enumerate(self.groups):
            yield group, share + (number < more)

    def _fill(self, group: Subassembly, share: int) -> None:
        number = 0
        while number < share:
            built_up = self.draw.random() < 0.06 and number + len(INNER) < share
            outer = self._position(group, number, self.draw.choice(BUILT_UP if built_up else NOUNS))
            broken_down = built_up and self._piece_for(outer, opens=True)
            outer["opened"] = bool(broken_down)
            if not built_up:
                self._piece_for(outer)
                number += 1
                continue
            for name in INNER:
                inner = self._position(group, number, name, outer)
                if broken_down:
                    self._piece_for(inner, inside=broken_down)
            number += 1 + len(INNER)

    def _position(self, group: Subassembly, number: int, name: str, outer: dict | None = None) -> dict:
        draw = self.draw
        critical = draw.random() < 0.15
        row = {
            "locomotive_id": self.locomotive.pk,
            "subassembly_id": group.pk,
            "outer": outer,
            "name": name,
            "side": outer["side"] if outer else draw.choice(list(Side)).value,
            "axle": outer["axle"] if outer else draw.choice(AXLES),
            "end": f"row {number + 1}",
            "material": draw.choice(MATERIALS),
            "safety_critical": critical,
            "crack_check": Method.ANY.value if critical or draw.random() < 0.2 else "",
            "needed_first": draw.random() < 0.97,
            "source": "invented",
        }
        self.rows.positions.append(row)
        return row

    def _late_places(self) -> None:
        """A few positions go on after the main group that follows theirs, as a horn stay does after the wheelsets."""
        following = dict(zip((main.pk for main in self.mains), self.mains[1:], strict=False))
        edges = [
            GoesOnAfter(position_id=row["id"], after=following[row["subassembly_id"]])
            for row in self.rows.positions
            if row["subassembly_id"] in following and not row["outer"] and not row["needed_first"]
        ]
        GoesOnAfter.objects.bulk_create(edges)

    # --- places where things lie ---

    def _crates(self) -> list[Location]:
        name = f"Invented stores of {self.locomotive.slug}"
        store = Location.objects.create(name=name, path=name, kind=LocationKind.BUILDING)
        crates = []
        for number in range(max(4, self.count // 250)):
            crate = f"Crate {number + 1}"
            crates.append(Location(name=crate, path=f"{store.path} / {crate}", parent=store, kind=LocationKind.CRATE))
        firm = f"Invented Foundry of {self.locomotive.slug}"
        self.firm = Location.objects.create(name=firm, path=firm, kind=LocationKind.FIRM, away=True)
        return Location.objects.bulk_create(crates)

    # --- pieces and what became of them ---

    def _piece_for(self, position: dict, *, opens: bool = False, inside: dict | None = None) -> dict | None:
        """A piece at a drawn state, or nothing yet, or a place known to be empty. `opens`: the piece is broken down."""
        chance = self.draw.random()
        if chance < NOT_LOOKED_AT:
            return None
        if chance < NOT_LOOKED_AT + EMPTY:
            self._empty(position, "nothing but its holes")
            return None
        state = self.draw.choices(list(STATES), STATES.values())[0]
        if opens and state in (S.IN_PLACE, S.IN_THE_MAKING, S.WITHDRAWN):
            state = S.STRIPPED
        if opens and state in (S.ACCEPTED, S.RENEWED, S.REFITTED):
            state = S.CRACK_CHECKED  # its inner places are not filled yet
        if inside is not None and state is S.IN_PLACE:
            state = S.STRIPPED
        return self._piece(position, state, broken_down=opens, inside=inside)

    def _empty(self, position: dict, evidence: str) -> None:
        position |= {"known_empty_on": self.day, "known_empty_by_id": self.actor.pk, "evidence": evidence}

    def _piece(self, position: dict, state: State, *, broken_down: bool, inside: dict | None) -> dict:
        began = self.now - timedelta(days=self.draw.randrange(30, 400))
        fitted = state in (S.IN_PLACE, S.REFITTED)
        location = None if fitted and inside else self.locomotive.location if fitted else self._somewhere()
        new = state in (S.IN_THE_MAKING, S.RENEWED)
        unchecked = state is S.CRACK_CHECKED and not position["crack_check"]
        piece = {
            "locomotive_id": self.locomotive.pk,
            "position": position,
            "name": position["name"],
            "state": S.CLEANED.value if unchecked else state.value,
            "since": began.date(),
            "side": position["side"],
            "came_off": not new,
            "fitted": fitted,
            "broken_down": broken_down,
            "location_id": location.pk if location else None,
            "away_since": began.date() if location and location.away else None,
            "destination": "scrapped" if state is S.WITHDRAWN else "",
            "origin": "new" if new else "unknown",
            "before_refit": S.ACCEPTED.value if state is S.REFITTED else "",
        }
        self.rows.components.append(piece)
        self._history(piece, state, began)
        if state is S.WITHDRAWN:
            self._empty(position, "its piece was withdrawn")
        self.rows.tags.append({"piece": piece, "code": self._code(), "current": True, "tied_by_id": self.actor.pk})
        return piece

    def _somewhere(self) -> Location | None:
        chance = self.draw.random()
        return None if chance < 0.02 else self.firm if chance < 0.04 else self.draw.choice(self.crates)

    def _code(self) -> str:
        while (code := new_code(self.draw_code.randrange)) in self.codes:
            continue
        self.codes.add(code)
        return code

    def _history(self, piece: dict, state: State, at: datetime) -> None:
        if state is S.IN_PLACE:
            self._event(piece, "open overhaul", state, state, at, bares=True)
        elif state in (S.IN_THE_MAKING, S.RENEWED):
            self._event(piece, "start on", None, S.IN_THE_MAKING, at, bares=True)
            if state is S.RENEWED:
                self._looks(piece, S.IN_THE_MAKING, at + timedelta(days=9))
                self._event(piece, "pass", S.IN_THE_MAKING, S.RENEWED, at + timedelta(days=10))
        else:
            reached = WAY.index(state) if state in WAY else 0
            self._along_the_way(piece, WAY[: reached + 1], at)
            if state is S.WITHDRAWN:
                self._event(piece, "withdraw", S.STRIPPED, S.WITHDRAWN, at + timedelta(days=5))

    def _along_the_way(self, piece: dict, way: tuple[State, ...], at: datetime) -> None:
        before = None
        for state in way:
            if state is S.CRACK_CHECKED:
                self._looks(piece, S.CLEANED, at)
                if not piece["position"]["crack_check"]:
                    continue  # it is examined, and stays cleaned until it is accepted
            bares, cleans = state is S.STRIPPED, state is S.CLEANED
            self._event(piece, STEPS[state], before, state, at, bares=bares, cleans=cleans)
            before, at = state, at + timedelta(days=self.draw.randrange(1, 6))

    def _looks(self, piece: dict, state: State, at: datetime) -> None:
        """What the place calls for, signed and found sound."""
        called_for = piece["position"]["crack_check"]
        kind = Kind.CRACK_CHECK if called_for else Kind.VISUAL
        method = Method.MAGNETIC_PARTICLE.value if called_for else ""
        event = self._event(piece, "sign examination", state, state, at)
        self.rows.examinations.append(
            {
                "piece": piece,
                "logged": event,
                "kind": kind.value,
                "method": method,
                "result": Result.SOUND.value,
                "on": at.date(),
                "signed_by_id": self.actor.pk,
                "signed_at": at,
            }
        )

    def _event(self, piece, action, before, after, at, *, bares=False, cleans=False) -> dict:
        event = {
            "piece": piece,
            "at": at,
            "actor_id": self.actor.pk,
            "action": str(action),
            "from_state": str(before or ""),
            "to_state": str(after),
        }
        self.rows.events.append(event)
        piece["last"] = event
        if before is not after:
            piece["since"] = at.date()
        if bares:
            piece["bared"] = event
            if piece["location_id"]:
                self.rows.movements.append(
                    {
                        "logged": event,
                        "piece": piece,
                        "went_to_id": piece["location_id"],
                        "by_id": self.actor.pk,
                        "at": at,
                    }
                )
        if cleans:
            piece["cleaned"] = event
        return event

    def _subjects(self):
        for event in self.rows.events:
            piece = event["piece"]
            about = {"piece": piece["id"], "place": piece["position"]["id"]}
            about |= {"locomotive": self.locomotive.pk, "overhaul": self.overhaul.pk}
            yield from ({"event_id": event["id"], "kind": kind, "number": pk} for kind, pk in about.items())

    def _number(self) -> None:
        """Give every row its id, and let rows name each other by it."""
        rows = self.rows
        for model, of_model in (
            (Position, rows.positions),
            (Component, rows.components),
            (Event, rows.events),
            (Movement, rows.movements),
            (Tag, rows.tags),
            (Examination, rows.examinations),
        ):
            for row, pk in zip(of_model, take_ids(model, len(of_model)), strict=True):
                row["id"] = pk
        for row in rows.positions:
            row["part_of_id"] = row["outer"]["id"] if row["outer"] else None
        for row in rows.components:
            place = row["position"]["id"]
            row |= {"place_id": place, "came_off_id": place if row["came_off"] else None}
            row |= {"fitted_id": place if row["fitted"] else None, "last_event": row["last"]["id"]}
            row |= {name: row[event]["id"] for name, event in CLOCKS if event in row}
        for row in (*rows.movements, *rows.tags, *rows.examinations):
            row["component_id"] = row["piece"]["id"]
            if "logged" in row:
                row["event_id"] = row["logged"]["id"]
        for row in rows.examinations:
            row["position_id"] = row["piece"]["position"]["id"]
            row["digest"] = digest(content_of(Examination(**{name: row[name] for name in RECORD})))


RECORD = ("event_id", "component_id", "position_id", "kind", "method", "result", "on", "signed_by_id", "signed_at")
CLOCKS = (("bared_event", "bared"), ("cleaned_event", "cleaned"))
