"""`manage.py verify_records`: does everything that was signed still say what was signed, and does the chain hold?"""

import json
from collections.abc import Iterator
from itertools import chain as iter_chain

from django.core.management.base import BaseCommand, CommandError

from core.log import chain, verifying
from core.log.verifying import NotRead, Walked, Wrong
from inspections.models import Examination
from inspections.records.digests import CheckedCount, Differing, differing, vanished
from parts.domain.plain import day, several


class Command(BaseCommand):
    help = "Compare every signed record with what was signed; walk the chain over all that is signed and logged."

    def add_arguments(self, parser):
        parser.add_argument("--json", dest="as_json", action="store_true", help="for another program")
        parser.add_argument(
            "--against",
            nargs="+",
            metavar="WORDS",
            help=f"compare with what a paper or a backup has: register, link, digits, such as {verifying.EXAMPLE}",
        )

    def handle(self, *, as_json: bool = False, against: list[str] | None = None, **options):
        checked, walked, found = CheckedCount(), Walked(), []
        for one in chain_of(checked, walked):
            found.append(one)
            if not as_json:
                self.stdout.write(in_words(one))
        counted = f"{several(checked.records, 'signed record')} checked"
        if as_json:
            self.tell_a_program(checked, walked, found)
        elif not found:
            self.stdout.write(f"{counted}: every one says what was signed.")
            links, signed = several(walked.links, "link"), several(walked.signed, "signed thing")
            self.stdout.write(f"The chain holds: {links} over the events and {signed}. {chain.seal().in_words()}")
        if against:
            self.compare(" ".join(against))
        if found:
            raise CommandError(f"{counted}: {in_all(found)}.")

    def compare(self, paper: str):
        try:
            stands, sentence = verifying.against(paper)
        except NotRead as unread:
            raise CommandError(str(unread)) from None
        if not stands:
            raise CommandError(sentence)
        self.stdout.write(sentence)

    def tell_a_program(self, checked: CheckedCount, walked: Walked, found: list[dict]):
        told = {"checked": checked.records, "links": walked.links, "chain": chain.seal()._asdict()}
        differing = [one for one in found if "record" in one]
        wrong = [one["sentence"] for one in found if "record" not in one]
        told |= {"differing": differing, "wrong": wrong}
        self.stdout.write(json.dumps(told, ensure_ascii=False, indent=2))


def chain_of(checked: CheckedCount, walked: Walked) -> Iterator[dict]:
    """The records first, each told once; then what else of the chain does not hold."""
    told = set()
    for one in iter_chain(differing(Examination.objects.all(), checked), vanished()):
        told.add(one.record)
        yield as_told(one)
    for wrong in verifying.walk(walked):
        if (wrong.kind, wrong.number) not in {("examination", number) for number in told}:
            yield as_wrong(wrong)


def as_wrong(wrong: Wrong) -> dict:
    of_record = wrong.kind == "examination" and wrong.number is not None
    record = Examination.objects.filter(pk=wrong.number or 0).first() if of_record else None
    if record is None:
        return {"sentence": wrong.sentence}
    return as_told(Differing(record.pk, record.component, record.on, CHANGED))


CHANGED = "It differs from what was signed: it was changed afterwards."


def in_all(found: list[dict]) -> str:
    records = sum("record" in one for one in found)
    told = [f"{several(records, 'record')} not as signed"] if records else []
    if more := len(found) - records:
        told.append(f"{several(more, 'thing')} in the chain not as written")
    return ", ".join(told)


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
    if "record" not in told:
        return told["sentence"]
    which = f"Record {told['record']}" if told["record"] else "A record"
    return f"{which}, {told['piece']} {told['tag']}".rstrip() + f", {told['day']}: {told['sentence']}"
