"""What was entered by mistake is struck: out of lists and counts, its name, code and tag free, its history kept."""

import pytest

from core.domain.refusals import Refused
from core.log.writing import written
from core.models import Event
from parts.actions.perform import undoable_acts
from parts.actions.refresh import out_of_date
from parts.actions.undo import undo
from parts.domain.words import State
from parts.drawings.writers.drawings import add_drawing
from parts.entering.writers.pieces import strip_new
from parts.finding.find_index import lacking
from parts.holds.writers import add_hold, release
from parts.mistakes.sorts import SORTS
from parts.mistakes.writers import put_back, strike
from parts.models import (
    Component,
    Drawing,
    Findable,
    Firm,
    HoldPoint,
    Location,
    Locomotive,
    Position,
    Subassembly,
    Tag,
)
from parts.structure.writers.locomotives import new_locomotive
from parts.structure.writers.structure import add_position, add_subassembly
from parts.work.writers.firms import add_firm
from tests.factories import add_location, events_of, fresh

WHY = "typed the wrong list in"


def a_hold(works):
    overhaul = works.locomotive.open_overhaul()
    return add_hold(
        overhaul,
        works.people.engineer,
        name="Asbestos survey",
        body="the surveyor",
        body_kind="another body",
        stops=["strip"],
    )


def a_locomotive(works):
    made = new_locomotive(works.people.manager, name="Second", slug="second")
    add_position(add_subassembly(made, "Boiler", works.people.manager), works.people.manager, name="dome")
    return made


MAKES = {
    "piece": lambda works: works.piece(),
    "place": lambda works: add_position(works.frames, works.people.manager, name="horn stay"),
    "subassembly": lambda works: add_subassembly(works.locomotive, "Brakes", works.people.manager),
    "location": lambda works: add_location(works.people.storekeeper, "Crate 14", "crate"),
    "hold": a_hold,
    "drawing": lambda works: add_drawing(works.people.fitter, number="1234", title="Axlebox"),
    "firm": lambda works: add_firm(works.people.manager, name="Invented Castings"),
    "locomotive": a_locomotive,
}
WHO = {"piece": "fitter", "location": "storekeeper", "hold": "engineer", "drawing": "fitter"}


def who(works, sort):
    return getattr(works.people, WHO.get(sort, "manager"))


def tables() -> dict:
    """Every row that undo may not lose, but what only grows and which event of a piece came last."""
    found = {}
    for model in (Component, Position, Subassembly, Location, HoldPoint, Drawing, Firm, Locomotive, Tag, Findable):
        found[model] = sorted(
            ({k: v for k, v in row.items() if k != "last_event"} for row in model._base_manager.values()),
            key=lambda row: str(row["id"] if model is not Findable else (row["kind"], row["thing"])),
        )
        if model is Findable:
            for row in found[model]:
                row.pop("id", None)
    return found


@pytest.mark.django_db
@pytest.mark.parametrize("sort", MAKES)
def test_it_goes_out_of_its_list_and_comes_in_again_and_is_undone_whole(works, sort):
    row, person = MAKES[sort](works), who(works, sort)
    before, model = tables(), SORTS[sort].model
    with written() as events:
        strike(sort, row, person, reason=WHY)
    assert not model.objects.filter(pk=row.pk).exists()
    assert not Findable.objects.filter(kind=sort, thing=row.pk).exists()
    assert lacking() == []
    assert out_of_date({}) == []
    assert Event.objects.get(action="strike out").remark == WHY
    (number,) = undoable_acts(events)
    undo(number, person)
    assert tables() == before
    assert out_of_date({}) == []
    strike(sort, model.objects.get(pk=row.pk), person, reason=WHY)
    again = MAKES[sort](works)  # the same name and code are free
    assert again.pk != row.pk
    last = Event.objects.filter(action="strike out").latest("pk")
    if sort not in ("piece", "hold"):  # of those several may have the same name
        with pytest.raises(Refused, match="taken by another"):
            put_back(last, person)
    else:
        put_back(last, person)
        assert model.objects.filter(pk=row.pk).exists()


