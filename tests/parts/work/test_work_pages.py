"""The screens of the ways back: decide, mend, renew, firms, evidence, plate; each leads on to the next thing."""

import pytest
from django.urls import reverse

from parts.domain.job_words import Outcome
from parts.domain.words import State
from parts.holds import writers as holds
from parts.models import Decision, Evidence, Firm, Promise, Renewal, Repair
from parts.stock import writers as stock
from parts.work.writers import renewals
from tests.factories import days, fresh
from tests.parts.jobs import a_firm, a_renewal, a_repair, an_empty_place, steps_of
from tests.tables import for_each


def page(client, person, address):
    client.force_login(person)
    return client.get(address)


def text_of(answer) -> str:
    return answer.content.decode()


def sent(client, person, address, **entered):
    client.force_login(person)
    return client.post(address, entered)


def of_piece(name, piece):
    return reverse(name, args=[piece.tags.current_code()])


# --- decide


def test_a_piece_is_decided_on_with_the_ways_side_by_side(client, works, people):
    piece = works.piece(State.CLEANED)
    answer = sent(
        client, people.engineer, of_piece("decide_on_piece", piece), outcome="repair", reason="bore oval",
        method="bush", what="bush the bore", seen=piece.last_event,
        **{"option1-what": "bush it", "option1-estimate": "350.50", "option1-takes": "2", "option1-unit": "weeks",
           "option1-chosen": "on", "option1-comes_to": "repair",
           "option2-what": "a new one", "option2-estimate": "2,000.00"},
    )  # fmt: skip
    decision = Decision.objects.get()
    assert answer["Location"] == decision.repairs.get().get_absolute_url()
    assert [(o.what, str(o.estimate), o.chosen) for o in decision.options.all()] == [
        ("bush it", "350.50", True), ("a new one", "2000.00", False),
    ]  # fmt: skip
    assert str(decision.repairs.get().estimate) == "350.50", "what was weighed is carried over"
    shown = text_of(page(client, people.trustee, of_piece("tag", piece)))
    assert "bore oval" in shown
    assert "bush the bore" in shown


@pytest.mark.parametrize(
    ("way", "sentence"),
    [
        ({"option1-comes_to": "renew"}, "The way chosen, “a new casting”, comes to “renew”; decided is “repair”."),
        ({}, "Way 1: something in it cannot be so."),
    ],
)
def test_the_way_chosen_and_the_decision_say_the_same(client, works, people, way, sentence):
    piece = works.piece(State.CLEANED)
    chosen = {"option1-what": "a new casting", "option1-chosen": "on"} | way
    answer = sent(
        client, people.engineer, of_piece("decide_on_piece", piece), outcome="repair", reason="cracked", method="weld",
        what="weld it", seen=piece.last_event, **chosen,
    )  # fmt: skip
    assert answer.status_code == 422
    assert sentence in text_of(answer)
    assert not Decision.objects.exists()


def test_what_the_decision_lacks_is_told_and_nothing_is_written(client, works, people):
    piece = works.piece(State.CLEANED)
    answer = sent(client, people.engineer, of_piece("decide_on_piece", piece), outcome="repair", reason="")
    assert answer.status_code == 422
    assert "Say why, in a few words." in text_of(answer)
    answer = sent(
        client, people.engineer, of_piece("decide_on_piece", piece), outcome="repair", reason="oval",
        **{"option2-what": "bush", "option2-keeps_percent": "150"},
    )  # fmt: skip
    assert answer.status_code == 422
    assert "Way 2: something in it cannot be so." in text_of(answer)
    assert not Decision.objects.exists()


def test_a_fitter_notes_it_as_provisional_where_only_the_engineer_decides(client, works, people):
    piece = works.piece(State.CLEANED, place=works.critical_place())
    address = of_piece("decide_on_piece", piece)
    assert "You may note what you think; it counts once they decide." in text_of(page(client, people.fitter, address))
    answer = sent(client, people.fitter, address, outcome="accept", reason="looks good")
    assert answer.status_code == 403
    answer = sent(client, people.fitter, address, outcome="accept", reason="looks good", provisional="on")
    assert answer.status_code == 302
    assert "only provisionally decided" in text_of(page(client, people.fitter, piece.place.get_absolute_url()))


def test_a_trustee_reads_what_was_decided_and_a_stranger_signs_in(client, works, people):
    piece = works.piece(State.CLEANED)
    address = of_piece("decide_on_piece", piece)
    assert page(client, people.trustee, address).status_code == 403
    client.logout()
    assert client.get(address)["Location"].startswith("/sign-in/")


