"""Signing a group: each piece is looked at on record and accepted, in one transaction under one signature."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.models import Authorisation, Event, Person
from parts import facts
from parts.actions import writing
from parts.actions.accept_in_group import ACCEPT_IN_GROUP
from parts.actions.perform import carry_out, judged, lock
from parts.domain.exams_due import missing_exams
from parts.domain.grouping import AUTHORISED, needs_a_look_of_its_own
from parts.domain.plain import capital, several
from parts.domain.rows import ActionInput
from parts.domain.words import Kind, Result
from parts.models import Component

from ..models import Examination
from ..records import digests
from ..records.writers.signing import qualification_of, subject_of

Ticked = Iterable[tuple[Component, int | None]]
"""Pieces, each with the number of the last event that the page knew of it."""


def accept_group(pieces: Ticked, actor: Person, given: ActionInput) -> Event:
    """The event that is the signature of the group. Raises `Refused` with every reason, and writes nothing then."""
    writing.allow(actor, "sign group")
    pieces = list(pieces)
    if not pieces:
        raise Refused(Refusal("pieces", "No piece was ticked.", "Tick each piece that you looked at."))
    with writing.one_transaction():
        held = lock(piece.pk for piece, _ in pieces)
        for piece, seen in pieces:
            writing.not_stale(held[piece.pk], seen)
        group = _sign(list(held.values()), _to_look_at(held, given), actor, given)
        named = replace(given, more={**given.more, "group": group.pk})
        carry_out(judged(AUTHORISED, [(piece, None) for piece in held.values()], actor, named), [], actor)
        return group


def _to_look_at(held: dict[int, Component], given: ActionInput) -> list[Component]:
    """Those whose visual examination is due; one that counts already is left as it is."""
    known = facts.load(held.values())
    said_for_all = known.context(next(iter(held.values())), given)
    due, found = [], [refusal for check in ACCEPT_IN_GROUP.input_checks if (refusal := check(said_for_all))]
    for piece in held.values():
        place = known.place_of(piece)
        if own := needs_a_look_of_its_own(known.context(piece)):
            found.append(own.naming(capital(piece.name)))
        if place and any(look.kind is Kind.VISUAL for look in missing_exams(place, known.pieces[piece.pk])):
            due.append(piece)
    if found:
        raise Refused(*found)
    return due


def _sign(pieces: list[Component], due: list[Component], actor: Person, given: ActionInput) -> Event:
    """The signature, and under it the record of each look."""
    about = {("locomotive", piece.locomotive_id) for piece in pieces if piece.locomotive_id}
    entry = writing.Entry(
        word="sign group",
        about=sorted(about),
        data={
            "pieces": [piece.pk for piece in pieces],
            "names": [piece.place.words if piece.place else piece.name for piece in pieces],
            "looked_at": [piece.pk for piece in due],
            "protection": given.protection,
            "look_again": given.look_again.isoformat() if given.look_again else "",
        },
    )
    (group,) = writing.write(actor, [entry])
    if due:
        _write_looks(due, group, several(len(pieces), "piece"), actor)
    return group


def _write_looks(pieces: list[Component], group: Event, count: str, actor: Person) -> None:
    """A record for each piece, as an examination of one piece writes it, with as many queries for many as for a few."""
    overhauls = writing.open_overhauls(*{piece.locomotive_id for piece in pieces if piece.locomotive_id})
    entries = [
        writing.Entry(
            word="sign examination",
            about=writing.about(overhauls, component=piece, position=piece.place),
            from_state=piece.state,
            to_state=piece.state,
            data={"kind": Kind.VISUAL.value, "method": "", "result": Result.SOUND.value},
        )
        for piece in pieces
    ]
    right, today = qualification_of(actor, AUTHORISED, ""), writing.today()
    records = []
    for piece, event in zip(pieces, writing.write(actor, entries), strict=True):
        piece.last_event = event.pk
        records.append(
            Examination(
                component=piece,
                position=piece.place,
                kind=Kind.VISUAL.value,
                result=Result.SOUND.value,
                remarks=f"Looked at by itself, and signed in group {group.pk} of {count}.",
                on=today,
                event=event,
                subject=subject_of(piece, actor) | right | {"group": group.pk},
                form=digests.FORM,
            )
        )
    _freeze(Examination.objects.bulk_create(records), actor)
    Component.objects.bulk_update(pieces, ["last_event"])


def _freeze(records: list[Examination], actor: Person) -> None:
    """Each digest is over its rows as the database gives them back; from then on the database refuses any change."""
    stored = list(Examination.objects.filter(pk__in=[record.pk for record in records]))
    digests.read_all(stored)
    now = timezone.now()
    for record in stored:
        record.signed_by, record.signed_at = actor, now
        record.digest = digests.of_examination(record)
    Examination.objects.bulk_update(stored, ["signed_by", "signed_at", "digest"])


def authorise(person: Person, actor: Person, until: date | None) -> Authorisation:
    """The right to accept ordinary pieces in groups; a new date renews it."""
    writing.allow(actor, "authorise for groups")
    if until is None or until < writing.today():
        raise Refused(Refusal("until", "Good until: no day that is still to come.", "Give the last day of it."))
    with writing.one_transaction():
        made, _ = Authorisation.objects.update_or_create(
            person=person, kind=AUTHORISED, method="", defaults={"until": until}
        )
        data = {"person": person.pk, "kind": AUTHORISED, "until": until.isoformat()}
        writing.log(actor, "authorise", remark=f"{person}: {made.as_word()}", data=data)
        return made


def end(right: Authorisation, actor: Person) -> None:
    """From now on the person accepts nothing in groups; what was accepted stays so."""
    writing.allow(actor, "authorise for groups")
    with writing.one_transaction():
        writing.log(actor, "end authorisation", remark=str(right))
        right.delete()
