"""What every action on a piece is held to: a wrong role, a wrong state, a stale form and a hold point are refused and
nothing is written then; done rightly, the state, the event and what is stored of the place agree."""

from contextlib import contextmanager

import pytest
from django.db import connection

from core.domain.refusals import Refused
from core.models import Event, EventSubject
from inspections.models import Concession, CrackCheck, Examination, FindingDecision, Indication, Measurement, Reading
from parts.actions.refresh import out_of_date
from parts.domain.words import State
from parts.finding.find_index import reindex
from parts.holds import writers as holds
from parts.models import Component, Earmark, Findable, HoldPoint, Location, Movement, Position, Tag
from tests.factories import days, fresh

TABLES = (
    Component,
    Earmark,
    Event,
    EventSubject,
    Examination,
    FindingDecision,
    HoldPoint,
    Location,
    Movement,
    Position,
    Tag,
)
TABLES += (Concession, CrackCheck, Indication, Measurement, Reading)


def everything() -> dict:
    found = {}
    with connection.cursor() as cursor:
        for table in TABLES:
            cursor.execute(f"SELECT * FROM {table._meta.db_table} ORDER BY {table._meta.pk.column}")
            columns = [column[0] for column in cursor.description]
            found[table.__name__] = [dict(zip(columns, row, strict=True)) for row in cursor.fetchall()]
    return found


def found_by() -> list[dict]:
    return list(Findable.objects.order_by("kind", "thing").values())


@contextmanager
def refused(*codes: str):
    """Refused for just these reasons, with nothing written."""
    before = everything()
    with pytest.raises(Refused) as caught:
        yield caught
    assert [refusal.code for refusal in caught.value.refusals] == list(codes)
    assert everything() == before


class StandardSet:
    """A test class per action sets these, and adds what is the action's own."""

    action: str
    start: State  # a state that it starts from
    ends: State
    wrong_state: State = State.WITHDRAWN
    who = "engineer"  # by whom it is done here
    not_by = "trustee"
    entered: dict = {}  # what its form says

    def piece(self, works):
        """A piece that the action may be done to."""
        return works.piece(self.start)

    def form(self, works, piece) -> dict:
        return self.entered

    def do(self, works, piece, person=None, **more):
        person = person or getattr(works.people, self.who)
        return works.do(self.action, piece, person, **self.form(works, piece) | more)

    @pytest.mark.engine
    def test_it_works_and_the_event_says_who_did_what_to_which_piece(self, works):
        piece = self.piece(works)
        before, place = piece.state, piece.place
        event = self.do(works, piece)
        assert (piece.state, piece.last_event) == (self.ends, event.pk)
        assert (event.action, event.from_state, event.to_state) == (self.action, before, self.ends)
        about = {subject.kind: subject.number for subject in event.subjects.all()}
        assert (event.actor, about["piece"], about.get("place")) == (
            getattr(works.people, self.who), piece.pk, place and place.pk,
        )  # fmt: skip
        assert about["overhaul"] == works.locomotive.open_overhaul().pk
        assert out_of_date({"locomotive": works.locomotive}) == []

    def test_the_piece_is_found_by_the_words_that_are_true_of_it_now(self, works):
        piece = self.piece(works)
        self.do(works, piece)
        stored = found_by()
        reindex([("piece", piece.pk)])
        assert found_by() == stored

    def test_since_when_it_is_so_is_the_day_its_state_changed(self, works):
        piece = self.piece(works)
        before = piece.state
        Component.objects.filter(pk=piece.pk).update(since=days(-9))
        self.do(works, fresh(piece))
        assert piece.since == days(-9 if piece.state == before else 0)

    def test_a_role_that_may_not_is_refused(self, works):
        piece = self.piece(works)
        with refused("role"):
            self.do(works, piece, getattr(works.people, self.not_by))

    def test_a_superuser_and_a_person_who_has_left_are_refused(self, works):
        piece, person = self.piece(works), works.people.trustee
        person.is_superuser = True
        with refused("role"):
            self.do(works, piece, person)
        person = getattr(works.people, self.who)
        person.is_active = False
        with refused("role"):
            self.do(works, piece, person)

    def test_the_second_of_two_people_is_told_who_was_quicker(self, works):
        piece = self.piece(works)
        seen = piece.last_event
        self.do(works, piece)
        with refused("stale") as caught:
            self.do(works, piece, seen=seen)
        assert f"{getattr(works.people, self.who)} recorded “{self.action}” on it at" in str(caught.value)

    def test_in_a_state_that_it_does_not_start_from_it_is_refused(self, works):
        piece = works.piece(self.wrong_state)
        with refused("state"):
            self.do(works, piece)

    def test_a_hold_point_that_names_it_stops_it(self, works):
        if self.action not in holds.stoppable():
            return
        piece = self.piece(works)
        overhaul = works.locomotive.open_overhaul()
        hold = holds.add_hold(
            overhaul, works.people.engineer, name="survey", stops=[self.action], body="the owner", component=piece
        )
        with refused("hold"):
            self.do(works, piece)
        holds.release(hold, works.people.engineer, reference="letter of 3 May", filed="boiler file")
        self.do(works, fresh(piece))
        assert piece.state == self.ends


def standing(place) -> tuple[str, str]:
    fresh(place)
    return place.standing, place.need