def test_somebody_was_quicker(client, works, people):
    piece = works.piece(State.CLEANED)
    seen = piece.last_event
    works.find_fault(piece)
    answer = sent(
        client, people.engineer, of_piece("decide_on_piece", piece), outcome="renew", route="buy", reason="worn",
        seen=seen,
    )  # fmt: skip
    assert answer.status_code == 409
    assert "Nothing of yours was saved." in text_of(answer)


@pytest.mark.parametrize("outcome", [Outcome.LEAVE, Outcome.RENEW])
def test_an_empty_place_is_left_or_renewed(client, works, people, outcome):
    place = an_empty_place(works)
    address = reverse("decide_on_place", args=[place.pk])
    assert page(client, people.engineer, address).status_code == 200
    answer = sent(client, people.engineer, address, outcome=outcome, reason="seen on the drawing", route="buy")
    assert answer.status_code == 302
    assert Decision.objects.get().outcome == outcome
    assert Renewal.objects.exists() == (outcome is Outcome.RENEW)


# --- repairs


def test_a_repair_goes_from_the_piece_to_finished(client, works, people):
    piece = works.piece(State.CLEANED)
    answer = sent(
        client, people.fitter, of_piece("begin_repair", piece), method="sleeve", what="sleeve the barrel",
        currency="gbp", promised=days(-4).isoformat(), seen=piece.last_event,
    )  # fmt: skip
    repair = Repair.objects.get()
    assert answer["Location"] == repair.get_absolute_url()
    assert "4 days overdue" in text_of(page(client, people.fitter, repair.get_absolute_url()))
    answer = sent(
        client, people.manager, reverse("promise_repair", args=[repair.pk]), promised=days(6).isoformat(),
        why="liner late",
    )  # fmt: skip
    assert answer.status_code == 302
    assert "slipped by 10 days" in text_of(page(client, people.fitter, repair.get_absolute_url()))
    form = page(client, people.fitter, reverse("finish_repair", args=[repair.pk]))
    assert "sleeve the barrel" in text_of(form)
    answer = sent(
        client, people.fitter, reverse("finish_repair", args=[repair.pk]), work="sleeved and bored", who="us",
        let_in="one liner", let_in_kg="12.5", hours="12,5", actual="2,450.50", seen=fresh(piece).last_event,
    )  # fmt: skip
    assert answer.status_code == 302
    assert (fresh(piece).state, fresh(repair).ended) == (State.STRIPPED, "done")
    assert (str(fresh(repair).hours), str(fresh(repair).actual)) == ("12.50", "2450.50")
    assert "Finished" in text_of(page(client, people.trustee, repair.get_absolute_url()))


def test_the_button_for_finishing_a_repair_leads_to_the_repair_that_is_open(client, works, people):
    repair = a_repair(works)
    address = of_piece("tag", repair.component)
    assert repair.get_absolute_url() in text_of(page(client, people.fitter, address))
    answer = client.get(f"{address}/do/finish-repair")
    assert answer["Location"] == reverse("finish_repair", args=[repair.pk])


def test_a_repair_that_cannot_be_so_is_refused_beside_its_field(client, works, people):
    piece = works.piece(State.CLEANED)
    address = of_piece("begin_repair", piece)
    answer = sent(
        client, people.fitter, address, method="weld", what="the lug", estimate="-4", ordered=days(0).isoformat(),
        promised=days(-1).isoformat(),
    )  # fmt: skip
    assert answer.status_code == 422
    assert "Less than nothing" in text_of(answer)
    assert "is before the order of" in text_of(answer)
    for nonsense in ("lots", "1e99", "1.999", "99999999999999"):
        assert sent(client, people.fitter, address, method="weld", what="it", estimate=nonsense).status_code == 422
    assert sent(client, people.volunteer, address, method="weld", what="it").status_code == 403


def test_a_repair_is_given_up(client, works, people):
    repair = a_repair(works)
    address = reverse("give_up_repair", args=[repair.pk])
    assert sent(client, people.fitter, address, reason=" ").status_code == 422
    assert sent(client, people.fitter, address, reason="too thin").status_code == 302
    assert fresh(repair).ended == "given up"


# --- renewals


