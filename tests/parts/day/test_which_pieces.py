"""Which pieces a job of a day means, named with their tags."""

import pytest

from parts.day import which_pieces
from parts.domain.plain import capital
from parts.domain.words import State
from parts.models import DayJob, Position
from tests.factories import days

pytestmark = pytest.mark.django_db


def test_a_job_about_one_piece_names_it_and_its_tag_once(works):
    piece = works.piece(State.STRIPPED)
    place, code = piece.place, piece.tags.current_code()
    Position.objects.filter(pk=place.pk).update(need="clean", standing="blocked")
    said = {"Clean 1 piece: Crate 1": capital(f"{place.words} {code}"), capital(place.words): f"Tag {code}"}
    which_pieces.name_pieces(jobs := [DayJob(need="clean", places=[place.pk], words=one) for one in said], days(0))
    assert [job.pieces for job in jobs] == [*said.values()]
