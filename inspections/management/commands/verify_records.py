"""`manage.py verify_records`: does every signed record still say what was signed?"""

import json
from collections.abc import Iterator
from itertools import chain

from django.core.management.base import BaseCommand, CommandError

from inspections.boiler_records.digests import differing as differing_of_boilers
from inspections.models import BoilerRecord, Examination
from inspections.records.digests import Checked, Differing, differing, vanished
from parts.domain.plain import day, several


class Command(BaseCommand):
    help = "Compute the digest of every signed record anew, and name those that do not say what was signed."

    def add_arguments(self, parser):
        parser.add_argument("--json", dest="as_json", action="store_true", help="for another program")

    def handle(self, *, as_json: bool = False, **options):
        checked, found = Checked(), []
        boilers = BoilerRecord.objects.signed().count()
        for one in chain(differing(Examination.objects.all(), checked), vanished(), of_boilers()):
            found.append(as_told(one))
            if not as_json:
                self.stdout.write(in_words(found[-1]))
        checked.records += boilers
        counted = several(checked.records, "signed record")
        if as_json:
            self.tell_a_program(checked, found)
        elif not found:
            self.stdout.write(f"{counted} checked: every one says what was signed.")
        if found:
            raise CommandError(f"{counted} checked: {several(len(found), 'record')} not as signed.")

    def tell_a_program(self, checked: Checked, found: list[dict]):
        self.stdout.write(json.dumps({"checked": checked.records, "differing": found}, ensure_ascii=False, indent=2))


def of_boilers() -> Iterator[Differing]:
    for record in differing_of_boilers():
        told = f"It is of {record.boiler}, {record}. It does not say what was signed: it was changed afterwards."
        yield Differing(record.pk, None, record.on, told)


def as_told(one: Differing) -> dict:
    piece = one.piece
    return {
        "record": one.record,
        "piece": piece.name if piece else "",
        "tag": (piece.tags.current_code() or "") if piece else "",
        "on": one.on.isoformat(),
        "day": day(one.on),
        "sentence": one.sentence,
    }


def in_words(told: dict) -> str:
    which = f"Record {told['record']}" if told["record"] else "A record"
    return f"{which}, {told['piece']} {told['tag']}".rstrip() + f", {told['day']}: {told['sentence']}"
