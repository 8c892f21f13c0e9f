"""The page that a scan opens."""

from datetime import timedelta

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from core.log import writing
from parts.domain.words import Method, State
from parts.models import LocationKind
from parts.structure.writers.structure import edit_position
from tests.as_shown import text_of
from tests.factories import add_location, fresh
from tests.tables import for_each


def address(piece) -> str:
    return reverse("tag", args=[piece.tags.current_code()])


def page(client, person, piece):
    client.force_login(person)
    return client.get(address(piece))


def test_a_stranger_signs_in_first(client, works):
    where = address(works.piece())
    assert client.get(where).url == f"/sign-in/?next={where}"


@for_each("state", list(State))
def test_a_piece_of_every_state_has_a_page(client, works, state):
    response = page(client, works.people.volunteer, works.piece(state))
    assert response.status_code == 200
    assert f">{state}</span>" in text_of(response)


def test_the_next_thing_is_the_first_button(client, works):
    piece = works.piece(State.STRIPPED)
    response = page(client, works.people.volunteer, piece)
    assert response.context["doing"].first.key == "clean"
    assert f'<a class="button button-first" href="{address(piece)}/do/clean">Mark it cleaned</a>' in text_of(response)


def test_who_may_not_do_the_next_thing_is_told_who_may(client, works):
    response = page(client, works.people.volunteer, works.piece(State.CRACK_CHECKED))
    assert "“Accept it” is for a responsible engineer: " in text_of(response)
    assert "button-first" not in text_of(response)
    assert "Try it in place" in [button.label for button in response.context["doing"].can]


def test_a_grey_button_says_why(client, works):
    piece = works.piece(State.ACCEPTED)
    works.do("offer up", piece, works.people.fitter)
    response = page(client, works.people.engineer, piece)
    grey = {button.key: button for button in response.context["doing"].soon}
    assert [refusal.code for refusal in grey["withdraw"].refusals] == ["on-trial"]
    assert "It is offered up. Take it off first." in text_of(client.get(f"{address(piece)}/why"))


def test_the_engineer_may_press_what_only_a_reason_stands_against(client, works):
    place = works.plain_place(side="LH")
    piece = works.piece(State.ACCEPTED, place=place, side="RH")
    assert page(client, works.people.fitter, piece).context["doing"].first.refusals
    assert not page(client, works.people.engineer, piece).context["doing"].first.refusals


def test_a_state_taken_over_on_a_works_word_is_told_apart(client, works):
    piece = works.taken_over(State.CRACK_CHECKED, works.plain_place(crack_check="any"))
    assert "taken over as crack-checked" in text_of(page(client, works.people.trustee, piece))
    checked = works.piece(State.CRACK_CHECKED)
    assert "taken over" not in text_of(page(client, works.people.trustee, checked))


def test_it_says_where_the_piece_lies(client, works):
    piece = works.piece()
    assert f'<a href="{works.crate.get_absolute_url()}">{works.crate.path}</a>' in text_of(
        page(client, works.people.trustee, piece)
    )


def test_what_is_fitted_in_another_piece_lies_where_that_one_lies(client, works):
    outer_place = works.built_up("brass")
    outer = works.piece(State.CLEANED, place=outer_place)
    works.do("break down", outer, works.people.fitter)
    inner = outer_place.inner.get().pieces.get()
    works.bring_on(inner, State.REFITTED)
    text = text_of(page(client, works.people.trustee, inner))
    assert f"In {outer.name}; that is: {works.crate.path}" in text


def test_an_examination_undone_by_work_is_shown_as_no_longer_counting(client, works):
    piece = works.piece(State.CRACK_CHECKED)
    assert page(client, works.people.trustee, piece).context["looks"][0].counting
    works.do("send back", piece, works.people.fitter, to="cleaned", reason="dropped")
    response = page(client, works.people.trustee, piece)
    assert not response.context["looks"][0].counting
    told = text_of(response)
    assert f"no longer counts: {works.people.fitter} sent the piece back after it." in told
    assert f"no longer counts. {works.people.fitter} sent the piece back after it." in told  # what it needs next
    assert f"<dt>Cleaned</dt><dd>sent back by {works.people.fitter}, " in response.content.decode()
    works.do("send back", piece, works.people.fitter, to="stripped", reason="oil on it")
    works.do("clean", piece, works.people.volunteer, method="by hand")
    told = text_of(page(client, works.people.trustee, piece))
    assert "The piece was cleaned after it." in told
    assert "sent back by" not in told


def test_the_caution_of_the_place_stands_where_there_is_work(client, works):
    place = works.plain_place()
    edit_position(place, works.people.manager, caution="Old lagging here may hold asbestos.")
    piece = works.piece(State.STRIPPED, place=place)
    assert "may hold asbestos" in text_of(page(client, works.people.volunteer, piece))
    works.bring_on(piece, State.REFITTED)
    assert "may hold asbestos" not in text_of(page(client, works.people.volunteer, piece))


