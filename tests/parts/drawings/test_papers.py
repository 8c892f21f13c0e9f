"""Papers on the disk: what no row names is swept, and nothing that somebody else put there."""

import os
import time

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import storages

from parts.drawings.writers import papers

FILES = "django.core.files.storage.FileSystemStorage"
LONG_AGO = time.time() - 2 * 3600


@pytest.fixture(autouse=True)
def a_folder_of_its_own(settings, tmp_path):
    settings.STORAGES = settings.STORAGES | {"papers": {"BACKEND": FILES, "OPTIONS": {"location": tmp_path}}}


def lying(name: str) -> None:
    storage = storages["papers"]
    storage.save(name, ContentFile(b"%PDF-1.4 invented"))
    os.utime(storage.path(name), (LONG_AGO, LONG_AGO))


def test_what_no_paper_names_is_swept_and_a_strangers_file_is_left_alone(works):
    kept = papers.keep(ContentFile(b"%PDF-1.4 invented", name="letter.pdf"), works.people.engineer)
    orphan = f"{'0' * 32}.pdf"
    for name in (orphan, "the inspector's own notes.pdf"):
        lying(name)
    assert papers.sweep(dry_run=True)[0] == [f"papers/{orphan}"]
    assert papers.sweep() == ([f"papers/{orphan}"], [])
    there = set(storages["papers"].listdir("")[1])
    assert {papers.stored_name(kept), "the inspector's own notes.pdf"} <= there
    assert orphan not in there


def test_a_paper_whose_file_is_gone_is_named(works):
    kept = papers.keep(ContentFile(b"%PDF-1.4 invented", name="letter.pdf"), works.people.engineer)
    storages["papers"].delete(papers.stored_name(kept))
    assert papers.sweep()[1] == [f"papers/{papers.stored_name(kept)}"]
