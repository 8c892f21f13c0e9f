"""The page of the forecast, the week and the guess behind it, and the command. What the dates rest on is tested in
`tests/parts/domain/test_open_work.py`."""

import json
from datetime import timedelta
from decimal import Decimal
from html import unescape

import pytest
from django.core.cache import cache
from django.core.management import CommandError, call_command
from django.urls import reverse

from core.models import Event
from parts.attendance.writers import save_machine, say_week
from parts.domain.forecast_words import Kept
from parts.domain.sequence import OrderLoop
from parts.forecast import loading, writers
from parts.forecast.forecast_context import KEPT_SHOWN, forecast_of, kept_of, moved_rows
from parts.models import Guess, KeptForecast, Machine, MachineWork, WorkingWeek
from parts.models.planning import DAYS
from parts.queries.attendance import load_hours
from tests.factories import a_works, days
from tests.parts.actions.standard import refused
from tests.parts.jobs import a_firm, a_renewal
from tests.tables import for_each

WEEK = dict.fromkeys(DAYS, 0) | {"saturday": 480, "poor": 2, "usual": 4, "good": 6}
GUESS = {"least": Decimal(2), "likely": Decimal(4), "most": Decimal(9), "hands": 2}
TYPED = {"saturday": "8", "poor": "2", "usual": "4", "good": "6"}


@pytest.fixture(autouse=True)
def nothing_worked_out_before():
    """The log of each test begins anew, and with it the numbers that the cache goes by."""
    cache.clear()


@pytest.fixture
def planned(works):
    """Open on Saturdays, and every subassembly guessed."""
    writers.set_working_week(works.people.manager, **WEEK)
    for subassembly in works.locomotive.subassemblies.in_use():
        writers.guess_work_left(works.people.manager, subassembly, steps=20, **GUESS)
    return works


def address(works, **query):
    return reverse("forecast", args=[works.locomotive.slug], query=query or None)


def page_of(client, works, **query):
    client.force_login(works.people.trustee)
    answer = client.get(address(works, **query))
    assert answer.status_code == 200
    return answer.content.decode()


def progress(client, works) -> str:
    return client.get(address(works, progress=1), headers={"HX-Request": "true"}).content.decode()


def test_the_page_comes_at_once_and_fetches_the_dates(client, planned):
    planned.piece("stripped")
    first = page_of(client, planned)
    assert 'data-hx-get="?now=1"' in first
    assert "The work is being put in order." in progress(client, planned)
    assert "<title>" in page_of(client, planned, progress=1)
    assert "nine in ten" not in first
    worked_out = page_of(client, planned, now=1)
    assert "2000 of 2000 runs are made." in progress(client, planned)
    assert "nine in ten" in worked_out
    assert "nine in ten" in page_of(client, planned)  # it need not be worked out twice
    client.force_login(planned.people.trustee)
    fragment = client.get(address(planned, now=1), headers={"HX-Request": "true"}).content.decode()
    assert fragment.strip().startswith('<div id="dates"')


def test_what_is_missing_is_told_instead_of_a_date(client, works):
    works.piece("stripped")
    page = page_of(client, works, now=1)
    assert "Enter the days on which the workshop is open." in page
    assert "nine in ten" not in page


def test_nothing_left_to_do(client, planned):
    assert "Nothing is left to do." in page_of(client, planned, now=1)


def test_what_if_stands_beside_it_and_writes_nothing(client, planned):
    planned.piece("stripped")
    idle = a_firm(planned, name="Invented Springs")
    before = Event.objects.newest_number()
    page = page_of(client, planned, now=1, hands=2)
    assert "With 2 more people each day" in page
    assert "It makes no difference." in page_of(client, planned, now=1, firm=idle.name, later=14)
    assert Event.objects.newest_number() == before


