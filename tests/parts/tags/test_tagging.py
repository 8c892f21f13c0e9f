"""Tags: from the roll, tied once, replaced; the old ones still lead to their thing."""

import pytest

from parts.actions.tags import issue, unused
from parts.domain.tagcodes import check
from parts.models import Tag
from parts.tags.writers import tie
from tests.factories import events_of, fresh
from tests.parts.actions.standard import refused


def test_a_roll_of_tags_is_tied_to_nothing_and_every_code_checks(works):
    roll = unused(40)
    assert len({tag.code for tag in roll}) == 40
    assert all(check(tag.code) == tag.code for tag in roll)
    assert not Tag.objects.filter(current=True, pk__in=[tag.pk for tag in roll]).exists()


def test_a_new_tag_takes_over_and_the_old_one_still_leads_there(works):
    piece, (tag,) = works.piece(), unused(1)
    old = piece.tags.get()
    tie(tag.code, piece, works.people.volunteer)
    assert (fresh(old).component, old.current, fresh(tag).current) == (piece, False, True)
    told = events_of(piece).get(pk=fresh(piece).last_event)
    assert (told.action, told.actor, told.data["tag"]) == ("tie tag", works.people.volunteer, tag.code)


def test_a_crate_has_a_tag_too(works):
    (tag,) = unused(1)
    tie(tag.code, works.crate, works.people.storekeeper)
    assert fresh(tag).location == works.crate
    assert events_of(works.crate).latest("pk").action == "tie tag"


def test_the_usual_confusions_are_forgiven(works):
    (tag,) = unused(1)
    entered = tag.code.lower().replace("0", "o").replace("1", "l")
    assert tie(entered, works.piece(), works.people.volunteer) == tag


def test_a_tag_that_is_tied_is_refused_and_it_is_said_to_what(works):
    piece, other = works.piece(), works.piece()
    with refused("tag-tied") as caught:
        tie(piece.tags.get().code, other, works.people.volunteer)
    assert "is tied to horn guide already" in str(caught.value)


@pytest.mark.parametrize("code", ["", "ABC", "not a tag at all"])
def test_what_is_no_code_is_refused(works, code):
    piece = works.piece()
    with refused("tag"):
        tie(code, piece, works.people.volunteer)


def test_a_code_that_was_never_printed_here_is_refused(works):
    piece, (tag,) = works.piece(), unused(1)
    tag.delete()
    with refused("tag") as caught:
        tie(tag.code, piece, works.people.volunteer)
    assert "no such tag was ever printed here" in str(caught.value)


def test_who_only_reads_ties_nothing(works):
    piece, (tag,) = works.piece(), unused(1)
    with refused("role"):
        tie(tag.code, piece, works.people.trustee)


def test_an_issued_tag_is_the_current_one_from_the_start(works):
    donor = works.donor()
    donor.tags.update(current=False)
    assert issue(donor, works.people.volunteer).current
