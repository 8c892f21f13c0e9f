"""Papers: scans of drawings, certificates and letters. Kept on the disk first and told to the database last."""

import secrets
from typing import cast

from django.core.files import File
from django.core.files.storage import FileSystemStorage, storages
from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.models import Paper
from parts.photos.writers import content_of, flush_folder, save_flushed, swept

MOST_BYTES = 60 * 1024 * 1024
STARTS = (
    (b"%PDF-", ".pdf"),
    (b"\xff\xd8\xff", ".jpg"),
    (b"\x89PNG\r\n\x1a\n", ".png"),
    (b"II*\x00", ".tif"),
    (b"MM\x00*", ".tif"),
)
"""How each kind of file begins (their own specifications); the name that it came with says nothing."""
NAME_BYTES = 16


def keep(file: File, actor, *, title: str = "", **on) -> Paper:
    """Keep a PDF or a picture. `on` names what it belongs to: hold, component, step, repair or drawing.

    Who may is for the caller to ask, who knows what it belongs to. Inside a transaction the row goes with it; a file
    whose row never came is an orphan, which `sweep` finds.
    """
    suffix = _kind_of(file)
    paper = Paper(
        name=secrets.token_hex(NAME_BYTES),
        suffix=suffix,
        title=(" ".join(title.split()) or str(file.name))[:200],
        size=file.size,
        content=content_of(file),
        by=actor,
        at=timezone.now(),
        **on,
    )
    save_flushed(storage(), stored_name(paper), file)
    flush_folder(storage())
    try:
        with writing.one_transaction():
            paper.save()
    except BaseException:
        storage().delete(stored_name(paper))
        raise
    return paper


def _kind_of(file: File) -> str:
    name = str(file.name)[-60:]
    if not file.size:
        raise Refused(Refusal("paper", f"Paper {name}: the file is empty.", "Choose it again."))
    if file.size > MOST_BYTES:
        most = f"{MOST_BYTES // (1024 * 1024)} MB"
        raise Refused(Refusal("paper", f"Paper {name}: it is over {most}.", "Scan it again at 300 dots per inch."))
    file.seek(0)
    start = file.read(16)
    file.seek(0)
    for mark, suffix in STARTS:
        if start.startswith(mark):
            return suffix
    raise Refused(
        Refusal("paper", f"Paper {name}: it is no PDF or picture.", "Choose a PDF, or a scan as JPEG, PNG or TIFF.")
    )


def storage() -> FileSystemStorage:
    return cast(FileSystemStorage, storages["papers"])  # the settings say so


def stored_name(paper: Paper) -> str:
    return f"{paper.name}{paper.suffix}"


def sweep(*, dry_run: bool = False, serving: bool = True) -> tuple[list[str], list[str]]:
    """Remove files that no paper names, an hour old or more unless nobody is serving; also answers which files of
    papers are missing."""
    named = {("papers", stored_name(paper)) for paper in Paper.objects.only("name", "suffix").iterator()}
    return swept(named, ("papers",), dry_run=dry_run, serving=serving)