def test_more_hands_and_a_late_firm_change_what_it_is_made_from(planned):
    renewal = a_renewal(planned)
    step = renewal.steps.order_by("number").first()
    work = loading.OpenWork(planned.locomotive, days(0))
    assert work.workshop(more_hands=2).hands.likely == 6
    firm = work.outside[0].firm
    later = {each.name: each for each in work.workshop(firm=firm, later=30).all_work()}
    assert step.name in work.outside[0].name
    assert later[work.outside[0].name].promised == max(work.outside[0].promised or days(0), days(0)) + (
        days(30) - days(0)
    )


def test_a_forecast_is_kept_once_a_day_by_whoever_plans(client, planned):
    planned.piece("stripped")
    keep = reverse("keep_forecast", args=[planned.locomotive.slug])
    client.force_login(planned.people.volunteer)
    assert client.post(keep).status_code == 403
    client.force_login(planned.people.manager)
    assert client.get(keep).status_code == 405
    for _ in range(2):
        client.post(keep)
    kept = KeptForecast.objects.get()
    assert (kept.on, kept.half is None) == (days(0), False)
    page = page_of(client, planned, now=1)
    assert "Forecasts that were kept, the latest first" in page
    assert 'class="graph curves"' not in page  # one forecast has not moved


def test_how_the_forecast_moved_is_drawn_and_said_with_what_happened(client, planned):
    planned.piece("stripped")
    writers.keep(planned.locomotive, forecast_of(planned.locomotive, days(0)), days(0))
    now = KeptForecast.objects.get()
    names = dict.fromkeys(now.subassemblies, ["2026-01-01", "2026-02-01"])
    KeptForecast.objects.create(
        locomotive=planned.locomotive, on=days(-7), half=now.half - timedelta(70), nine_in_ten=now.half,
        subassemblies=names | {"gone": ["2026-01-01", "2099-02-01"]}, decided_by=["Waiting for people"],
    )  # fmt: skip
    page = unescape(page_of(client, planned, now=1))
    for words in (
        'class="graph curves"',
        "2 months later",
        "Why it moved",
        "Nothing was accepted",
        "How right they were",
    ):
        assert words in page
    assert "1 subassembly that was forecast is together now: 0 by the day of half the runs, 1 by" in page


def test_a_forecast_kept_again_the_same_day_tells_what_was_done_that_day(planned):
    """What was done after it belongs to the next one."""
    KeptForecast.objects.create(locomotive=planned.locomotive, on=days(-7), half=days(300), nine_in_ten=days(400))
    piece, later = planned.piece("accepted"), planned.piece("accepted")
    writers.keep(planned.locomotive, forecast_of(planned.locomotive, days(0)), days(0))

    def told() -> str:
        return " ".join(moved_rows(planned.locomotive, kept_of(planned.locomotive), days(0))[0].why)

    planned.do("refit", piece, planned.people.fitter)
    assert "was refitted" not in told()
    writers.keep(planned.locomotive, forecast_of(planned.locomotive, days(0)), days(0))
    assert "was refitted" in told()
    planned.do("refit", later, planned.people.fitter)
    assert "were refitted" not in told()


def test_the_forecast_that_was_kept_is_named_where_the_page_says_something_else(client, planned):
    planned.piece("stripped")
    writers.keep(planned.locomotive, forecast_of(planned.locomotive, days(0)), days(0))
    assert "The forecast kept on" not in page_of(client, planned, now=1)
    KeptForecast.objects.update(half=days(900))
    assert "The forecast kept on" in page_of(client, planned, now=1)


def test_what_happened_before_the_oldest_that_is_shown_is_told_and_nothing_of_another_locomotive(planned):
    kept = [Kept(days(7 * n - 1), days(900), days(990), {}) for n in range(KEPT_SHOWN + 1)]
    other = a_works(people=planned.people)
    writers.guess_work_left(planned.people.manager, other.frames, steps=20, **GUESS)
    writers.guess_work_left(planned.people.manager, planned.frames, steps=20, **GUESS)
    rows = moved_rows(planned.locomotive, kept, days(0))
    *none, told = [row.why for row in rows]
    assert none == [[]] * (KEPT_SHOWN - 1)
    assert told == [
        *[f"{sub.name} was guessed at 4 open days." for sub in planned.locomotive.subassemblies.in_use()],
        "The opening days or the hands were entered anew.",
    ]


