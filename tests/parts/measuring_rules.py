"""What people do with sizes, and what stays true of them: a part of the register that test_properties.py plays with."""

from functools import wraps

from hypothesis import strategies as st
from hypothesis.stateful import invariant, rule

from inspections.concessions.writers import concede
from inspections.models import Dimension, Examination, Measurement
from inspections.records.digests import differing
from parts.domain.words import State
from parts.models import Component, Position
from tests.factories import days, fresh

a_number = st.integers(0, 10**6)
mostly = st.sampled_from([True] * 4 + [False])
NOT_MEASURED_YET = (State.STRIPPED, State.IN_PLACE, State.WITHDRAWN)


def stays_true(check):
    """An invariant, asked for once something was written since it was asked last: most of what is tried is refused."""

    @wraps(check)
    def where_changed(register):
        if register.asked.get(check.__name__) != register.changes:
            check(register)
            register.asked[check.__name__] = register.changes

    return invariant()(where_changed)


class Measuring:
    """Needs `works`, `instrument`, `chosen`, `person` and `tried` of the machine that it is a part of."""

    @rule(n=a_number, who=a_number, able=mostly, typed=st.sampled_from(["124.96"] * 3 + ["122.5", "119", "thick"]))
    def measure(self, n, who, able, typed):
        """All the sizes of a place at once; a bore is as large as its journal or a little larger."""
        sized = Component.objects.filter(place__dimensions__isnull=False).exclude(state__in=NOT_MEASURED_YET)
        piece = self.chosen(sized.distinct().order_by("pk"), n)
        if piece is None:
            return
        sizes = {size: "125.06" if size.name == "bore" else typed for size in piece.place.dimensions.all()}
        actor = self.person(who, able, "examiner", "second_examiner", "second_engineer")
        record = self.tried(self.works.measure, piece, sizes, instrument=self.instrument, actor=actor)
        if record:
            assert not list(differing(Examination.objects.filter(pk=record.pk)))
            assert (record.result == "sound") == (typed == "124.96" or not piece.place.dimensions.exclude(name="bore"))

    @rule(n=a_number, who=a_number, able=mostly)
    def concede_a_size(self, n, who, able):
        outside = self.chosen(Measurement.objects.filter(outside=True).order_by("-pk"), n % 3)
        if outside:
            actor = self.person(who, able, "engineer", "second_engineer")
            made = self.tried(concede, outside, actor, reason="light trains only", look_again=days(100))
            assert not (made and outside.beyond_scrapping)

    @rule(n=a_number, typed=st.sampled_from(["124.96", "122.5", "119"]), conceding=mostly)
    def work_on_a_sized_piece(self, n, typed, conceding):
        """As the works would: clean it, look at it, measure it, concede what is worn, accept it."""
        sized = Component.objects.filter(place__dimensions__isnull=False).exclude(state=State.WITHDRAWN)
        piece = self.chosen(sized.distinct().order_by("pk"), n)
        if piece is None or piece.state in (State.ACCEPTED, State.REFITTED):
            return
        for deed in (self.works.clean, self.works.look_at):
            if piece.state in (State.STRIPPED, State.CLEANED):
                self.tried(deed, fresh(piece))
        sizes = {size: "125.06" if size.name == "bore" else typed for size in piece.place.dimensions.all()}
        record = self.tried(self.works.measure, piece, sizes, instrument=self.instrument)
        for outside in record.measurements.filter(outside=True) if record and conceding else ():
            self.tried(concede, outside, self.works.people.engineer, reason="light trains", look_again=days(100))
        self.tried(self.works.accept, fresh(piece))

    @stays_true
    def what_is_ready_is_measured_and_within_its_limits_or_under_a_concession(self):
        ready = Position.objects.filter(standing="ready", dimensions__isnull=False).distinct()
        for piece in Component.objects.live().filter(place__in=ready):
            for size in Dimension.objects.in_use().filter(position=piece.place_id):
                taken = Measurement.objects.of_piece(piece).filter(dimension=size).last()
                assert taken.examination.event_id > fresh(piece).bared_event
                assert not taken.outside or taken.concessions.exists()
                assert not taken.beyond_scrapping
