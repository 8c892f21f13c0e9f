"""One form for each action on a piece."""

import pytest

from core.models import Event
from parts.domain.states import piece_action, with_a_page
from parts.domain.words import State
from tests.as_shown import text_of
from tests.factories import days, events_of, fresh
from tests.tables import for_each

ON_A_PIECE = [action.word for action in with_a_page()]


def do(piece, action) -> str:
    return f"/t/{piece.tags.current_code()}/do/{action.replace(' ', '-')}"


def start_of(works, action):
    """A piece in a state that the action starts from, at a place that takes two names."""
    starts = piece_action(action).starts - {None}
    state = next(state for state in (State.CLEANED, *State) if state in starts)
    return works.piece(state)


@for_each("action", ON_A_PIECE)
def test_every_action_has_a_page_with_scripts_off(client, works, action):
    client.force_login(works.people.engineer)
    response = client.get(do(start_of(works, action), action))
    assert response.status_code == 200
    assert text_of(response).count("<h1>") == 1


def test_a_stranger_signs_in_first(client, works):
    where = do(works.piece(), "clean")
    assert client.get(where).url.startswith("/sign-in/?next=")
    assert client.post(where, {"method": "steam"}).url.startswith("/sign-in/")


def test_no_other_method_is_answered(client, works):
    client.force_login(works.people.volunteer)
    assert client.put(do(works.piece(), "clean")).status_code == 405


def test_an_action_that_is_none_is_not_there(client, works):
    client.force_login(works.people.volunteer)
    assert client.get(do(works.piece(), "polish")).status_code == 404
    assert client.get("/t/AAAAAAAA/do/clean").status_code == 404


def test_cleaning_takes_one_tap_on_its_page(client, works):
    piece = works.piece()
    client.force_login(works.people.volunteer)
    assert 'name="method" value="hot wash"' in text_of(client.get(do(piece, "clean")))
    response = client.post(do(piece, "clean"), {"method": "hot wash", "seen": piece.last_event}, follow=True)
    assert fresh(piece).state == State.CLEANED
    assert "Marked cleaned." in text_of(response)
    assert "“Sign the visual examination” is for" in text_of(response)


def test_what_somebody_wrote_of_its_place_is_said_before_cleaning_and_never_folded(client, works):
    piece = works.piece(place=works.plain_place(caution="Lagging of this one holds asbestos."))
    client.force_login(works.people.volunteer)
    page = client.get(f"/t/{piece.tags.current_code()}/do/clean").content.decode()
    assert page.count("Lagging of this one holds asbestos.") == 1
    assert page.index("Lagging of this one") < page.index('class="fold"', page.index("<main"))


def test_the_other_way_of_cleaning_is_written_by_hand(client, works):
    """Enter in the line sends the first button along with it: what was written counts."""
    piece = works.piece()
    client.force_login(works.people.volunteer)
    entered = {"method": "paraffin and brush", "method_other": "walnut shells", "seen": piece.last_event}
    client.post(do(piece, "clean"), entered)
    assert events_of(piece).get(action="clean").data["method"] == "walnut shells"


def test_no_way_of_cleaning_is_refused_beside_the_line(client, works):
    client.force_login(works.people.volunteer)
    response = client.post(do(works.piece(), "clean"), {"method_other": ""})
    assert response.status_code == 422
    assert '<a href="#id_method_other">Another way: None chosen. Say how it was cleaned.</a>' in text_of(response)


def test_a_wrong_role_is_told_who_may(client, works):
    piece = works.piece(State.CRACK_CHECKED)
    client.force_login(works.people.volunteer)
    told = client.get(do(piece, "accept"))
    assert told.status_code == 403
    assert "This is for a responsible engineer." in text_of(told)
    response = client.post(do(piece, "accept"), {"protection": "oiled", "look_again": days(30)})
    assert response.status_code == 403
    assert fresh(piece).state == State.CRACK_CHECKED


