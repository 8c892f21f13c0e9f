"""A photo is put right or taken out by who took it or at the bench; one in a record stays there."""

from decimal import Decimal

import pytest
from PIL import Image

from core.domain.refusals import Refused
from core.log.writing import written
from inspections.records.writers.crack_checks import Mark
from inspections.records.writers.signing import sign
from parts.actions.perform import undoable_acts
from parts.actions.undo import undo
from parts.domain.words import Kind, Method, State
from parts.models import Photo
from parts.photos import mending, turning, writers
from tests.as_shown import text_of
from tests.factories import events_of, how_checked
from tests.pictures import a_photo


@pytest.fixture
def piece(works):
    return works.piece()


@pytest.fixture
def picture(works, piece) -> Photo:
    return writers.add([a_photo()], piece, works.people.volunteer, caption="as found").photos[0]


@pytest.fixture
def pim(client, works):
    client.force_login(works.people.volunteer)
    return client


def now(picture) -> Photo:
    return Photo.objects.get(pk=picture.pk)


def test_a_photo_goes_to_the_right_piece_and_stands_in_the_history_of_both(works, pim, piece, picture):
    other = works.piece()
    at = f"/photo/{picture.name}/"
    assert "Put this photo right" in text_of(pim.get(at))
    entered = {"caption": "worn face", "thing": other.tags.current_code()}
    assert pim.post(f"{at}right", entered).url == at
    assert (now(picture).component, now(picture).caption) == (other, "worn face")
    assert not piece.photos.exists()
    for thing in (piece, other):
        assert events_of(thing).latest("pk").action == "put photo right"
    assert "A photo put right" in text_of(pim.get(f"/t/{piece.tags.current_code()}"))


@pytest.mark.engine
def test_a_photo_of_a_piece_may_turn_out_to_be_of_a_crate(works, pim, picture):
    pim.post(f"/photo/{picture.name}/right", {"caption": "", "thing": works.crate.name})
    assert (now(picture).component, now(picture).location, now(picture).caption) == (None, works.crate, "")


def test_a_photo_taken_out_is_shown_with_nothing_and_its_page_stays(pim, piece, picture):
    answer = pim.post(f"/photo/{picture.name}/out", {"reason": "it shows somebody's face"}, follow=True)
    assert "The photo is taken out." in text_of(answer)
    assert not piece.photos.exists()
    assert events_of(piece).latest("pk").remark == "it shows somebody's face"
    page = pim.get(f"/photo/{picture.name}/")
    assert page.status_code == 200
    assert "Put this photo right" not in text_of(page)


def test_why_it_is_taken_out_is_asked(pim, picture, piece):
    assert pim.post(f"/photo/{picture.name}/out", {"reason": "bad"}).status_code == 422
    assert piece.photos.exists()


@pytest.mark.parametrize("deed", ["put_right", "take_out"])
def test_either_is_undone_whole_and_not_once_it_was_changed_again(works, piece, picture, deed):
    person = works.people.volunteer
    entered = {"put_right": {"caption": "x", "thing": works.crate}, "take_out": {"reason": "not of this piece"}}[deed]
    before = Photo.objects.values().get()
    with written() as events:
        getattr(mending, deed)(picture, person, **entered)
    undo(*undoable_acts(events), person)
    assert Photo.objects.values().get() == before
    with written() as events:
        mending.put_right(picture, person, caption="one")
    mending.put_right(picture, person, caption="two")
    with pytest.raises(Refused, match="put right again"):
        undo(*undoable_acts(events), person)


def an_axle(works):
    place = works.place(name="axle", crack_check=Method.PENETRANT, surfaces=["journal"])
    return works.piece(State.CLEANED, place=place)


def signed_with(works, axle, picture):
    mark = Mark(length="2", unit="mm", where="at the key", photo=picture, across=Decimal("0.1"), down=Decimal("0.5"))
    given = {
        "result": "indication",
        "found": "a line in the fillet",
        "check": how_checked(Method.PENETRANT),
        "marks": [mark],
    }
    sign(axle, works.people.examiner, kind=Kind.CRACK_CHECK, method=Method.PENETRANT, reached=["journal"], **given)


