from parts.domain.words import Method, State
from parts.models import Component
from tests.factories import days, events_of, fresh
from tests.parts.actions.standard import StandardSet, refused, standing


class TestChangePlaces(StandardSet):
    action, start, ends, not_by = "change places", State.ACCEPTED, State.CLEANED, "fitter"
    entered = {"reason": "tried both on the bench"}

    def form(self, works, piece):
        if not hasattr(self, "other"):
            self.other = works.piece(State.CLEANED)
        return self.entered | {"other": self.other}

    def test_a_role_that_may_not_is_refused(self, works):
        self.other = works.piece(State.CLEANED)
        super().test_a_role_that_may_not_is_refused(works)

    def test_a_superuser_and_a_person_who_has_left_are_refused(self, works):
        self.other = works.piece(State.CLEANED)
        super().test_a_superuser_and_a_person_who_has_left_are_refused(works)

    def test_in_a_state_that_it_does_not_start_from_it_is_refused(self, works):
        self.other = works.piece(State.CLEANED)
        super().test_in_a_state_that_it_does_not_start_from_it_is_refused(works)

    def test_each_has_the_others_place_and_an_event_of_its_own(self, works):
        piece, other = works.piece(State.ACCEPTED), works.piece(State.CLEANED)
        mine, theirs = piece.place, other.place
        self.other = other
        event = self.do(works, piece)
        assert (piece.place, fresh(other).place) == (theirs, mine)
        told = events_of(other).get(pk=other.last_event)
        assert (told.action, told.remark) == (event.action, "tried both on the bench")
        assert told.subjects.filter(kind="place", number=mine.pk).exists()
        assert (piece.came_off, other.came_off) == (mine, theirs)

    def test_both_places_say_what_their_new_piece_needs(self, works):
        piece, other = works.piece(State.ACCEPTED), works.piece(State.CLEANED)
        mine, theirs = piece.place, other.place
        self.other = other
        self.do(works, piece)
        assert (standing(mine), standing(theirs)) == (("blocked", "examine"), ("blocked", "sign"))

    def test_what_the_new_place_calls_for_and_nobody_looked_at_drops_it_to_cleaned(self, works):
        easy = works.piece(State.ACCEPTED)
        hard = works.piece(State.ACCEPTED, place=works.plain_place(crack_check=Method.PENETRANT))
        self.other = hard
        Component.objects.update(since=days(-9))
        self.do(works, easy)
        assert easy.state == State.CLEANED, "it was only looked at by eye"
        assert fresh(hard).state == State.CLEANED, "a crack check is no visual examination"
        assert hard.since == easy.since == days(0)
        assert (easy.look_again, hard.look_again, easy.protection) == (None, None, "")

    def test_a_lot_that_finds_no_room_is_refused_with_nothing_half_changed(self, works):
        lot = works.piece(State.STRIPPED, place=works.plain_place(name="rivet", quantity=3))
        part = works.split(lot, 1)
        self.other = works.piece(State.STRIPPED, place=works.plain_place(name="stay", quantity=2))
        with refused("quantity"):
            self.do(works, part)

    def test_what_is_in_a_built_up_piece_goes_with_it(self, works):
        first, brass = works.a_broken_down_piece("brass", "keep")
        works.bring_on(brass, State.REFITTED)
        second = works.piece(State.STRIPPED, place=works.built_up("brass", "keep"))
        mine, theirs = first.place, second.place
        self.other = second
        self.do(works, first)
        assert fresh(brass).place.part_of == theirs
        assert (brass.fitted, brass.state) == (brass.place, State.REFITTED)
        assert events_of(brass).get(pk=brass.last_event).action == "change places"
        assert (fresh(mine).opened, fresh(theirs).opened) == (False, True)
        assert set(mine.inner.values_list("standing", flat=True)) == {"asleep"}
        assert not Component.objects.live().filter(place__part_of=mine).exists()

    def test_the_pieces_of_the_other_side_come_along_too(self, works):
        left, right = (works.plain_place(name="axlebox", side=side) for side in ("LH", "RH"))
        for outer in (left, right):
            works.place(name="brass", side=outer.side, end=outer.end, part_of=outer)
        first, self.other = works.piece(place=left), works.piece(place=right)
        works.do("break down", first, works.people.fitter)
        brass = left.inner.get().pieces.get()
        self.do(works, first)
        assert fresh(brass).place == right.inner.get()

    def test_built_up_pieces_with_other_inner_places_are_refused(self, works):
        first, _ = works.a_broken_down_piece("brass")
        self.other = works.piece(State.STRIPPED, place=works.built_up("bush"))
        with refused("inner-differ"):
            self.do(works, first)

    def test_across_two_locomotives_each_belongs_to_the_one_it_goes_on(self, works):
        piece, elsewhere = works.piece(State.STRIPPED), works.another()
        self.other = elsewhere.piece(State.STRIPPED)
        self.do(works, piece)
        assert (piece.locomotive, fresh(self.other).locomotive) == (elsewhere.locomotive, works.locomotive)

    def test_the_other_is_named_and_in_hand(self, works):
        piece = self.piece(works)
        with refused("no-other"):
            works.do(self.action, piece, works.people.engineer, reason="why not")
        self.other = works.piece(State.REFITTED)
        with refused("other-state"):
            self.do(works, piece)