def test_a_renewal_goes_from_the_empty_place_to_a_tagged_piece(client, works, people):
    place, firm = an_empty_place(works), a_firm(works)
    shown = text_of(page(client, people.manager, place.get_absolute_url()))
    assert reverse("begin_renewal", args=[place.pk]) in shown
    answer = sent(client, people.manager, reverse("begin_renewal", args=[place.pk]), route="buy", why="gone")
    renewal = Renewal.objects.get()
    assert answer["Location"] == renewal.get_absolute_url()
    assert renewal.get_absolute_url() in text_of(page(client, people.manager, place.get_absolute_url()))
    step = steps_of(renewal)[0]
    sent(
        client, people.manager, reverse("edit_step", args=[step.pk]), name=step.name, firm=firm.pk, currency="GBP",
        ordered=days(-9).isoformat(), estimate="120",
    )  # fmt: skip
    sent(client, people.manager, reverse("promise_step", args=[step.pk]), promised=days(-3).isoformat())
    shown = text_of(page(client, people.trustee, renewal.get_absolute_url()))
    assert firm.name in shown
    assert "3 days overdue" in shown
    assert ">3 days<" in text_of(page(client, people.trustee, reverse("renewals", args=[works.locomotive.slug])))
    assert "1 overdue" in text_of(page(client, people.trustee, reverse("firms")))
    assert sent(client, people.manager, reverse("finish_step", args=[step.pk]), papers="order 14").status_code == 302
    answer = sent(
        client, people.manager, reverse("begin_piece", args=[renewal.pk]), name="lamp iron", cast_number="C 9",
        quantity="1",
    )  # fmt: skip
    assert answer.status_code == 302
    assert renewal.pieces.get().cast_number == "C 9"


def test_the_subassembly_leads_to_each_way_out_and_what_to_do_next_to_the_place(client, works, people):
    slug, code = works.locomotive.slug, works.frames.code
    empty, awaited, repair = an_empty_place(works), a_renewal(works), a_repair(works)
    doubtful = works.piece(State.CLEANED)
    works.find_fault(doubtful)
    overhaul = works.locomotive.open_overhaul()
    entered = {"name": "design accepted", "stops": ["start on"], "body": "the body"}
    held = holds.add_hold(overhaul, people.engineer, position=an_empty_place(works), **entered)
    above = holds.add_hold(overhaul, people.engineer, subassembly=works.frames, **entered)
    assert f'href="{reverse("hold", args=[above.pk])}"' in text_of(
        page(client, people.trustee, reverse("subassembly", args=[slug, code]))
    )
    client.force_login(people.trustee)
    assert client.get(reverse("hold", args=[held.pk])).url.endswith(f"/holds/#hold-{held.pk}")
    address = reverse("subassembly", args=[slug, code])
    shown = text_of(page(client, people.engineer, address))
    assert reverse("begin_renewal", args=[empty.pk]) in shown
    assert f'href="{awaited.get_absolute_url()}"' in shown
    assert f'href="{repair.get_absolute_url()}"' in shown
    assert of_piece("decide_on_piece", doubtful) in shown
    assert f'href="{reverse("hold", args=[held.pk])}"' in shown
    shown = text_of(page(client, people.trustee, address))
    assert reverse("begin_renewal", args=[empty.pk]) not in shown
    assert of_piece("decide_on_piece", doubtful) not in shown
    shown = text_of(page(client, people.manager, reverse("next", args=[slug])))
    assert f'href="{empty.get_absolute_url()}"' in shown


def test_a_step_fails_and_the_route_goes_back(client, works, people):
    renewal = a_renewal(works)
    first, second, *_ = steps_of(renewal)
    sent(client, people.manager, reverse("finish_step", args=[first.pk]))
    blank = renewals.begin_piece(renewal, people.manager, name="cylinder")
    address = reverse("fail_step", args=[second.pk])
    assert "The responsible engineer withdraws" in text_of(page(client, people.manager, address))
    assert f"{blank.name} {blank.tags.current_code()}" in text_of(page(client, people.engineer, address))
    assert sent(client, people.engineer, address, reason="cold shut").status_code == 422
    answer = sent(client, people.engineer, address, reason="cold shut", back_to=first.pk, blank=blank.pk)
    assert answer.status_code == 302
    assert (fresh(second).ended, fresh(blank).state) == ("failed", State.WITHDRAWN)
    shown = text_of(page(client, people.trustee, renewal.get_absolute_url()))
    assert "Cold shut" in shown
    assert "(again)" in shown


@pytest.mark.engine
def test_steps_are_added_dropped_and_the_route_is_closed_or_given_up(client, works, people):
    renewal, manager = a_renewal(works), people.manager
    sent(client, manager, reverse("add_step", args=[renewal.pk]), name="ask the owner", currency="GBP")
    assert renewal.steps.filter(name="ask the owner").exists()
    answer = sent(client, manager, reverse("close_renewal", args=[renewal.pk]))
    assert answer.status_code == 422
    assert "Steps of the route are still open" in text_of(answer)
    step = steps_of(renewal)[0]
    assert sent(client, manager, reverse("drop_step", args=[step.pk]), reason="seen already").status_code == 302
    assert sent(client, manager, reverse("give_up_renewal", args=[renewal.pk]), reason="not now").status_code == 302
    assert fresh(renewal).ended == "given up"


