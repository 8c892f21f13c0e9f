"""One chain over everything signed and over the events: what is rewritten past Cotter is found out, by the chain or by
one old paper. The faults are those of /findings/faults.md, 7 and F: changes by SQL with the triggers out of the way.

The digests are compared with Python's own hashlib and json; nothing here asks the code under test what is right.
"""

import hashlib
import json

import pytest
from django.core.management import CommandError
from django.db import IntegrityError, connection, transaction

from core.domain import codes
from core.domain.catalogue import CATALOGUE
from core.log import chain
from core.log.chain import signed_kinds
from core.models import Event, Head, Link, SignedText
from inspections.findings.writers import decide
from inspections.models import Examination
from inspections.records import digests
from inspections.reports.signed_words import sheet_of
from parts.domain.words import State
from tests.factories import Works, a_works
from tests.inspections.commands.test_verify_records import found, tamper, verify
from tests.inspections.what_lasts import a_boxing_up_that_lasts, a_crack_check, boilers_that_last, sizes_that_last
from tests.parts.jobs import drawings_that_last, releases_that_last, ways_that_last

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def works(module_db) -> Works:
    return a_works()


@pytest.fixture(scope="module")
def signed(works) -> Examination:
    """One of each thing that people sign."""
    sizes_that_last(works)
    record = Examination.objects.get(kind="crack check")
    decide(record, works.people.engineer, decision="repair", reason="a line in the fillet")
    piece = works.piece(State.ACCEPTED)
    ways_that_last(works, record.component, record)
    releases_that_last(works)
    drawings_that_last(works, piece)
    boilers_that_last(works)
    a_boxing_up_that_lasts(works)
    return record


@pytest.mark.engine
def test_everything_signed_stands_in_the_chain_and_the_chain_holds(signed):
    assert "The chain holds" in verify()
    assert set(SignedText.objects.values_list("kind", flat=True)) == {*signed_kinds(), "event"}
    words = {event.action for event in Event.objects.all() if CATALOGUE.event(event.action).signed}
    assert {"accept", "concede", "decide", "decision", "release hold point", "settle drawings"} <= words


def test_a_link_is_over_the_one_before_and_over_the_text_that_was_signed(signed):
    links = list(Link.objects.order_by("number"))
    assert [link.number for link in links] == list(range(1, len(links) + 1))
    before = ""
    for link in links:
        assert hashlib.sha256(link.text.encode()).hexdigest() == link.digest
        assert json.loads(link.text)["before"] == before
        before = link.digest
    text = SignedText.objects.get(kind="examination", number=signed.pk)
    listed = json.loads(text.link.text)["signed"]
    assert ["examination", signed.pk, hashlib.sha256(text.text.encode()).hexdigest()] in listed


