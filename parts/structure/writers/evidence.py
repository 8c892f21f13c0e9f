"""The writer of evidence: what something that is no longer there is known from."""

from collections.abc import Iterable

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.common import jobs
from parts.domain.job_words import EvidenceKind
from parts.models import Evidence, Photo, Position


def add_evidence(
    position: Position, actor, *, kind: str, words: str, source: str = "", photos: Iterable[Photo] = ()
) -> Evidence:
    """Write down from what a missing piece or a lost feature is known. It is never edited; more is added beside it."""
    jobs.allow_any(actor, "describe", "known empty")
    photos = list(photos)
    found = []
    if kind not in list(EvidenceKind):
        found.append(Refusal("kind", "Kind: none chosen.", f"Choose one of: {', '.join(EvidenceKind)}."))
    if not words.strip():
        found.append(Refusal("words", "What it shows: nothing was written.", "Say what can be seen, and what follows."))
    if len(source) > 200:
        found.append(Refusal("source", "Where it is: too long.", "Say it in fewer words."))
    if any(photo.position_id != position.pk for photo in photos):
        found.append(Refusal("photos", "Photos: one of them is not of this place.", "Choose from those of this place."))
    if found:
        raise Refused(*found)
    with writing.one_transaction():
        event = writing.log(
            actor, "evidence", locomotive_id=position.locomotive_id, position=position, remark=words.strip(),
            data={"kind": kind, "source": source.strip()},
        )  # fmt: skip
        evidence = Evidence.objects.create(
            position=position, kind=kind, words=words.strip(), source=" ".join(source.split()), event=event, by=actor,
            at=event.at,
        )  # fmt: skip
        evidence.photos.set(photos)
        return evidence