def test_a_wrong_state_is_told_and_nothing_is_written(client, works):
    piece = works.piece(State.STRIPPED)
    client.force_login(works.people.engineer)
    events = Event.objects.count()
    response = client.post(do(piece, "accept"), {"protection": "oiled", "look_again": days(30)})
    assert response.status_code == 422
    assert "It is stripped. Before “Accept it” it must be cleaned or crack-checked." in text_of(response)
    assert Event.objects.count() == events


def test_the_second_of_two_people_is_told_who_was_quicker(client, works):
    piece = works.piece()
    seen = piece.last_event
    works.clean(piece, works.people.fitter)
    client.force_login(works.people.volunteer)
    response = client.post(do(piece, "clean"), {"method": "steam", "seen": seen})
    assert response.status_code == 409
    assert f"{works.people.fitter} recorded “clean” on it" in text_of(response)


def test_who_was_told_may_look_again_and_send_it_again(client, works):
    piece = works.piece()
    seen = piece.last_event
    works.do("clean", piece, works.people.fitter, method="steam")
    client.force_login(works.people.engineer)
    entered = {"reason": "oily", "to": "stripped", "seen": seen}
    response = client.post(do(piece, "send back"), entered)
    assert response.status_code == 409
    assert f'name="seen" value="{fresh(piece).last_event}"' in text_of(response)
    assert ">oily</textarea>" in text_of(response).replace("\n", "").replace("> oily", ">oily")


def test_accepting_offers_a_year_and_keeps_what_was_typed(client, works):
    piece = works.piece(State.CRACK_CHECKED)
    client.force_login(works.people.engineer)
    assert f'value="{days(365).isoformat()[:8]}' in text_of(client.get(do(piece, "accept")))
    response = client.post(do(piece, "accept"), {"protection": "other", "protection_other": "", "look_again": days(9)})
    assert response.status_code == 422
    assert "Protection applied: None chosen. Say what keeps it from rusting" in text_of(response)
    assert f'value="{days(9).isoformat()}"' in text_of(response)


def test_a_protection_that_is_not_in_the_list_is_written(client, works):
    piece = works.piece(State.CRACK_CHECKED)
    client.force_login(works.people.engineer)
    entered = {"protection": "other", "protection_other": "tallow", "look_again": days(9), "seen": piece.last_event}
    client.post(do(piece, "accept"), entered)
    assert (fresh(piece).state, piece.protection) == (State.ACCEPTED, "tallow")


def critical_accepted(works):
    return works.piece(State.ACCEPTED, place=works.critical_place())


@pytest.fixture
def checker(works):
    person = works.people.second_fitter
    person.set_password("the checker's own")
    person.save()
    return person


def test_two_names_are_two_passwords(client, works, checker):
    piece = critical_accepted(works)
    client.force_login(works.people.fitter)
    entered = {"checker": checker.pk, "seen": piece.last_event}
    refused = client.post(do(piece, "refit"), entered | {"checker_password": "a guess"})
    assert refused.status_code == 422
    assert "This is not the password of Checker." in text_of(refused)
    assert "a guess" not in text_of(refused)
    assert fresh(piece).state == State.ACCEPTED
    assert client.post(do(piece, "refit"), entered | {"checker_password": "the checker's own"}).status_code == 302
    event = events_of(piece).get(action="refit")
    assert (fresh(piece).state, event.actor, event.checker) == (State.REFITTED, works.people.fitter, checker)


def test_who_fits_is_not_offered_as_checker(client, works, checker):
    piece = critical_accepted(works)
    client.force_login(checker)
    response = client.post(do(piece, "refit"), {"checker": checker.pk, "checker_password": "the checker's own"})
    assert response.status_code == 422
    assert checker not in response.context["form"].fields["checker"].queryset
    assert "checker" in response.context["form"].errors
    assert fresh(piece).state == State.ACCEPTED


def test_who_only_reads_checks_nothing(client, works):
    piece = critical_accepted(works)
    client.force_login(works.people.fitter)
    offered = client.get(do(piece, "refit")).context["form"].fields["checker"].queryset
    assert (works.people.examiner in offered, works.people.trustee in offered) == (True, False)
    assert works.people.fitter not in offered