CHANGED, GONE = "it does not say what was signed: it was changed afterwards.", "it was signed, and is gone."
LOGGED, TEXT = "says something else than was logged.", "the text that was signed was changed or taken out."
UNSIGNED = "It differs from what was signed: it was changed afterwards."
REWRITTEN = [
    [
        ("parts_event", "UPDATE {table} SET remark = 'nothing at all' WHERE action = 'accept'", LOGGED),
        ("inspections_concession", "UPDATE {table} SET reason = 'express trains'", f"Concession 1: {CHANGED}"),
        ("inspections_findingdecision", "UPDATE {table} SET decision = 'accept as it is'",
         f"Decided finding 2: {CHANGED}"),
        ("parts_holdrelease", "UPDATE {table} SET reference = 'letter 9'", f"Release 1: {CHANGED}"),
        ("parts_decision", "UPDATE {table} SET reason = 'another'", f"Decision 1: {CHANGED}"),
        ("parts_conflict", "UPDATE {table} SET settled = 'Measured: 126 mm.'", f"Settled drawings 1: {CHANGED}"),
        ("inspections_boilerrecord", "UPDATE {table} SET sentence = '300 lb/in².'", f"Boiler record 1: {CHANGED}"),
        ("inspections_boilerrecordnote", "UPDATE {table} SET who = 'another'", f"Boiler record note 1: {CHANGED}"),
        ("inspections_boilerentry", "DELETE FROM {table}", f"Boiler file entry 1: {GONE}"),
        ("inspections_boxingup", "UPDATE {table} SET seen = 'Nothing to be seen.'", f"Boxing up 1: {CHANGED}"),
        ("inspections_tick", "UPDATE {table} SET by_what = 'test sheet 15'", f"Return tick 1: {CHANGED}"),
        ("inspections_returntoservice", "UPDATE {table} SET content = '{{}}'", f"Return to service 1: {CHANGED}"),
        ("core_link", "UPDATE {table} SET text = text || ' ' WHERE number = 3", "Link 3 does not say what was written"),
    ],
    [
        ("inspections_concession", "UPDATE {table} SET look_again = '2199-01-01'", f"Concession 1: {CHANGED}"),
        ("inspections_findingdecision", "DELETE FROM {table}", f"Decided finding 1: {GONE}"),
        ("parts_option", "UPDATE {table} SET what = 'scrap it'", f"Decision 1: {CHANGED}"),
        ("parts_conflictside", "UPDATE {table} SET says = '125 mm'", f"Settled drawings 1: {CHANGED}"),
        ("inspections_boxedpiece", "UPDATE {table} SET locked = 'locking wire'", f"Boxing up 1: {CHANGED}"),
    ],
    [
        ("parts_decision_photos", "DELETE FROM {table}", f"Decision 1: {CHANGED}"),
        ("inspections_boxingup_photos", "DELETE FROM {table}", f"Boxing up 1: {CHANGED}"),
        ("core_signedtext", "DELETE FROM {table} WHERE kind = 'concession'", f"Concession 1: {TEXT}"),
    ],
    [("parts_event", "UPDATE {table} SET data = '{{}}' WHERE action = 'clean'", LOGGED)],
    [("core_eventsubject", "UPDATE {table} SET number = number + 1 WHERE kind = 'piece'", LOGGED)],
    [("core_eventsubject", "DELETE FROM {table} WHERE kind = 'piece'", LOGGED)],
    [("core_signedtext", "UPDATE {table} SET text = '{{}}' WHERE kind = 'event'", TEXT)],
    [("inspections_examination", "UPDATE {table} SET digest = '', signed_by_id = NULL, signed_at = NULL", UNSIGNED)],
]  # fmt: skip


@pytest.mark.parametrize("changes", REWRITTEN)
def test_what_is_rewritten_past_cotter_is_found(signed, changes):
    for table, sql, _ in changes:
        tamper(table, sql)
    told = found()
    assert [sentence for _, _, sentence in changes if sentence not in told] == []


def test_a_record_whose_digest_was_computed_anew_is_found(signed):
    """Finding 7: nothing but the chain tells it then."""
    tamper("inspections_examination", f"UPDATE {{table}} SET remarks = 'fine' WHERE id = {signed.pk}")
    anew = digests.of_examination(Examination.objects.get(pk=signed.pk))
    with connection.cursor() as cursor:
        cursor.execute("UPDATE inspections_examination SET digest = %s WHERE id = %s", [anew, signed.pk])
    assert found().startswith(f"Record {signed.pk}, ")
    sheet = sheet_of(Examination.objects.for_page().get(pk=signed.pk))
    assert (sheet.as_signed, sheet.record.remarks) == (False, "")


def test_an_event_that_was_slipped_in_is_found(signed):
    Event.objects.create(actor=signed.signed_by, action="clean")
    assert "stands in no link" in found()


def test_the_last_links_cannot_be_taken_off(signed):
    last = Link.objects.order_by("-number").first()
    tamper("core_signedtext", f"DELETE FROM {{table}} WHERE link_id = {last.number} OR TRUE")
    tamper("core_link", f"DELETE FROM {{table}} WHERE number = {last.number}")
    assert f"The head stands on link {last.number}, and the last link is {last.number - 1}" in found()


def forge(number: int) -> None:
    """Make the chain anew from a link on, as somebody would who has the code and the database."""
    before = Link.objects.get(number=number - 1).digest
    for link in Link.objects.filter(number__gte=number).order_by("number"):
        content = json.loads(link.text) | {"before": before}
        events = Event.objects.filter(pk__in=[number for number, _ in content["events"]])
        content["events"] = [[event.pk, now(event)] for event in events]
        link.text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        link.digest = before = hashlib.sha256(link.text.encode()).hexdigest()
        Link.objects.filter(pk=link.pk).update(text=link.text, digest=link.digest)
    Head.objects.update(digest=before)


