"""`check_standings` finds what is stored wrongly, names it, and mends it when asked."""

from datetime import date
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from parts.domain.words import State
from parts.models import Component, Position
from tests.factories import a_works, fresh


def check(*words) -> str:
    text = StringIO()
    call_command("check_standings", *words, stdout=text)
    return text.getvalue()


def spoil(place) -> None:
    Position.objects.filter(pk=place.pk).update(standing="ready", need="")


@pytest.mark.engine
def test_a_register_that_is_in_order_is_told_so(works):
    works.piece(State.CLEANED)
    assert check() == "Every place stands as its rows say.\n"


def test_a_place_that_is_out_of_date_is_named_with_both_words(works, capsys):
    place = works.place(name="spring hanger", side="LH")
    spoil(place)
    with pytest.raises(CommandError, match="1 place out of date. Run it again with --mend"):
        call_command("check_standings")
    assert "spring hanger, LH: stored as ready, but its rows say blocked (strip)." in capsys.readouterr().out
    assert fresh(place).standing == "ready", "looking mends nothing"


def test_a_day_that_is_stored_wrongly_is_named_and_mended(works, capsys):
    piece = works.piece(State.ACCEPTED)
    Component.objects.filter(pk=piece.pk).update(look_again=date(2031, 5, 3))
    with pytest.raises(CommandError, match="1 place out of date"):
        call_command("check_standings")
    assert "but its rows say ready, from 3 May 2031 blocked (recheck)." in capsys.readouterr().out
    check("--mend")
    assert fresh(piece.place).changes_on == date(2031, 5, 3)
    assert check() == "Every place stands as its rows say.\n"


def test_it_is_mended_when_asked(works):
    place = works.piece(State.CLEANED).place
    spoil(place)
    assert check("--mend") == "1 place mended.\n"
    assert (fresh(place).standing, place.need) == ("blocked", "examine")
    assert check("--mend") == "0 places mended.\n"


def test_a_built_up_piece_is_mended_with_what_is_in_it(works):
    """The outer place reads how the inner ones stand, so they are set right first."""
    outer = works.built_up()
    piece = works.piece(State.CLEANED, place=outer)
    works.do("break down", piece, works.people.fitter)
    Position.objects.all().update(standing="refitted", need="")
    check("--mend")
    assert check() == "Every place stands as its rows say.\n"
    assert set(outer.inner.values_list("need", flat=True)) == {"clean"}


def test_one_locomotive_may_be_asked_for_alone(works):
    other = a_works(people=works.people)
    spoil(other.place())
    assert "stands as its rows say" in check("--locomotive", works.locomotive.slug)
    with pytest.raises(CommandError, match="1 place out of date"):
        check("--locomotive", other.locomotive.slug)


def test_an_unknown_locomotive_is_refused_and_the_known_ones_named(works):
    with pytest.raises(CommandError, match=f"no “nobody” here. Those known: {works.locomotive.slug}"):
        check("--locomotive", "nobody")