@pytest.mark.parametrize("deed", ["put_right", "turn"])
def test_what_was_done_to_one_before_it_was_signed_is_not_undone_after(works, deed):
    axle, person = an_axle(works), works.people.volunteer
    picture = writers.add([a_photo()], axle, person).photos[0]
    with written() as events:
        if deed == "turn":
            turning.turn(picture, person, quarters=1)
        else:
            mending.put_right(picture, person, caption="the fillet")
    shown = axle.photos.get()
    signed_with(works, axle, shown)
    with pytest.raises(Refused, match="part of a record"):
        undo(*undoable_acts(events), person)
    assert axle.photos.get() == shown
    assert now(shown).caption == shown.caption


def test_one_in_a_signed_record_stays_there_as_it_was_signed(works):
    axle = an_axle(works)
    picture = writers.add([a_photo()], axle, works.people.volunteer).photos[0]
    signed_with(works, axle, picture)
    with pytest.raises(Refused, match="part of a record"):
        mending.take_out(picture, works.people.volunteer, reason="it is not of this piece")
    with pytest.raises(Refused, match="part of a record"):
        mending.put_right(picture, works.people.engineer, caption="both faces")


def test_another_volunteer_may_not_and_a_fitter_may(works, client, picture):
    client.force_login(works.people.fitter)
    assert client.post(f"/photo/{picture.name}/right", {"caption": "worn face"}).status_code == 302
    theirs = writers.add([a_photo()], works.crate, works.people.fitter).photos[0]
    client.force_login(works.people.volunteer)
    assert "Put this photo right" not in text_of(client.get(f"/photo/{theirs.name}/"))
    assert client.post(f"/photo/{theirs.name}/out", {"reason": "it is out of focus"}).status_code == 403
    client.force_login(works.people.trustee)
    assert client.get(f"/photo/{picture.name}/right").status_code == 403


@pytest.mark.engine
def test_twice_is_refused_a_stranger_signs_in_and_no_other_method_is_answered(client, works, pim, picture):
    at = f"/photo/{picture.name}/out"
    pim.post(at, {"reason": "it is out of focus"})
    again = pim.post(at, {"reason": "it is out of focus"})
    assert again.status_code == 422
    assert "taken out already" in text_of(again)
    assert pim.put(at).status_code == 405
    assert pim.get("/photo/none/right").status_code == 404
    client.logout()
    assert client.get(at).url.startswith("/sign-in/?next=")


@pytest.mark.engine
def test_one_that_lies_on_its_side_is_turned_and_turned_back(works, pim, piece, picture):
    before = Photo.objects.values().get(pk=picture.pk)
    answer = pim.post(f"/photo/{picture.name}/turn", {"way": "right"}, follow=True)
    assert "The photo is turned." in text_of(answer)
    (turned,) = piece.photos.all()
    assert (turned.width, turned.height, turned.caption) == (picture.height, picture.width, picture.caption)
    large = Image.open(writers.shown().open(writers.picture_name(turned.name, "large")))
    assert large.size == (turned.width, turned.height)
    assert pim.get(f"/photo/{picture.name}/").status_code == 200  # the old one stays to be seen
    event = events_of(piece).latest("pk")
    undo(event.pk, works.people.volunteer)
    assert Photo.objects.values().get(pk=picture.pk) == before
    assert list(piece.photos.all()) == [picture]


def test_whoever_puts_it_right_second_sees_what_the_first_wrote(pim, picture):
    at = f"/photo/{picture.name}/right"
    shown = {"seen": "0", "was": '{"caption": ["as found"], "thing": []}', "thing": ""}
    assert pim.post(at, shown | {"caption": "worn face"}).status_code == 302
    told = pim.post(at, shown | {"caption": "other face"})
    assert told.status_code == 409
    assert "By now the register says: <strong>worn face</strong>" in text_of(told)
    assert now(picture).caption == "worn face"