def now(event: Event) -> str:
    return chain.event_digest(event, event.subjects.values_list("kind", "number"))


def test_a_past_made_anew_from_there_on_is_shown_by_one_old_paper(works):
    works.piece(State.CLEANED)
    paper = chain.seal().in_words()
    assert "stands as it is on the paper" in verify("--against", *paper.split())
    cleaned = Event.objects.filter(action="clean").latest("id")
    tamper("parts_event", f"UPDATE {{table}} SET remark = 'by hand' WHERE id = {cleaned.pk}")
    tamper("core_link", "UPDATE {table} SET at = at")
    forge(2)
    assert "The chain holds" in verify()
    with pytest.raises(CommandError, match="the past was rewritten since"):
        verify("--against", *paper.split())


def test_a_paper_of_a_longer_chain_says_that_links_were_lost(works):
    seal = chain.seal()
    with pytest.raises(CommandError, match="links were lost"):
        verify("--against", seal.register, f"{seal.number + 9}", "0123456789abcdef0123")


def test_a_paper_of_another_register(works):
    with pytest.raises(CommandError, match="of another register"):
        verify("--against", "000000-0000", "1", "0123456789abcdef0123")


def test_what_cannot_be_read_is_said(works):
    with pytest.raises(CommandError, match="such as 7K3M9Q-4TXH 1234"):
        verify("--against", "nonsense")


def test_papers_printed_between_the_backup_and_its_restoring_are_no_forgeries(works):
    works.piece(State.CLEANED)
    early, backup = chain.seal(), chain.seal()
    later = early._replace(
        number=early.number + 3, digits="f" * 20
    )  # printed after the backup, from what was set aside
    chain.append([], lineage=codes.new_code(4), restored=backup._asdict())
    works.piece(State.CLEANED)
    assert "That is no sign of a forgery" in verify("--against", *later.in_words().split())
    assert "stands as it is on the paper" in verify("--against", *early.in_words().split())
    assert "stands as it is on the paper" in verify("--against", *chain.seal().in_words().split())
    assert "The chain holds" in verify()


def test_a_superseding_record_names_the_link_of_the_one_before(works, signed):
    new = a_crack_check(works, signed.component, "12", supersedes=signed)
    there = SignedText.objects.get(kind="examination", number=signed.pk)
    content = json.loads(SignedText.objects.get(kind="examination", number=new.pk).text)
    assert content["supersedes"] == [there.link_id, there.link.digest]


def test_the_page_and_the_print_draw_from_the_text_that_was_signed(client, works, signed):
    """Finding 1: whatever is renamed or rewritten since, the words are those that were signed."""
    record = Examination.objects.filter(kind="dimensional").latest("id")
    tamper("inspections_measurement", "UPDATE {table} SET dimension_words = 'bore of the gland'")
    client.force_login(works.people.engineer)
    page = client.get(f"/examinations/{record.pk}/").content.decode()
    assert "journal" in page
    assert "bore of the gland" not in page
    assert "differs from what was signed" in page


def test_a_transaction_that_is_undone_leaves_no_link(works):
    before = Link.objects.count()
    undone = transaction.atomic()
    undone.__enter__()
    works.piece(State.CLEANED)
    assert Link.objects.count() > before
    transaction.set_rollback(True)
    undone.__exit__(None, None, None)
    assert Link.objects.count() == before


@pytest.mark.parametrize("deed", ["UPDATE {} SET digest = ''", "DELETE FROM {}"])
def test_the_database_refuses_to_change_a_link(works, deed):
    with (
        pytest.raises(IntegrityError, match="The chain is never changed"),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(deed.format("core_link"))


def test_the_command_is_told_to_a_program_too(signed):
    tamper("parts_holdrelease", "UPDATE {table} SET reference = 'letter 9'")
    [wrong] = json.JSONDecoder().raw_decode(found("--json"))[0]["wrong"]
    assert wrong.startswith("Release ")
    assert wrong.endswith(": it does not say what was signed: it was changed afterwards.")
