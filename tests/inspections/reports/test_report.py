"""Who may have a report, and what they get."""

import pytest

from inspections.reports import record_bundles
from parts.domain.words import State
from tests.factories import Works
from tests.parts.a_half_done_works import counted


@pytest.fixture
def piece(works: Works):
    piece = works.piece(State.CLEANED)
    works.look_at(piece)
    return piece


@pytest.fixture
def addresses(works, piece) -> list[str]:
    code = piece.tags.current_code()
    return [
        f"/examinations/{piece.examinations.get().pk}/report.pdf",
        f"/t/{code}/records.pdf",
        f"/l/{works.locomotive.slug}/s/{works.frames.code}/records.pdf",
    ]


def test_whoever_is_signed_in_may_have_them(client, works, addresses):
    client.force_login(works.people.trustee)
    for address in addresses:
        answer = client.get(address)
        assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
        assert answer.content.startswith(b"%PDF")
        assert ".pdf" in answer["Content-Disposition"]


def test_a_stranger_signs_in_first_and_nothing_is_posted(client, works, addresses):
    assert [client.get(address).status_code for address in addresses] == [302] * 3
    client.force_login(works.people.trustee)
    assert [client.post(address).status_code for address in addresses] == [405] * 3


def test_what_is_not_there_is_not_printed(client, works, piece):
    client.force_login(works.people.trustee)
    unknown = ("/examinations/999999/report.pdf", "/t/2ZZZZZZZ/records.pdf", "/l/nowhere/s/frames/records.pdf")
    assert [client.get(address).status_code for address in unknown] == [404] * 3


def test_a_piece_without_records_says_so_in_print(client, works):
    client.force_login(works.people.trustee)
    code = works.piece(State.STRIPPED).tags.current_code()
    assert client.get(f"/t/{code}/records.pdf").status_code == 200


def test_too_many_for_one_file_are_refused_with_what_to_do(client, works, addresses, monkeypatch):
    monkeypatch.setattr(record_bundles, "MOST", 0)
    client.force_login(works.people.trustee)
    for address in addresses[1:]:
        answer = client.get(address)
        assert answer.status_code == 422
        assert "Open the file of one of its parts, or of one piece." in answer.content.decode()


def test_the_file_of_a_subassembly_asks_as_much_of_two_pieces_as_of_five(client, works, addresses):
    """Of 10,000 places it took 1.9 s; what a record asks for by itself is asked for all at once."""
    client.force_login(works.people.trustee)
    asked = []
    for more in (1, 3):
        for _ in range(more):
            another = works.piece(State.CLEANED)
            works.look_at(another)
        asked.append(counted(client, addresses[2]))
    assert asked[0] == asked[1]