def test_no_checker_is_refused_by_name_of_the_field(client, works):
    piece = critical_accepted(works)
    client.force_login(works.people.fitter)
    response = client.post(do(piece, "refit"), {"seen": piece.last_event})
    assert response.status_code == 422
    assert "Checker: A safety-critical piece takes two names." in text_of(response)


def test_only_the_engineer_is_asked_why_it_is_done_all_the_same(client, works):
    place = works.plain_place(side="LH")
    piece = works.piece(State.ACCEPTED, place=place, side="RH")
    client.force_login(works.people.fitter)
    page = client.get(do(piece, "refit"))
    assert page.context["form"] is None
    assert "override" not in text_of(page)
    assert client.post(do(piece, "refit"), {"override": "it fits"}).status_code == 422
    client.force_login(works.people.engineer)
    assert 'name="override"' in text_of(client.get(do(piece, "refit")))
    assert client.post(do(piece, "refit"), {"override": "drawn so"}).status_code == 302
    assert events_of(piece).get(action="refit").data["override"] == "drawn so"


def test_a_cracked_piece_is_not_offered_as_a_spare(client, works):
    piece = works.piece()
    type(piece).objects.filter(pk=piece.pk).update(quarantined=True)
    client.force_login(works.people.engineer)
    assert 'value="spare"' not in text_of(client.get(do(piece, "withdraw")))
    refused = client.post(do(piece, "withdraw"), {"destination": "spare", "reason": "tidy"})
    assert (refused.status_code, fresh(piece).state) == (422, State.STRIPPED)


def test_stripping_writes_marks_and_crate_in_the_same_breath(client, works):
    piece = works.piece(State.IN_PLACE)
    client.force_login(works.people.volunteer)
    entered = {"marks": "7 L", "way_round": "oil hole up", "location": works.crate.name, "seen": piece.last_event}
    assert client.post(do(piece, "strip"), entered).status_code == 302
    assert (fresh(piece).state, piece.marks, piece.location) == (State.STRIPPED, "7 L", works.crate)


def test_a_crate_that_nobody_knows_stops_the_stripping(client, works):
    piece = works.piece(State.IN_PLACE)
    client.force_login(works.people.volunteer)
    response = client.post(do(piece, "strip"), {"location": "crate of nowhere"})
    assert response.status_code == 422
    assert "No place is called “crate of nowhere”." in text_of(response)
    assert fresh(piece).state == State.IN_PLACE


def test_two_pieces_change_places_by_tag(client, works):
    one, other = works.piece(), works.piece()
    places = one.place, other.place
    client.force_login(works.people.engineer)
    wrong = client.post(do(one, "change places"), {"other": "7K3", "reason": "mixed up"})
    assert (wrong.status_code, "A tag code has 8 characters" in text_of(wrong)) == (422, True)
    entered = {"other": other.tags.current_code().lower(), "reason": "mixed up", "seen": one.last_event}
    assert client.post(do(one, "change places"), entered).status_code == 302
    assert (fresh(other).place, fresh(one).place) == places


@for_each(
    ("action", "asks"),
    [
        ("finish repair", {"work", "who"}),
        ("withdraw", {"reason", "destination"}),
        ("send back", {"reason", "to"}),
        ("accept", {"protection", "look_again"}),
        ("leave alone", {"reason"}),
        ("change places", {"other", "reason"}),
    ],
)
def test_what_an_action_asks_is_refused_when_blank_and_not_said_to_stay_blank(client, works, action, asks):
    start = next(state for state in State if state in piece_action(action).starts)
    piece = works.examined() if action == "accept" else works.piece(start)
    client.force_login(works.people.engineer)
    form = client.post(do(piece, action), {"look_again": ""}).context["form"]
    told = set(form.errors) | {"reason"} if action == "change places" else set(form.errors)
    assert told == asks
    assert all(form.fields[name].asked for name in asks)


