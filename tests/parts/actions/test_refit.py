import pytest

from inspections.records.writers.signing import sign
from parts.domain.words import Kind, Side, State
from parts.holds import writers as holds
from parts.models import Component
from parts.structure.writers.structure import add_subassembly, set_order
from tests.factories import days, fresh
from tests.parts.actions.standard import StandardSet, refused, standing


class TestRefit(StandardSet):
    action, start, ends, who, not_by = "refit", State.ACCEPTED, State.REFITTED, "fitter", "examiner"
    wrong_state = State.CRACK_CHECKED

    def test_it_lies_on_the_locomotive_and_its_place_is_refitted(self, works):
        piece = self.piece(works)
        event = self.do(works, piece)
        assert (piece.fitted, piece.location) == (piece.place, works.locomotive.location)
        assert event.movement.went_to == works.locomotive.location
        assert standing(piece.place) == ("refitted", "")

    def test_what_was_on_trial_is_on_trial_no_longer(self, works):
        piece = self.piece(works)
        works.do("offer up", piece, works.people.volunteer)
        self.do(works, piece)
        assert (piece.on_trial, standing(piece.place)) == (False, ("refitted", ""))

    def test_a_renewed_piece_is_refitted_too(self, works):
        piece = works.piece(State.RENEWED)
        self.do(works, piece)
        assert (piece.state, piece.before_refit) == (State.REFITTED, State.RENEWED)

    def test_what_goes_into_another_piece_lies_where_that_one_lies(self, works):
        outer, brass = works.a_broken_down_piece("brass")
        works.bring_on(brass, State.ACCEPTED)
        self.do(works, brass)
        assert (brass.location, standing(brass.place)) == (None, ("refitted", ""))
        assert standing(outer.place) == ("blocked", "clean")

    def test_a_piece_that_is_not_broken_down_takes_nothing_in(self, works):
        outer = works.piece(State.STRIPPED, place=works.built_up("brass"))
        brass = works.piece(State.STRIPPED, place=outer.place.inner.get())
        works.bring_on(brass, State.ACCEPTED)
        with refused("outer-not-open"):
            self.do(works, brass)

    def test_a_safety_critical_piece_takes_two_names(self, works):
        piece = works.piece(State.ACCEPTED, place=works.critical_place())
        with refused("checker"):
            self.do(works, piece)
        with refused("checker"):
            self.do(works, piece, checker=works.people.fitter.pk)
        event = self.do(works, piece, checker=works.people.second_fitter.pk)
        assert (event.actor, event.checker) == (works.people.fitter, works.people.second_fitter)

    def test_the_checker_is_somebody_who_is_still_here(self, works):
        piece, gone = works.piece(State.ACCEPTED), works.people.second_fitter
        type(gone).objects.filter(pk=gone.pk).update(is_active=False)
        for checker in (gone.pk, 10**6):
            with refused("checker"):
                self.do(works, piece, checker=checker)

    @pytest.mark.parametrize("away", [True, False])
    def test_a_piece_that_is_away_or_lost_is_refused(self, works, away):
        piece = works.piece(State.ACCEPTED, location=works.firm() if away else None)
        with refused("away" if away else "not-found"):
            self.do(works, piece)

    def test_order_is_kept_and_only_the_responsible_engineer_passes_it_with_a_reason(self, works):
        wheels = add_subassembly(works.locomotive, "Wheelsets", works.people.manager)
        works.plain_place(name="wheelset", subassembly=wheels)
        set_order(works.frames, [wheels], works.people.manager)
        piece = self.piece(works)
        with refused("order") as caught:
            self.do(works, piece)
        assert "It goes on after Wheelsets, where 1 place is not refitted yet." in str(caught.value)
        with refused("order"):
            self.do(works, piece, override="in a hurry")
        event = self.do(works, piece, works.people.engineer, override="the wheels go under it on the drop table")
        assert event.data["override"] == "the wheels go under it on the drop table"
        assert event.data["passed_over"] == ["It goes on after Wheelsets, where 1 place is not refitted yet."]

    def test_a_late_place_goes_on_after_what_it_names_in_its_own_right(self, works):
        wheels = add_subassembly(works.locomotive, "Wheelsets", works.people.manager)
        wheelset = works.piece(State.ACCEPTED, place=works.plain_place(name="wheelset", subassembly=wheels))
        stay = works.piece(State.ACCEPTED, place=works.plain_place(name="horn stay"))
        set_order(stay.place, [wheels], works.people.manager)
        with refused("order"):
            self.do(works, stay)
        self.do(works, wheelset)
        self.do(works, stay)

    def test_the_order_asked_is_that_of_the_locomotive_it_goes_on(self, works):
        """A donor piece from another locomotive."""
        wheels = add_subassembly(works.locomotive, "Wheelsets", works.people.manager)
        works.plain_place(name="wheelset", subassembly=wheels)
        set_order(works.frames, [wheels], works.people.manager)
        donor = works.another().piece(State.STRIPPED)
        works.give_place(donor, works.plain_place())
        assert donor.locomotive == works.locomotive
        works.bring_on(donor, State.ACCEPTED)
        with refused("order"):
            self.do(works, donor)

    def test_side_and_marks_agree_or_the_engineer_says_why_not(self, works):
        piece = works.piece(State.STRIPPED, place=works.plain_place(side=Side.LH), marks="II R", side=Side.RH)
        works.give_place(piece, works.plain_place(side=Side.LH))
        works.bring_on(piece, State.ACCEPTED)
        with refused("side", "marks"):
            self.do(works, piece)
        event = self.do(works, piece, works.people.engineer, override="the stamps are from an earlier repair")
        assert len(event.data["passed_over"]) == 2

    def test_a_hold_on_its_subassembly_or_on_the_whole_overhaul_stops_it(self, works):
        part = add_subassembly(works.locomotive, "Horns", works.people.manager, parent=works.frames)
        piece = works.piece(State.ACCEPTED, place=works.plain_place(subassembly=part))
        overhaul = works.locomotive.open_overhaul()
        for on in ({"subassembly": part}, {"subassembly": works.frames}, {}):
            hold = holds.add_hold(
                overhaul, works.people.engineer, name="survey", stops=["refit"], body="the owner", **on
            )
            with refused("hold"):
                self.do(works, piece)
            holds.release(hold, works.people.engineer, reference="letter 4", filed="boiler file")
        self.do(works, piece)

    def test_a_piece_to_be_looked_at_again_by_today_is_in_doubt(self, works):
        piece = works.piece(State.CLEANED)
        sign(piece, works.people.examiner, kind=Kind.VISUAL, result="sound", on=days(-90), remarks="lay clean")
        works.accept(piece, look_again=days(1))
        Component.objects.filter(pk=piece.pk).update(look_again=days(0))  # as if a day had passed
        with refused("in-doubt"):
            self.do(works, piece)
        sign(fresh(piece), works.people.examiner, kind=Kind.VISUAL, result="sound", look_again=days(300))
        self.do(works, fresh(piece))

    def test_a_wheelset_is_known_by_the_axle_that_is_in_it(self, works):
        place = works.plain_place(name="wheelset")
        axle_place = works.place(name="axle", end=place.end, part_of=place, carries_identity=True)
        wheelset = works.piece(place=place, marks="No 2")
        works.do("break down", wheelset, works.people.fitter)
        works.withdraw(axle_place.pieces.get())
        donor = works.piece(State.STRIPPED, place=axle_place, marks="No 5", origin="another locomotive")
        works.bring_on(donor, State.REFITTED)
        assert (fresh(wheelset).marks, wheelset.origin) == ("No 5", "another locomotive")