def test_a_name_full_of_markup_is_only_a_name(client, works):
    piece = works.piece()
    type(piece).objects.filter(pk=piece.pk).update(name="<script>alert(1)</script>", marks="</dd><b>")
    text = text_of(page(client, works.people.trustee, fresh(piece)))
    assert "<script>alert" not in text
    assert "&lt;/dd&gt;&lt;b&gt;" in text


def test_a_withdrawn_piece_says_where_it_went_and_can_come_back(client, works):
    piece = works.piece(State.WITHDRAWN)
    response = page(client, works.people.engineer, piece)
    assert "scrapped" in text_of(response)
    assert "bring back" in [button.key for button in response.context["doing"].can]


def queries_of(client, where) -> int:
    with CaptureQueriesContext(connection) as caught:
        assert client.get(where).status_code == 200
    return len(caught)


def test_a_clock_set_back_leaves_the_history_in_order_and_is_told(client, works, people):
    piece = works.piece()
    assert "was set back" not in page(client, people.volunteer, piece).content.decode()
    seven_hours_ago = timezone.now() - timedelta(hours=7)
    writing.log(people.fitter, "clean", about=[("piece", piece.pk)], at=seven_hours_ago)
    text = page(client, people.volunteer, piece).content.decode()
    assert text.index("Cleaned.") < text.index("Came off, and entered the register.")
    assert "The clock of the computer that serves Cotter was set back between two of these." in text


def test_a_cracked_piece_asks_for_the_quarantine_place_and_is_kept_apart_only_there(client, works, people):
    piece = works.piece()
    type(piece).objects.filter(pk=piece.pk).update(quarantined=True)
    text = page(client, people.volunteer, piece)
    assert "The register has no such place yet" in text_of(text)
    assert text.context["badges"] == ["cracked"]
    cage = add_location(people.storekeeper, "Cage 9", kind=LocationKind.QUARANTINE)
    shelf = add_location(people.storekeeper, "Cage shelf", parent=cage)
    text = text_of(page(client, people.volunteer, piece))
    assert "Take it to Cage 9" in text
    assert "kept apart" not in text
    for where in (cage, shelf):
        code = piece.tags.current_code()
        assert client.post(f"/t/{code}/move", {"to": where.path, "seen": fresh(piece).last_event}).status_code == 302
        text = page(client, people.volunteer, piece)
        assert "cracked and kept apart" in text_of(text)
        assert text.context["badges"] == ["quarantined"]


def test_why_something_cannot_be_done_names_the_next_two_steps_and_who_may(client, works):
    piece = works.piece(State.STRIPPED)
    client.force_login(works.people.volunteer)
    answer = client.get(f"{address(piece)}/why")
    (first, who), (second, _) = answer.context["steps"]
    assert (first, who) == ("Mark it cleaned", "you")
    assert second == "Sign an examination"
    assert "offer up" in {button.key for button in answer.context["refused"]}
    assert ("Accept it", "a responsible engineer") in answer.context["barred"]
    assert client.post(f"{address(piece)}/why").status_code == 405
    assert client.get("/t/AAAAAAAA/why").status_code == 404
    client.logout()
    assert client.get(f"{address(piece)}/why").url.startswith("/sign-in/")


def test_a_refitted_piece_says_how_it_is_held_and_what_is_locked_is_not_asked_as_if_nobody_had_said(client, works):
    piece = works.piece(State.REFITTED)
    response = page(client, works.people.fitter, piece)
    assert "<dt>How it is held</dt><dd>nobody has said yet</dd>" in text_of(response)
    assert response.context["doing"].first.label == "Say how it is locked"
    works.do("lock", piece, works.people.fitter, locked="split pin", tightened="120 lbf ft")
    response = page(client, works.people.fitter, piece)
    assert "<dt>How it is held</dt><dd>tightened: 120 lbf ft; locked: split pin</dd>" in text_of(response)
    labels = [button.label for button in response.context["can"]]
    assert "Change how it is locked" in labels
    assert "Say how it is locked" not in labels


def test_who_may_sign_is_who_is_authorised_and_not_whose_role_examines(client, works):
    people = works.people
    piece = works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))
    people.second_engineer.authorisations.all().delete()
    able = [str(one) for one in (people.examiner, people.second_examiner)]
    told = f"“Sign the crack check” is for whoever is authorised to sign it: {' or '.join(sorted(able))}."
    for reader in (people.volunteer, people.second_engineer):
        assert told in text_of(page(client, reader, piece))
        steps = dict(client.get(f"{address(piece)}/why").context["steps"])
        assert steps["Sign the crack check"] == " or ".join(sorted(able))
    people.second_examiner.authorisations.filter(method=Method.PENETRANT).delete()
    assert f"sign it: {people.examiner}." in text_of(page(client, people.volunteer, piece))
    piece = works.piece(State.STRIPPED, place=works.plain_place(crack_check=Method.PENETRANT))
    steps = dict(client.get(f"{address(piece)}/why").context["steps"])
    assert steps["Sign an examination"] == str(people.examiner)
