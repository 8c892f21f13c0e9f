"""Each indication is decided by the engineer, on the pages: what the record shows, what may not stand, what follows."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inspections.models import FindingDecision
from parts.domain.words import State
from parts.photos.writers import add
from tests.factories import days, fresh
from tests.inspections.cracks.test_crack_check import MT, PT, at, bench, marks, signed, text_of
from tests.parts.actions.standard import standing
from tests.pictures import a_photo
from tests.tables import for_each

__all__ = ["bench"]


@pytest.fixture
def place(works):
    return works.plain_place(crack_check="any", material="steel")


@pytest.fixture
def piece(works, place):
    return works.piece(State.CLEANED, place=place)


def found(bench, piece, *each):
    """A signed crack check that showed these."""
    each = each or ({"length": "5", "where": "fillet"}, {"length": "2", "where": "web", "crack": "no"})
    assert signed(bench, piece, PT, marks(*each)).status_code == 302
    return piece.examinations.latest("pk")


@pytest.fixture
def record(bench, piece):
    return found(bench, piece)


@pytest.fixture
def office(client, record, people):
    client.force_login(people.engineer)
    return client


def to(record) -> str:
    return f"/examinations/{record.pk}/decide"


def test_one_decision_each_and_the_piece_waits_until_all_are_there(office, record, piece):
    entered = {"decision-1": "repair", "reason": "weld it up"}
    response = office.post(to(record), entered, follow=True)
    assert "Decided: indication 1 repair. 1 indication still to be decided." in text_of(response)
    assert standing(fresh(piece).place) == ("blocked", "decide")
    response = office.post(to(record), {"decision-2": "accept as it is", "reason": "a scratch"}, follow=True)
    assert "Decided on indication 2: accept as it is." in text_of(response)
    assert standing(fresh(piece).place) == ("blocked", "repair")
    assert [(x.indication.number, x.decision, x.reason) for x in FindingDecision.objects.order_by("pk")] == [
        (1, "repair", "weld it up"),
        (2, "accept as it is", "a scratch"),
    ]


def test_both_at_once_each_with_its_own_reason(office, record):
    entered = {
        "decision-1": "repair", "decision-2": "accept as it is", "reason": "as looked at together",
        "reason-2": "only a scratch", "seen": fresh(record.component).last_event,
    }  # fmt: skip
    response = office.post(to(record), entered, follow=True)
    assert "Decided: indication 1 repair; indication 2 accept as it is. Next: have it repaired" in text_of(response)
    reasons = [x.reason for x in FindingDecision.objects.order_by("pk")]
    assert reasons == ["as looked at together", "only a scratch"]


def test_all_of_them_alike(office, record):
    office.post(to(record), {"decision": "renew", "reason": "worn besides"})
    made = FindingDecision.objects.get()
    assert (made.indication, made.decision) == (None, "renew")


@for_each(
    ("entered", "sentence"),
    [
        ({"reason": "x"}, "All of them alike: None chosen."),
        ({"decision": "repair", "decision-1": "renew", "reason": "x"}, "Do one or the other."),
        ({"decision-1": "hope", "reason": "x"}, "Decision on 1: Choose one from the list."),
        ({"decision-1": "repair"}, "Reason: Nothing was written."),
        ({"decision-1": "repair", "decision-2": "renew", "reason-1": "x"}, "Reason: Nothing was written."),
    ],
)
def test_half_a_decision_is_refused_and_nothing_is_written(office, record, entered, sentence):
    response = office.post(to(record), entered)
    assert response.status_code == 422
    assert sentence in text_of(response)
    assert not FindingDecision.objects.exists()


def test_a_crack_in_a_safety_critical_piece_is_greyed_with_the_sentence_and_refused(bench, client, works):
    place = works.plain_place(crack_check="any", safety_critical=True)
    record = found(bench, works.piece(State.CLEANED, place=place))
    client.force_login(works.people.engineer)
    page = client.get(to(record))
    crack, scratch = page.context["form"].each()
    assert [refusal.code for refusal in crack["barred"]] == ["cracked"]
    assert not scratch["barred"], "what is no crack may stand"
    assert "A crack in a safety-critical piece is never accepted as it is. " in text_of(page)
    for entered in ({"decision-1": "accept as it is"}, {"decision": "accept as it is"}):
        refused = client.post(to(record), entered | {"reason": "it will do"})
        assert refused.status_code == 422
        assert "Repair it or renew it." in text_of(refused)
    assert not FindingDecision.objects.exists()
    client.post(to(record), {"decision-2": "accept as it is", "reason": "a scratch"})
    assert FindingDecision.objects.get().indication.number == 2


def test_whoever_worked_on_it_is_told_before_and_refused(bench, client, works, place):
    piece = works.piece(State.STRIPPED, place=place)
    works.clean(piece, works.people.engineer)
    record = found(bench, piece)
    client.force_login(works.people.engineer)
    page = client.get(to(record))
    assert "You recorded work on this piece." in text_of(page)
    assert client.post(to(record), {"decision": "repair", "reason": "x"}).status_code == 422
    assert not FindingDecision.objects.exists()


def test_dressed_out_and_looked_at_again_answers_it_and_supersedes_nothing(bench, client, works, record, piece):
    """The way of a small indication, on the pages: decided, dressed, found sound, accepted."""
    people = works.people
    client.force_login(people.engineer)
    response = client.post(to(record), {"decision": "re-examine", "reason": "dress it, 0.5 mm"}, follow=True)
    assert "Next: dress it out, and examine it again." in text_of(response)
    client.force_login(people.examiner)
    page = client.get(at(piece))
    assert [answer.pk for answer in page.context["answers"]] == [record.pk]
    assert "To be looked at again." in text_of(page)
    assert client.post(at(piece), PT | {"seen": fresh(piece).last_event}).status_code == 302
    assert not hasattr(type(record).objects.get(pk=record.pk), "superseded_by")
    assert client.get(at(piece)).context["answers"] == []
    assert fresh(piece).state == State.CRACK_CHECKED
    works.do("accept", piece, people.engineer, protection="oiled", look_again=days(300))
    assert fresh(piece).state == State.ACCEPTED


def test_undecided_it_is_not_accepted(record, piece, works):
    assert standing(fresh(piece).place) == ("blocked", "decide")
    assert fresh(piece).state == State.CLEANED


def test_a_late_decision_is_told(office, record):
    response = office.post(to(record), {"decision-1": "repair", "reason": "x", "seen": 1})
    assert response.status_code == 409
    assert not FindingDecision.objects.exists()


def test_others_decide_nothing_and_strangers_sign_in(client, record, people):
    for person in (people.examiner, people.fitter, people.trustee):
        client.force_login(person)
        assert client.post(to(record), {"decision": "repair", "reason": "x"}).status_code == 403
    client.logout()
    assert client.post(to(record), {"decision": "repair", "reason": "x"}).status_code == 302
    client.force_login(people.engineer)
    assert client.get("/examinations/999999/decide").status_code == 404
    assert client.delete(to(record)).status_code == 405


def test_the_record_shows_numbers_on_the_photo_and_a_line_for_each(bench, works, people):
    place = works.critical_place(calls_for=[])
    piece = works.piece(State.CLEANED, place=place)
    picture = add([a_photo()], piece, people.volunteer).photos[0]
    one = {"length": "5", "photo": picture.name, "across": "0.5", "down": "0.5"}
    signed(bench, piece, MT, marks(one, {"length": "1/4", "unit": "in", "where": "web", "crack": "no"}))
    page = bench.get(f"/examinations/{piece.examinations.get().pk}/")
    text = text_of(page)
    assert '<circle class="mark-disc"' in text
    assert [(line.number, line.length, line.crack) for line in page.context["crack"].shown] == [
        (1, "5 mm (about 0.1969 in)", "a crack, or may be one"),
        (2, "6.35 mm (0.25 in)", "no crack"),
    ]
    assert "Magnetised in directions" in text
    assert "0, 90 degrees" in text


def test_the_pages_ask_as_much_for_five_indications_as_for_two(bench, client, works, place, record):
    many = found(bench, works.piece(State.CLEANED, place=works.plain_place(crack_check="any")),
                 *[{"length": "5", "where": "web"}] * 5)  # fmt: skip
    client.force_login(works.people.engineer)

    def queries(address):
        with CaptureQueriesContext(connection) as caught:
            assert client.get(address).status_code == 200
        return len(caught)

    queries(to(record))
    for ending, most in (("decide", 56), ("", 40)):
        few, more = (queries(f"/examinations/{one.pk}/{ending}") for one in (record, many))
        assert few == more <= most