STEP = ("edit_step", "promise_step", "finish_step", "drop_step", "fail_step")
RENEWAL = ("add_step", "close_renewal", "give_up_renewal", "begin_piece", "weld_up")


@for_each("name", [*STEP, *RENEWAL])
def test_who_leads_a_renewal_and_what_is_not_there(client, works, people, name):
    renewal = a_renewal(works)
    number = steps_of(renewal)[0].pk if name in STEP else renewal.pk
    assert page(client, people.fitter, reverse(name, args=[number])).status_code == 403
    assert page(client, people.manager, reverse(name, args=[number])).status_code == 200
    assert page(client, people.manager, reverse(name, args=[9_999_999])).status_code == 404
    client.logout()
    assert client.get(reverse(name, args=[number])).status_code == 302


def test_a_form_sent_late_is_told_so(client, works, people):
    renewal = a_renewal(works)
    first, second, *_ = steps_of(renewal)
    seen = renewal.last_event
    sent(client, people.manager, reverse("finish_step", args=[first.pk]), seen=seen)
    answer = sent(
        client, people.manager, reverse("promise_step", args=[second.pk]), seen=seen, promised=days(4).isoformat()
    )
    assert answer.status_code == 409
    assert not Promise.objects.exists()


# --- routes, firms, evidence, plate


def test_a_route_is_edited_and_given_back(client, works, people):
    address = reverse("edit_route", args=["buy"])
    assert "choose what fits" in text_of(page(client, people.manager, address))
    answer = sent(client, people.manager, address, name="buy in", says="", steps="ring round\norder it | invoice")
    assert answer.status_code == 302
    assert "ring round" in text_of(page(client, people.trustee, reverse("routes")))
    assert sent(client, people.manager, address, name="", steps=" ").status_code == 422
    sent(client, people.manager, reverse("retire_route", args=["buy"]), supplied="1")
    assert "ring round" not in text_of(page(client, people.trustee, reverse("routes")))
    assert page(client, people.manager, reverse("edit_route", args=["no-such"])).status_code == 404


def test_a_firm_is_entered_edited_and_taken_out_of_use(client, works, people):
    answer = sent(client, people.manager, reverse("add_firm"), name="Invented Forge", does="forging")
    firm = Firm.objects.get()
    assert answer["Location"] == firm.get_absolute_url()
    assert "forging" in text_of(page(client, people.trustee, firm.get_absolute_url()))
    again = sent(client, people.manager, reverse("add_firm"), name="invented forge")
    assert again.status_code == 422
    edit = reverse("edit_firm", args=[firm.pk])
    assert sent(client, people.manager, edit, name="Invented Smithy").status_code == 302
    assert sent(client, people.fitter, edit, name="Mine").status_code == 403
    a_repair(works, firm=firm)
    refused = sent(client, people.manager, reverse("retire_firm", args=[firm.pk]))
    assert refused.status_code == 422
    assert "1 of our jobs open" in text_of(refused)
    assert page(client, people.trustee, reverse("firm", args=[999_999])).status_code == 404


def test_evidence_is_written_down_and_shown(client, works, people):
    place = an_empty_place(works)
    address = reverse("add_evidence", args=[place.pk])
    assert sent(client, people.volunteer, address, kind="holes", words="two tapped holes").status_code == 302
    assert Evidence.objects.get().position == place
    assert "two tapped holes" in text_of(page(client, people.trustee, place.get_absolute_url()))
    assert sent(client, people.volunteer, address, kind="", words="").status_code == 422
    assert page(client, people.trustee, address).status_code == 403


def test_plate_comes_in_is_cut_and_welded_up(client, works, people):
    renewal, manager = a_renewal(works, route="fabricate"), people.manager
    sent(client, manager, reverse("receive_stock"), name="plate", cast_number="P 12", quantity="1")
    (plate,) = list(stock.Component.objects.stock())
    assert "Cut from it" in text_of(page(client, manager, reverse("tag", args=[plate.code])))
    for name in ("side", "bottom"):
        sent(client, manager, reverse("cut", args=[plate.code]), name=name, quantity="1")
    cut = [piece for piece in stock.Component.objects.stock() if piece.cut_from_id == plate.pk]
    boxes = {f"pieces-{n}": piece.pk for n, piece in enumerate(cut)}
    address = reverse("weld_up", args=[renewal.pk])
    assert sent(client, manager, address, name="bunker", procedure="W 1", welder="A. W.").status_code == 422
    answer = sent(client, manager, address, name="bunker", procedure="W 1", welder="A. W.", **boxes)
    assert answer.status_code == 302
    whole = renewal.pieces.get(state="in the making")
    assert whole.cast_number == "P 12"
    assert "Made from" in text_of(page(client, people.trustee, reverse("tag", args=[whole.tags.current_code()])))
