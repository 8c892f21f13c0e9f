"""Each kind of mistake, made by whom it happens to and mended on the page by the role that may. Whoever may not is told
so, and changes nothing; afterwards the register says what is true, and the history who mended what."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from django.urls import reverse

from core.domain.catalogue import CATALOGUE
from core.models import Event
from parts.actions.perform import undoable_acts
from parts.actions.tags import unused
from parts.consumables import writers as consumables
from parts.domain.words import State
from parts.facts import workers_on
from parts.holds.writers import release
from parts.mistakes.sorts import SORTS
from parts.models import Photo, Position, Subassembly
from parts.structure.writers.structure import add_position, add_subassembly
from parts.taking_over.writers.undoing import imports_of
from tests.as_shown import sent_back, text_of
from tests.factories import add_location, fresh
from tests.parts.a_list import one_row
from tests.parts.mistakes.test_mistakes import MAKES, WHO
from tests.parts.taking_over.test_importing import bring_in
from tests.parts.undoing.test_undo import acts_in
from tests.pictures import a_photo
from tests.tables import for_each

pytestmark = [pytest.mark.django_db]
WHY = "it was the wrong one of the two"


class Shed:
    """The works, with whoever is signed in at the moment."""

    def __init__(self, works, client):
        self.works, self.client, self.people, self.clients = works, client, works.people, {}

    def signs_in(self, name: str) -> None:
        """Each on a device of their own."""
        if name not in self.clients:
            self.clients[name] = type(self.client)()
            self.clients[name].force_login(getattr(self.people, name))
        self.client = self.clients[name]

    def post(self, address: str, entered: dict, **how):
        return self.client.post(address, entered, **how)

    def sends(self, address: str, **entered):
        """The form as the page shows it, but for these fields."""
        shown = sent_back(self.client.get(address).content.decode())
        return self.post(address, {name: value for name, (value, *_) in shown.items()} | entered)

    def undo(self, numbers: str):
        return self.post("/undo/", {"acts": numbers})


@dataclass(frozen=True, kw_only=True)
class Mistake:
    """`made` gives what `mended` and `right` need; `right` is so before and after, and not in between."""

    name: str
    errs: str
    made: Callable[[Shed], Any]
    mends: str
    mended: Callable[[Shed, Any], Any]
    right: Callable[[Shed, Any], bool]
    says: str  # the word of the event that mended it
    may_not: str


def at(piece) -> str:
    return f"/t/{piece.tags.current_code()}"


# --- undone by whoever did it


def cleaned(shed: Shed, many: int = 1):
    pieces = [shed.works.piece() for _ in range(many)]
    if many == 1:
        entered = {"method": "steam", "seen": pieces[0].last_event}
        bar = shed.post(f"{at(pieces[0])}/do/clean", entered, follow=True)
    else:
        ticked = [f"{piece.pk}.{piece.last_event}" for piece in pieces]
        entered = {"do": "clean", "method": "steam", "piece": ticked, "back": "/find/?q=horn"}
        bar = shed.post("/pieces/bulk/", entered, follow=True)
    return pieces, acts_in(bar)


def moved(shed: Shed):
    piece, crate = shed.works.piece(), add_location(shed.people.storekeeper, "Crate 8")
    bar = shed.post(f"{at(piece)}/move", {"to": crate.name, "seen": piece.last_event}, follow=True)
    return piece, acts_in(bar)


def tied(shed: Shed):
    piece, (tag,) = shed.works.piece(), unused(1)
    hung = piece.tags.current_code()
    return (piece, hung), acts_in(shed.post(f"{at(piece)}/tie", {"code": tag.code}, follow=True))


def counted(shed: Shed):
    joints = consumables.add(shed.people.storekeeper, name="joint ring", in_stock=20, size="2 in", unit="", least=0)
    bar = shed.post(f"{joints.get_absolute_url()}count", {"quantity": "3", "why": ""}, follow=True)
    return joints, acts_in(bar)


def missed(shed: Shed):
    """A count ended too early: what nobody had come to yet is missed."""
    piece = shed.works.piece()
    begun = shed.post("/stock-take/begin", {"into": shed.works.crate.path}, follow=True)
    end = f"{begun.redirect_chain[-1][0]}end"
    mark = sent_back(shed.client.get(end).content.decode())
    bar = shed.post(end, {name: value for name, (value, *_) in mark.items()}, follow=True)
    return piece, acts_in(bar)


def turned(shed: Shed):
    photo = photographed(shed)
    return photo.name, acts_in(shed.post(f"/photo/{photo.name}/turn", {"way": "left"}, follow=True))


def is_stripped(shed, made) -> bool:
    return {fresh(piece).state for piece in made[0]} == {State.STRIPPED}


UNDONE = (
    ("a state", "volunteer", cleaned, is_stripped),
    ("all of a heap", "volunteer", lambda shed: cleaned(shed, 3), is_stripped),
    ("a move", "storekeeper", moved, lambda shed, made: fresh(made[0]).location == shed.works.crate),
    ("a tag tied", "storekeeper", tied, lambda shed, made: fresh(made[0][0]).tags.current_code() == made[0][1]),
    ("what is on the shelf", "storekeeper", counted, lambda shed, made: fresh(made[0]).in_stock == 20),
    ("a count ended", "storekeeper", missed, lambda shed, made: fresh(made[0]).missed_on is None),
    (
        "a photo turned",
        "volunteer",
        turned,
        lambda shed, made: Photo.objects.exclude(component=None).get().name == made[0],
    ),
)


# --- entered by mistake


def strike_address(sort: str, row) -> str:
    return f"{at(row)}/mistake" if sort == "piece" else f"/mistakes/{sort}/{row.pk}"


def entered_by_mistake(sort: str) -> Mistake:
    """Of a piece whoever entered it; of all else the role that enters such things."""
    errs = "volunteer" if sort == "piece" else WHO.get(sort, "manager")
    return Mistake(
        name=f"{sort} entered", errs=errs, mends=errs, may_not="trustee",
        made=lambda shed: (row := MAKES[sort](shed.works), strike_address(sort, row)),
        mended=lambda shed, made: shed.post(made[1], {"reason": WHY}),
        right=lambda shed, made: not SORTS[sort].model.objects.filter(pk=made[0].pk).exists(), says="strike out",
    )  # fmt: skip


def photographed(shed: Shed) -> Photo:
    shed.post(f"{at(shed.works.piece())}/photos", {"photos": a_photo()})
    return Photo.objects.latest("pk")


def photo_of_the_wrong_piece(shed: Shed):
    return photographed(shed), shed.works.piece()


def list_of_another_engine(shed: Shed):
    bring_in(shed.works, one_row(subassembly="Motion", position="slide bar", state="stripped"))
    return imports_of(shed.works.locomotive).first()


# --- the structure


def a_place_elsewhere(shed: Shed):
    motion = add_subassembly(shed.works.locomotive, "Motion", shed.people.manager)
    return add_position(motion, shed.people.manager, name="horn stay"), motion


def two_places(shed: Shed):
    boss = shed.people.manager
    return [add_position(shed.works.frames, boss, name=name) for name in ("horn stay", "hornstay")]


def two_subassemblies(shed: Shed):
    boss, engine = shed.people.manager, shed.works.locomotive
    return [add_subassembly(engine, name, boss) for name in ("Axleboxes", "Axle boxes")]


def structure_of(shed: Shed, sub: Subassembly, ending: str = "") -> str:
    return f"/l/{shed.works.locomotive.slug}/structure/{sub.code}/{ending}"


def in_order(shed: Shed) -> list[str]:
    return [sub.name for sub in shed.works.locomotive.subassemblies.as_tree()]


# --- what was signed, and under whose name


def another_ones_work(shed: Shed):
    (piece,), _ = cleaned(shed)
    return piece, Event.objects.about("piece", piece.pk).get(action="clean")


def released(shed: Shed):
    hold = MAKES["hold"](shed.works)
    release(hold, shed.people.engineer, reference="Letter 3", filed="file 3")
    return hold


def whose(shed: Shed, made):
    piece, event = made
    return shed.post(f"{at(piece)}/whose", {"event": event.pk, "person": shed.people.second_fitter.pk, "reason": WHY})


def accepted_too_early(shed: Shed):
    return shed.works.piece(State.ACCEPTED)


def sent_back_to_be_cleaned(shed: Shed, piece):
    return shed.sends(f"{at(piece)}/do/send-back", to="cleaned", reason=WHY)


MISTAKES = (
    *(
        Mistake(
            name=name, errs=errs, made=made, mends=errs, right=right, says="undo", may_not="fitter",
            mended=lambda shed, made: shed.undo(made[1]),
        )
        for name, errs, made, right in UNDONE
    ),
    Mistake(
        name="one of a heap", errs="volunteer", made=lambda shed: cleaned(shed, 3), mends="volunteer", may_not="fitter",
        mended=lambda shed, made: shed.undo(made[1].split()[1]), says="undo",
        right=lambda shed, made: [fresh(piece).state for piece in made[0]] == ["cleaned", "stripped", "cleaned"],
    ),
    Mistake(
        name="a state, seen by somebody else", errs="volunteer", made=cleaned, mends="fitter", may_not="volunteer",
        mended=lambda shed, made: shed.post(f"{at(made[0][0])}/correct", {"reason": WHY}), says="correct",
        right=is_stripped,
    ),
    *(entered_by_mistake(sort) for sort in SORTS),
    Mistake(
        name="photo taken", errs="volunteer", made=photographed, mends="volunteer", may_not="trustee",
        mended=lambda shed, photo: shed.post(f"/photo/{photo.name}/out", {"reason": WHY}), says="take photo out",
        right=lambda shed, photo: fresh(photo).component is None,
    ),
    Mistake(
        name="photo of another piece", errs="volunteer", made=photo_of_the_wrong_piece, mends="volunteer",
        may_not="trustee", says="put photo right",
        mended=lambda shed, made: shed.post(
            f"/photo/{made[0].name}/right", {"caption": "", "thing": made[1].tags.current_code()}
        ),
        right=lambda shed, made: fresh(made[0]).component == made[1],
    ),
    Mistake(
        name="list taken over", errs="manager", made=list_of_another_engine, mends="manager", may_not="engineer",
        mended=lambda shed, event: shed.post(reverse("undo_import", args=[shed.works.locomotive.slug, event.pk]),
                                             {"reason": WHY}),
        right=lambda shed, event: not Position.objects.filter(name="slide bar").exists(), says="undo import",
    ),
    Mistake(
        name="place in the wrong subassembly", errs="manager", made=a_place_elsewhere, mends="manager",
        may_not="fitter", says="edit position",
        mended=lambda shed, made: shed.sends(f"/p/{made[0].pk}/edit", subassembly=shed.works.frames.pk),
        right=lambda shed, made: fresh(made[0]).subassembly == shed.works.frames,
    ),
    Mistake(
        name="one place entered twice", errs="manager", made=two_places, mends="manager", may_not="fitter",
        mended=lambda shed, made: shed.sends(f"/p/{made[1].pk}/merge", into=made[0].pk), says="merge place",
        right=lambda shed, made: fresh(made[1]).retired,
    ),
    Mistake(
        name="one subassembly entered twice", errs="manager", made=two_subassemblies, mends="manager",
        may_not="fitter", says="merge subassembly",
        mended=lambda shed, made: shed.sends(structure_of(shed, made[1], "merge"), into=made[0].pk),
        right=lambda shed, made: fresh(made[1]).retired,
    ),
    Mistake(
        name="under no parent", errs="manager", made=two_subassemblies, mends="manager", may_not="fitter",
        mended=lambda shed, made: shed.sends(structure_of(shed, made[0]), parent=shed.works.frames.pk),
        right=lambda shed, made: fresh(made[0]).parent == shed.works.frames, says="edit subassembly",
    ),
    Mistake(
        name="wrong name of a subassembly", errs="manager", made=two_subassemblies, mends="manager", may_not="fitter",
        mended=lambda shed, made: shed.sends(structure_of(shed, made[0]), name="Springs"),
        right=lambda shed, made: fresh(made[0]).name == "Springs", says="edit subassembly",
    ),
    Mistake(
        name="wrong order", errs="manager", made=two_subassemblies, mends="manager", may_not="fitter",
        mended=lambda shed, made: shed.sends(structure_of(shed, made[1]), follows=shed.works.frames.pk),
        right=lambda shed, made: in_order(shed) == ["Frames", "Axle boxes", "Axleboxes"], says="edit subassembly",
    ),
    Mistake(
        name="wrong name on an act", errs="volunteer", made=another_ones_work, mends="engineer", may_not="fitter",
        mended=whose, says="correct name",
        right=lambda shed, made: shed.people.second_fitter.pk in workers_on([made[0].pk])[made[0].pk],
    ),
    Mistake(
        name="hold released", errs="engineer", made=released, mends="manager", may_not="fitter",
        mended=lambda shed, hold: shed.post(reverse("strike_release", args=[hold.pk]), {"reason": WHY}),
        right=lambda shed, hold: fresh(hold).released_on is None, says="strike release",
    ),
    Mistake(
        name="accepted too early", errs="engineer", made=accepted_too_early, mends="engineer", may_not="volunteer",
        mended=sent_back_to_be_cleaned, says="send back",
        right=lambda shed, piece: fresh(piece).state == State.CLEANED,
    ),
)  # fmt: skip


@pytest.mark.parametrize("mistake", MISTAKES, ids=[mistake.name for mistake in MISTAKES])
def test_it_is_mended_by_the_role_that_may_and_by_no_other(works, client, mistake):
    shed = Shed(works, client)
    shed.signs_in(mistake.errs)
    made = mistake.made(shed)
    assert not mistake.right(shed, made)
    before = Event.objects.latest("pk").pk
    shed.signs_in(mistake.may_not)
    refused = mistake.mended(shed, made)
    assert refused.status_code in (403, 422), text_of(refused)
    assert not mistake.right(shed, made)
    assert Event.objects.latest("pk").pk == before
    shed.signs_in(mistake.mends)
    mended = mistake.mended(shed, made)
    assert mended.status_code in (200, 302), text_of(mended)
    assert mistake.right(shed, made)
    told = Event.objects.filter(pk__gt=before, action=mistake.says).first()
    assert told is not None, list(Event.objects.filter(pk__gt=before).values_list("action", flat=True))
    assert told.actor == getattr(works.people, mistake.mends)


SIGNED = [word for word in CATALOGUE.event_words() if CATALOGUE.event(word).signed]


@for_each("word", SIGNED)
def test_what_is_signed_is_never_undone(works, word):
    assert undoable_acts([Event(pk=1, action=word, actor=works.people.engineer, data={"before": []})]) == []


def test_everything_that_can_be_struck_is_among_them():
    assert {f"{sort} entered" for sort in SORTS} <= {mistake.name for mistake in MISTAKES}
