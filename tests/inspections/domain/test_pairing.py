"""Journals in their brasses, proposed where it is sure."""

from inspections.domain.pairing import SizeToPair, propose


def journal(number, name="LH journal diameter", place="axle", axle="leading"):
    return SizeToPair(number=number, name=name, place=place, axle=axle, wears="smaller")


def bore(number, side="LH", place="axlebox brass", axle="leading", name="bore"):
    return SizeToPair(number=number, name=name, place=place, axle=axle, side=side, wears="larger")


def pairs(*sizes, there=frozenset()):
    return [(one.hole, one.shaft) for one in propose(sizes, there)]


def test_each_brass_has_the_journal_of_its_side():
    sizes = (journal(1), journal(2, "RH journal diameter"), bore(3), bore(4, "RH"))
    assert pairs(*sizes) == [(3, 1), (4, 2)]


def test_journals_measured_as_one_size_go_with_both_brasses():
    assert pairs(journal(1, "journal diameter"), bore(3), bore(4, "RH")) == [(3, 1), (4, 1)]


def test_another_axle_another_side_and_the_tender_are_no_mates():
    assert pairs(journal(1, axle="driving"), bore(3)) == []
    assert pairs(journal(1, "RH journal diameter"), bore(3)) == []
    assert pairs(journal(1, place="tender axle"), bore(3)) == []


def test_what_could_be_meant_in_two_ways_is_left_alone():
    assert pairs(journal(1), journal(2, "LH journal diameter, inner"), bore(3)) == []
    assert pairs(journal(1), bore(3), bore(4, name="bore at the crown")) == []


def test_a_fit_that_is_there_is_not_proposed_again():
    assert pairs(journal(1), bore(3), there=frozenset({(3, 1)})) == []


def test_a_journal_length_is_no_diameter_and_an_axlebox_is_no_brass():
    assert pairs(journal(1, "LH journal length"), bore(3), bore(4, place="axlebox", axle="driving")) == []