def test_changing_places_is_offered_before_the_other_is_named(client, works):
    client.force_login(works.people.engineer)
    assert 'name="other"' in text_of(client.get(do(works.piece(), "change places")))


def test_breaking_down_says_what_it_will_tag(client, works):
    piece = works.piece(State.CLEANED, place=works.built_up("brass", "keep"))
    client.force_login(works.people.fitter)
    page = text_of(client.get(do(piece, "break down")))
    assert "Brass" in page
    assert "Keep" in page
    client.post(do(piece, "break down"), {"seen": piece.last_event})
    assert fresh(piece).broken_down


def test_a_weld_without_its_papers_is_refused_beside_the_field(client, works):
    piece = works.piece()
    client.force_login(works.people.fitter)
    response = client.post(do(piece, "finish repair"), {"work": "welded the lug", "who": "A. Fernside"})
    assert response.status_code == 422
    assert "Weld procedure: The procedure and the welder are missing. Record both." in text_of(response)


@for_each("junk", ["9" * 40, "x", "-1", "\0"])
def test_junk_in_the_hidden_field_is_no_server_error(client, works, junk):
    client.force_login(works.people.volunteer)
    assert client.post(do(works.piece(), "clean"), {"method": "steam", "seen": junk}).status_code in (409, 422)


@pytest.mark.parametrize("critical", [False, True])
def test_a_refit_is_signed_for_where_a_failure_would_hurt_somebody(works, critical):
    piece = works.piece(State.ACCEPTED, place=works.plain_place(safety_critical=critical))
    assert piece_action("refit").is_signed(piece.place.safety_critical) is critical


def test_a_lot_under_pressure_asks_how_many_were_examined_and_the_certificate(client, works):
    lot = works.examined(works.plain_place(name="washout plug", quantity=6, pressure_part=True))
    client.force_login(works.people.engineer)
    page = text_of(client.get(do(lot, "accept")))
    assert "Of the 6 in this lot." in page
    entered = {"protection": "oiled", "look_again": days(30)}
    assert client.post(do(lot, "accept"), entered).status_code == 422
    assert client.post(do(lot, "accept"), entered | {"examined": "5", "certificate": "TC 44"}).status_code == 422
    client.post(do(lot, "accept"), entered | {"examined": "6", "certificate": "TC 44"})
    assert fresh(lot).state == State.ACCEPTED
    told = text_of(client.get(f"/t/{lot.tags.current_code()}"))
    assert "Accepted: 6 examined, certificate TC 44." in told


def test_a_lot_under_pressure_is_decided_on_by_its_number_and_certificate_too(client, works):
    lot = works.examined(works.plain_place(name="tubes", quantity=12, pressure_part=True))
    accepting = {"outcome": "accept", "reason": "sound", "protection": "oiled", "look_again": days(300).isoformat()}
    accepting |= {"seen": lot.last_event, "lot_examined": "4"}
    client.force_login(works.people.engineer)
    address = f"/t/{lot.tags.current_code()}/decide"
    asked = client.post(address, accepting)
    assert asked.status_code == 422
    for words in ("Say how those were chosen.", "Give the number of the lot&#x27;s certificate."):
        assert words in text_of(asked)
    assert client.post(address, accepting | {"lot_sample": "each third", "lot_certificate": "TC 9"}).status_code == 302
    assert fresh(lot).state == State.ACCEPTED
    told = text_of(client.get(f"/t/{lot.tags.current_code()}"))
    assert "4 examined (each third), certificate TC 9" in told
    single = works.examined()
    assert "How many were examined" not in text_of(client.get(do(single, "accept")))


def test_a_refused_form_says_that_it_was_not_done(client, works):
    client.force_login(works.people.volunteer)
    piece = works.piece()
    asked = client.get(do(piece, "clean"))
    assert "may be left blank" not in text_of(asked)
    refused = client.post(do(piece, "clean"), {"method_other": " ", "seen": piece.last_event})
    assert refused.status_code == 422
    assert "<h2>Not done yet</h2>" in text_of(refused)