@pytest.mark.engine
@pytest.mark.django_db
def test_a_place_is_as_nobody_had_looked_at_it_and_the_tag_ties_again(works):
    place = works.plain_place()
    piece = works.piece(place=place)
    code = piece.tags.current_code()
    strike("piece", piece, works.people.fitter, reason=WHY)
    assert (fresh(place).need, Tag.objects.get(code=code).thing) == ("strip", None)
    again = strip_new(works.people.volunteer, locomotive=works.locomotive, name=place.name, place=place, code=code)
    assert again.tags.current_code() == code
    with pytest.raises(Refused, match="taken by another|is tied to something else"):
        put_back(Event.objects.get(action="strike out"), works.people.fitter)


@pytest.mark.django_db
def test_what_was_signed_or_hangs_on_it_stays_and_one_is_told_what(works):
    accepted = works.piece("accepted")
    with pytest.raises(Refused, match="signed") as told:
        strike("piece", accepted, works.people.engineer, reason=WHY)
    assert "examination" in str(told.value)
    with pytest.raises(Refused, match=r"has 1 piece\b"):
        strike("place", accepted.place, works.people.manager, reason=WHY)
    with pytest.raises(Refused, match="piece"):
        strike("locomotive", works.locomotive, works.people.manager, reason=WHY)
    with pytest.raises(Refused, match="piece"):
        strike("location", works.crate, works.people.storekeeper, reason=WHY)


@pytest.mark.django_db
def test_a_hold_point_that_is_released_keeps_its_release(works):
    hold = a_hold(works)
    release(hold, works.people.engineer, reference="R 1", who="J. Doe, invented", filed="file 3")
    with pytest.raises(Refused, match="signed|release"):
        strike("hold", hold, works.people.engineer, reason=WHY)


@pytest.mark.django_db
def test_a_volunteer_strikes_what_he_entered_and_no_piece_of_another(works, client):
    own = works.piece()
    client.force_login(works.people.volunteer)
    at = f"/t/{own.tags.current_code()}"
    assert "Entered by mistake" in client.get(at).content.decode()
    assert client.post(f"{at}/mistake", {"reason": "bad"}).status_code == 422
    told = client.post(f"{at}/mistake", {"reason": WHY}, follow=True).content.decode()
    assert "is struck. It may be entered again." in told
    assert client.get(at).context["page"].endswith("not used yet")
    event = Event.objects.get(action="strike out")
    page = client.get(f"/mistakes/{event.pk}/").content.decode()
    assert WHY in page
    assert page.count("history-when") == 2  # its history is whole
    assert WHY in client.get("/mistakes/").content.decode()
    others = works.taken_over(State.STRIPPED, works.plain_place())
    assert client.post(f"/t/{others.tags.current_code()}/mistake", {"reason": WHY}).status_code == 403
    assert Component.objects.filter(pk=others.pk).exists()


@pytest.mark.django_db
def test_struck_a_second_time_or_acted_upon_in_an_old_page_it_says_so(works):
    piece = works.piece()
    strike("piece", piece, works.people.fitter, reason=WHY)
    with pytest.raises(Refused, match="struck already"):
        strike("piece", piece, works.people.fitter, reason=WHY)
    with pytest.raises(Refused, match="struck it meanwhile"):
        works.clean(piece)
    assert events_of(piece).latest("pk").action == "strike out"


@pytest.mark.django_db
def test_it_is_put_back_from_its_page_by_whoever_may(works, client):
    piece = works.piece()
    strike("piece", piece, works.people.fitter, reason=WHY)
    at = f"/mistakes/{Event.objects.get(action='strike out').pk}/"
    client.force_login(works.people.trustee)
    client.post(f"{at}back")
    assert not Component.objects.filter(pk=piece.pk).exists()
    client.force_login(works.people.fitter)
    assert "Put it back" in client.get(at).content.decode()
    assert "is put back" in client.post(f"{at}back", follow=True).content.decode()
    assert Component.objects.filter(pk=piece.pk).exists()


def test_every_sort_is_tried():
    assert set(MAKES) == set(SORTS)


@pytest.mark.django_db
def test_what_was_put_back_and_struck_again_is_not_put_back_from_the_first_time(works):
    row, person = MAKES["firm"](works), who(works, "firm")
    strike("firm", row, person, reason=WHY)
    first = Event.objects.get(action="strike out")
    put_back(first, person)
    strike("firm", SORTS["firm"].model.objects.get(pk=row.pk), person, reason=WHY)
    with pytest.raises(Refused, match="struck again since"):
        put_back(first, person)