def test_the_first_page_of_manager_and_trustee_says_when_and_what_that_assumes(client, planned):
    planned.piece("stripped")
    for who in ("manager", "trustee"):
        client.force_login(getattr(planned.people, who))
        assert "in half of the runs" not in client.get("/").content.decode()
    writers.keep_weekly(days(0))
    for who, there in (("manager", True), ("trustee", True), ("fitter", False)):
        client.force_login(getattr(planned.people, who))
        page = client.get("/").content.decode()
        assert ("in half of the runs" in page) == there
        assert ("people are in on a usual day" in page) == there


def test_queries_do_not_grow_with_the_pieces(planned, django_assert_max_num_queries):
    planned.piece("stripped")
    with django_assert_max_num_queries(24):
        loading.OpenWork(planned.locomotive, days(0))
    for _ in range(5):
        planned.piece("cleaned")
    with django_assert_max_num_queries(24):
        loading.OpenWork(planned.locomotive, days(0))


# --- the week


def test_the_week_is_typed_in_hours_and_kept_in_minutes(client, works):
    client.force_login(works.people.manager)
    assert client.post(reverse("working_week"), TYPED | {"seen": "0"}).status_code == 302
    week = WorkingWeek.objects.get()
    assert (week.saturday, week.sunday, week.usual) == (480, 0, 4)
    assert 'value="8"' in client.get(reverse("working_week")).content.decode()


@for_each("wrong", [{"poor": "5"}, {"saturday": "25"}, {"usual": ""}, {"usual": "0", "poor": "0"}])
def test_a_week_that_cannot_be_is_refused(client, works, wrong):
    client.force_login(works.people.manager)
    assert client.post(reverse("working_week"), TYPED | wrong).status_code == 422
    assert not WorkingWeek.objects.exists()


def test_a_stale_week_is_told(client, works):
    writers.set_working_week(works.people.manager, **WEEK)
    client.force_login(works.people.manager)
    assert client.post(reverse("working_week"), TYPED | {"seen": "0"}).status_code == 409


def test_others_do_not_plan(client, works):
    places = [reverse("working_week"), reverse("unusual_day")]
    assert client.get(places[0]).status_code == 302  # a stranger signs in first
    client.force_login(works.people.fitter)
    assert {client.get(place).status_code for place in places} == {403}
    with refused("role"):
        writers.set_working_week(works.people.fitter, **WEEK)


@pytest.mark.engine
def test_a_day_unlike_its_week(client, planned):
    client.force_login(planned.people.manager)
    client.post(reverse("unusual_day"), {"date": str(days(7)), "open": "0", "note": "gala"})
    assert load_hours().minutes(days(7)) == 0
    assert "gala" in client.get(reverse("working_week")).content.decode()


# --- the guess


def test_a_guess_remembers_the_steps_left(client, works):
    works.piece("stripped")
    client.force_login(works.people.manager)
    subassembly = works.place().subassembly
    guess = reverse("guess", args=[works.locomotive.slug, subassembly.code])
    assert client.post(guess, {"least": "2", "likely": "1", "most": "3", "hands": "2"}).status_code == 422
    assert client.post(guess, {"least": "2", "likely": "4.5", "most": "9", "hands": "2"}).status_code == 302
    kept = Guess.objects.get()
    steps = {group.code: group.steps for group in loading.load_groups(works.locomotive, days(0))}
    assert (kept.likely, kept.steps) == (Decimal("4.5"), steps[subassembly.code])
    assert client.post(guess, {"least": "2", "likely": "4", "most": "9", "hands": "2", "seen": "0"}).status_code == 409


# --- people and machines


