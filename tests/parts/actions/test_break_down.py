from parts.domain.words import State
from parts.models import Component
from tests.factories import fresh
from tests.parts.actions.standard import StandardSet, refused, standing


class TestBreakDown(StandardSet):
    action, start, ends, who, not_by = "break down", State.CLEANED, State.STRIPPED, "fitter", "volunteer"

    def piece(self, works):
        return works.piece(self.start, place=works.built_up("brass", "keep"))

    def inner(self, piece):
        return {c.name: c for c in Component.objects.filter(place__part_of=piece.place)}

    def test_its_places_sleep_until_then_and_count_after(self, works):
        piece = self.piece(works)
        brass = piece.place.inner.get(name="brass")
        assert standing(brass) == ("asleep", "")
        self.do(works, piece)
        assert standing(brass) == ("blocked", "clean")

    def test_its_pieces_get_tags_at_stripped_and_lie_where_it_lies(self, works):
        piece = self.piece(works)
        event = self.do(works, piece)
        assert set(self.inner(piece)) == {"brass", "keep"}
        for one in self.inner(piece).values():
            assert (one.state, one.location, one.came_off) == (State.STRIPPED, works.crate, one.place)
            assert one.tags.filter(current=True).count() == 1
            assert one.last_event > event.pk

    def test_surfaces_now_bared_have_had_no_examination(self, works):
        piece = works.piece(State.ACCEPTED, place=works.built_up())
        event = self.do(works, piece)
        assert (piece.bared_event, piece.look_again, piece.protection) == (event.pk, None, "")

    def test_a_place_inside_that_is_known_empty_gives_no_piece(self, works):
        piece = self.piece(works)
        works.know_empty(piece.place.inner.get(name="keep"))
        self.do(works, piece)
        assert set(self.inner(piece)) == {"brass"}

    def test_pieces_that_are_known_keep_their_lives(self, works):
        outer, brass = works.a_broken_down_piece("brass")
        works.bring_on(brass, State.REFITTED)
        tag = brass.tags.get(current=True)
        self.do(works, outer)
        assert (fresh(brass).state, brass.fitted, brass.location) == (State.STRIPPED, None, works.crate)
        assert brass.tags.get(current=True) == tag
        assert self.inner(outer) == {"brass": brass}

    def test_what_went_its_own_way_meanwhile_is_not_made_up_anew(self, works):
        outer, brass = works.a_broken_down_piece("brass", "keep")
        keep = self.inner(outer)["keep"]
        works.withdraw(keep)
        works.give_place(brass, None)
        works.bring_on(works.piece(place=outer.place.inner.get(name="brass")), State.REFITTED)
        self.do(works, outer)
        assert Component.objects.live().filter(place__part_of=outer.place).count() == 1

    def test_a_piece_in_place_comes_out_with_it(self, works):
        outer = works.piece(State.IN_PLACE, place=works.built_up("brass"))
        brass = works.piece(State.IN_PLACE, place=outer.place.inner.get())
        works.do("strip", outer, works.people.fitter)
        self.do(works, outer)
        assert (fresh(brass).state, brass.fitted) == (State.STRIPPED, None)

    def test_a_wheelset_keeps_its_axles_identity(self, works):
        place = works.plain_place(name="wheelset")
        axle = works.place(name="axle", end=place.end, part_of=place, carries_identity=True)
        works.place(name="tyre", end=place.end, part_of=place)
        wheelset = works.piece(
            place=place, marks="No 2", origin="original", origin_evidence="stamped", owner="the shed"
        )
        self.do(works, wheelset)
        inner = self.inner(wheelset)
        assert (inner["axle"].place, inner["axle"].marks, inner["axle"].origin) == (axle, "No 2", "original")
        assert (inner["tyre"].marks, inner["tyre"].origin) == ("", "unknown")
        assert {piece.owner for piece in inner.values()} == {"the shed"}

    def test_a_plain_piece_is_refused(self, works):
        piece = works.piece(State.CLEANED)
        with refused("not-built-up"):
            self.do(works, piece)