@pytest.mark.engine
def test_work_on_a_machine_is_guessed_apart_waits_for_it_and_is_done(client, planned):
    planned.piece("stripped")
    manager, frames = planned.people.manager, planned.frames
    lathe = save_machine(manager, Machine(), name="wheel lathe", units=1)
    client.force_login(manager)
    add = reverse("machine_work", args=[planned.locomotive.slug, frames.code])
    typed = {"what": "Turn", "least": "9", "likely": "9", "most": "9", "hands": "1"}
    assert client.post(add, typed).status_code == 422  # neither a machine nor a skill
    assert client.post(add, typed | {"machine": str(lathe.pk)}).status_code == 302
    work = loading.OpenWork(planned.locomotive, days(0)).workshop()
    assert [each.needs["wheel lathe"] for each in work.all_work() if each.name.startswith("Turn")] == [1]
    guess = client.get(reverse("guess", args=[planned.locomotive.slug, frames.code])).content.decode()
    assert "wheel lathe" in guess
    done = reverse("end_machine_work", args=[MachineWork.objects.get().pk])
    assert client.post(done, {"took": "double"}).status_code == 302
    assert MachineWork.objects.get().took == "double"
    assert loading.OpenWork(planned.locomotive, days(0)).planned == []
    client.force_login(planned.people.fitter)
    assert client.post(done).status_code == client.get(add).status_code == 403


def test_hands_are_counted_from_the_days_that_people_say_once_the_office_wants_it(planned):
    planned.piece("stripped")
    people = planned.people
    for person in (people.fitter, people.volunteer, people.examiner):
        say_week(person, person, ["saturday"])
    assert loading.OpenWork(planned.locomotive, days(0)).workshop().hands.likely == WEEK["usual"]
    writers.set_working_week(people.manager, **WEEK, by_people=True)
    assert loading.OpenWork(planned.locomotive, days(0)).workshop().hands.likely == 3


def test_a_forecast_is_kept_once_a_week(planned):
    planned.piece("stripped")
    assert [kept.on for kept in writers.keep_weekly(days(0))] == [days(0)]
    assert writers.keep_weekly(days(6)) == []
    assert [kept.on for kept in writers.keep_weekly(days(7))] == [days(7)]


# --- the command


def test_the_command_prints_dates_for_another_program(planned, capsys):
    planned.piece("stripped")
    call_command("forecast", planned.locomotive.slug, "--json", "--runs", "50", "--today", "2026-11-29")
    told = json.loads(capsys.readouterr().out)
    assert set(told["whole"]) == {"half", "nine_in_ten", "decided_by"}
    assert told["whole"]["half"] <= told["whole"]["nine_in_ten"]
    call_command("forecast", planned.locomotive.slug, "--json", "--runs", "50", "--today", "2026-11-29")
    assert json.loads(capsys.readouterr().out) == told  # the same seed, the same dates


def test_the_command_says_what_is_missing_and_what_is_unknown(works, capsys):
    works.piece("stripped")
    call_command("forecast", works.locomotive.slug)
    assert "Enter the days" in capsys.readouterr().out
    with pytest.raises(CommandError, match="No locomotive is called"):
        call_command("forecast", "nowhere")
    with pytest.raises(CommandError, match="at least one run"):
        call_command("forecast", works.locomotive.slug, "--runs", "0")


def test_an_order_that_contradicts_itself_is_told_on_the_page(client, planned, monkeypatch):
    def loop(*_, **__):
        raise OrderLoop(["Frames", "Wheels"], "Frames goes on after Wheels, which goes on after Frames")

    monkeypatch.setattr("parts.forecast.loading.load_now", loop)
    assert "Frames goes on after Wheels" in page_of(client, planned, now=1)
    client.force_login(planned.people.manager)
    back = address(planned)
    assert client.post(reverse("keep_forecast", args=[planned.locomotive.slug])).url == back
    assert client.get(reverse("guess", args=[planned.locomotive.slug, planned.frames.code])).url == back
