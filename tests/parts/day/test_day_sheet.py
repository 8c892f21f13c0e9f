"""A working party's day, from who comes to the ticked sheet: proposed, moved, dealt again, printed, ticked."""

from html import unescape

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from reportlab.platypus import Paragraph

from parts.attendance.writers import say_day, set_learner
from parts.day import which_pieces, writers
from parts.day.sheet_pdf import sheet_pdf
from parts.day.tasks import tasks_for
from parts.domain.words import State
from parts.models import DayHand, DayJob, DaySheet, Position, Subassembly, Tag
from tests.factories import days
from tests.parts.actions.standard import refused
from tests.parts.day.a_day import COME, DAY, with_people_in

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def works(module_db):
    return with_people_in()


@pytest.fixture(scope="module")
def sheet(works):
    return writers.open_sheet(works.people.manager, works.locomotive, DAY)


def address(works, name="day_sheet"):
    return reverse(name, args=[works.locomotive.slug, DAY])


def press(client, works, who, job, do, **more):
    client.force_login(getattr(works.people, who))
    return client.post(reverse("day_job", args=[job.pk]), {"do": do} | more)


def a_job(sheet, **more):
    fields = {"number": 90, "need": "refit", "words": "Lift the box", "href": "/p/1/", "danger": "lifting"}
    return DayJob.objects.create(sheet=sheet, **fields | more)


def its_day_comes(sheet):
    DaySheet.objects.filter(pk=sheet.pk).update(date=days(0))
    sheet.refresh_from_db()


def hand(sheet, person):
    return DayHand.objects.get(sheet=sheet, person=person)


def test_from_home_to_the_sheet_of_the_next_day_and_its_paper(client, works):
    people = works.people
    client.force_login(people.manager)
    assert "Plan " in client.get("/").content.decode()
    page = client.get(address(works)).content.decode()
    assert "5 people come" in page
    assert client.post(address(works, "plan_day")).url == address(works)
    sheet = DaySheet.objects.get()
    dealt = [job for job in sheet.jobs.with_hands() if job.hands.all()]
    on = [one.person_id for job in dealt for one in job.hands.all()]
    assert sorted(on) == sorted(getattr(people, who).pk for who in COME)
    assert sheet.in_charge == people.engineer
    assert sheet.jobs.count() == 8  # half as many again as five hands
    hands = writers.sheet_hands(sheet)
    assert writers.against(sheet, hands, writers.as_hands(sheet, hands)) == []
    assert "Day sheet" in client.get("/").content.decode()
    paper = client.get(address(works, "print_day_sheet"))
    assert paper.headers["Content-Type"] == "application/pdf"
    assert paper.content.count(b"/Type /Page\n") <= 2


def test_planning_twice_keeps_the_sheet_there_is(client, works, sheet):
    client.force_login(works.people.manager)
    client.post(address(works, "plan_day"))
    assert DaySheet.objects.get() == sheet
    gone = reverse("plan_day", args=[works.locomotive.slug, days(-1)])
    assert client.post(gone).status_code == 302
    assert DaySheet.objects.count() == 1


def test_only_those_on_it_and_the_office_see_who_comes(client, works, sheet):
    for who, status in (("fitter", 200), ("manager", 200), ("storekeeper", 403), ("trustee", 403)):
        client.force_login(getattr(works.people, who))
        assert client.get(address(works)).status_code == status
        assert client.get(address(works, "print_day_sheet")).status_code == status
        assert (str(sheet.get_absolute_url()) in client.get(reverse("day_sheets")).content.decode()) == (status == 200)
    client.force_login(works.people.fitter)
    assert client.post(address(works, "plan_day")).status_code == 403
    assert client.get(reverse("day_sheet", args=[works.locomotive.slug, days(6)])).status_code == 403
    client.logout()
    assert client.get(address(works)).status_code == 302


def test_who_came_is_ticked_and_the_sheet_dealt_again_to_them(client, works, sheet):
    people = works.people
    client.force_login(people.manager)
    for who in ("fitter", "volunteer"):
        client.post(address(works, "day_person"), {"person": str(getattr(people, who).pk), "do": "came"})
    assert client.post(address(works, "deal_again")).status_code == 302
    sheet.refresh_from_db()
    on = {one.person for job in sheet.jobs.with_hands() for one in job.hands.all()}
    assert on == {people.fitter, people.volunteer}
    assert sheet.in_charge == people.fitter
    client.force_login(people.fitter)  # in charge now, and may run the day
    assert client.post(address(works, "day_person"), {"person": str(people.trustee.pk), "do": "add"}).status_code == 302
    assert sheet.hands.filter(person=people.trustee).exists()


def test_a_move_that_leaves_somebody_to_lift_alone_is_refused(works, sheet):
    people = works.people
    job, fitter, helper = a_job(sheet), hand(sheet, people.fitter), hand(sheet, people.second_fitter)
    job.hands.set([fitter, helper])
    with refused("unsafe"):
        writers.move(people.manager, helper, None)
    assert set(job.hands.all()) == {fitter, helper}
    other = a_job(sheet, href="/p/2/", danger="", words="Refit the pin")
    job.hands.add(hand(sheet, people.engineer))
    writers.move(people.manager, helper, other)
    assert list(other.hands.all()) == [helper]
    set_learner(people.manager, people.second_fitter, True)
    again = a_job(sheet, href="/p/3/", danger="", words="Refit alone")
    with refused("unsafe", "unsafe"):  # nobody leads it, and nobody is beside the learner
        writers.move(people.manager, helper, again)


def test_a_job_goes_up_down_and_off_the_sheet(client, works, sheet):
    first, second = sheet.jobs.all()[:2]
    press(client, works, "manager", second, "up")
    assert list(sheet.jobs.all()[:2]) == [second, first]
    press(client, works, "manager", second, "down")
    assert list(sheet.jobs.all()[:2]) == [first, second]
    press(client, works, "manager", first, "take off")
    assert not DayJob.objects.filter(pk=first.pk).exists()
    assert press(client, works, "manager", first, "up").status_code == 404
    assert press(client, works, "fitter", second, "take off").status_code == 302
    assert DayJob.objects.filter(pk=second.pk).exists()


def test_one_that_was_ticked_off_meanwhile_goes_nowhere_and_it_is_said(client, works, sheet):
    its_day_comes(sheet)
    first, second = sheet.jobs.all()[:2]
    press(client, works, "volunteer", second, "done")
    assert press(client, works, "manager", second, "up").status_code == 302
    assert "It was ticked off or taken off meanwhile." in client.get(sheet.get_absolute_url()).content.decode()
    assert sheet.jobs.first() == first


def test_a_job_is_ticked_off_with_how_long_it_took_and_stays_done(client, works, sheet):
    its_day_comes(sheet)
    job = sheet.jobs.first()
    press(client, works, "volunteer", job, "done")
    job.refresh_from_db()
    assert job.done_by == works.people.volunteer
    press(client, works, "volunteer", job, "double")
    writers.deal_again(works.people.manager, sheet)
    job.refresh_from_db()
    assert job.took == "double"
    page = client.get(sheet.get_absolute_url()).content.decode()
    assert "took double the time" in page
    assert "Ticked by" in page
    press(client, works, "volunteer", job, "not done")
    job.refresh_from_db()
    assert (job.done_at, job.took) == (None, "")
    press(client, works, "storekeeper", job, "done")  # not on the sheet
    job.refresh_from_db()
    assert job.done_at is None


def test_nobody_in_says_so(works):
    sheet = writers.open_sheet(works.people.manager, works.locomotive, days(9))
    assert sheet.in_charge is None
    assert not sheet.jobs.exists()
    assert sheet_pdf(sheet).startswith(b"%PDF")


def test_only_who_may_is_put_in_charge(client, works, sheet):
    client.force_login(works.people.manager)
    for who, then in (("fitter", "fitter"), ("volunteer", "fitter")):
        client.post(address(works, "day_person"), {"person": str(getattr(works.people, who).pk), "do": "in charge"})
        sheet.refresh_from_db()
        assert sheet.in_charge == getattr(works.people, then)
    for none in ("x", "9" * 5000):
        assert client.post(address(works, "day_person"), {"person": none, "do": "came"}).status_code == 404
        assert client.post(reverse("say_day"), {"person": none}).status_code == 404
        job = {"do": "move", "hand": none}
        assert client.post(reverse("day_job", args=[sheet.jobs.first().pk]), job).status_code == 404


def test_queries_do_not_grow_with_the_jobs(client, works, sheet):
    client.force_login(works.people.manager)
    counts = []
    for number in range(2):
        client.get(address(works))
        with CaptureQueriesContext(connection) as asked:
            client.get(address(works))
        counts.append(len(asked))
        for n in range(4):
            a_job(sheet, href=f"/p/{number}{n}/").hands.set(sheet.hands.all()[:2])
    assert counts[0] == counts[1] <= 26


def test_whoever_says_after_the_dealing_that_they_cannot_come_is_named_and_taken_off(client, works, sheet):
    people = works.people
    gone, other = people.second_fitter, people.storekeeper
    job = a_job(sheet)
    job.hands.set([hand(sheet, gone), hand(sheet, people.volunteer)])
    say_day(gone, gone, DAY, False)
    say_day(other, other, DAY, True)
    client.force_login(people.manager)
    told = f"{gone} cannot come (said {days(0).day} {days(0):%b})."
    assert told in client.get("/").content.decode()
    page = client.get(address(works)).content.decode()
    for words in (told, "Take them off and deal again", "Put a second person on “Lift the box”", "Add them and deal"):
        assert words in page
    assert str(other) in page.partition("not on the sheet:")[2][:80]
    assert sheet_pdf(sheet).startswith(b"%PDF")
    client.force_login(people.volunteer)
    page = client.get(address(works)).content.decode()
    assert told in page
    assert "Take them off" not in page
    assert "not on the sheet:" not in page
    client.force_login(people.manager)
    client.post(address(works, "deal_again"), {"off": [str(gone.pk), str(people.fitter.pk)]})
    on = {one.person for one in sheet.hands.all()}
    assert (gone in on, people.fitter in on, other in on) == (False, True, False)
    client.post(address(works, "deal_again"), {"on": [str(other.pk), str(people.trustee.pk)]})
    on = {one.person for one in sheet.hands.all()}
    assert (other in on, people.trustee in on) == (True, False)
    assert "cannot come" not in client.get(address(works)).content.decode()


@pytest.mark.engine
def test_whoever_has_come_is_here_whatever_they_said(client, works, sheet):
    person = works.people.volunteer
    say_day(person, person, DAY, False)
    writers.arrive(works.people.manager, hand(sheet, person), True)
    client.force_login(works.people.manager)
    assert "cannot come" not in client.get(address(works)).content.decode()


def printed(sheet, monkeypatch) -> list[str]:
    """What stands on the paper."""
    found = []

    def kept(text, style):
        found.append(unescape(text))
        return Paragraph(text, style)

    monkeypatch.setattr("parts.day.sheet_pdf.Paragraph", kept)
    sheet_pdf(sheet)
    return found


def test_every_caution_of_the_screen_is_on_the_paper_whole(client, works, sheet, monkeypatch):
    cautions = [
        "First: " + " ".join(["mind the sling and the hook."] * 12),
        "Second: no flame near it.",
        "Third: look up first.",
    ]
    a_job(sheet, cautions=cautions).hands.set(sheet.hands.all()[:2])
    client.force_login(works.people.manager)
    page = client.get(address(works)).content.decode()
    paper = printed(sheet, monkeypatch)
    for caution in cautions:
        assert caution in page
        assert caution in paper
    for job in sheet.jobs.all():
        assert set(job.cautions) <= set(paper)


def test_nothing_is_ticked_before_its_day_and_a_tick_says_what_it_is(client, works, sheet):
    job = next(job for job in sheet.jobs.with_hands() if job.hands.all())
    press(client, works, "volunteer", job, "done")
    page = client.get(address(works)).content.decode()
    assert "The day of this sheet has not come yet." in page
    assert "A tick is for the day; record the work on the piece itself." in page
    assert 'value="done"' not in page
    press(client, works, "volunteer", job, "double")
    job.refresh_from_db()
    assert (job.done_at, job.took) == (None, "")
    its_day_comes(sheet)
    assert 'value="done"' in client.get(sheet.get_absolute_url()).content.decode()


def test_a_job_about_several_pieces_names_them_with_their_tags(client, works, sheet, monkeypatch):
    client.force_login(works.people.manager)
    for need in ("clean", "strip"):
        job = sheet.jobs.filter(need=need).first() or a_task_of(works, sheet, need)
        places = Position.objects.filter(pk__in=job.places)
        assert len(places) > 1
        tags = Tag.objects.of_pieces_in(job.places)
        page, paper = unescape(client.get(address(works)).content.decode()), printed(sheet, monkeypatch)
        for place in places[:3]:
            named = " ".join((place.words, *tags[place.pk]))
            assert named.casefold() in page.casefold()
            assert any(named.casefold() in text.casefold() for text in paper)
        assert need == "strip" or any(tags.values())
    for held, told in ((99, "; and 1 more"), (len(job.places), "; and others")):
        monkeypatch.setattr(which_pieces, "MOST", len(job.places) - 1)
        monkeypatch.setattr(which_pieces, "OF_A_HEAP", held)
        which_pieces.name_pieces([job], days(0))
        assert job.pieces.endswith(told)
    monkeypatch.undo()
    Position.objects.filter(pk=place.pk).update(need="measure")  # it is stripped by now
    assert named.casefold() not in unescape(client.get(address(works)).content.decode()).casefold()


def a_task_of(works, sheet, need):
    """The first job of this need about several, put on the sheet."""
    task = next(each for each in tasks_for(works.locomotive, days(0)) if each.task.need == need and each.places[1:])
    return a_job(sheet, need=need, words=task.task.words, href=task.href, danger="", places=list(task.places))


def test_what_can_go_on_is_one_job_of_its_subassembly_for_a_fitter(works):
    lamps = Subassembly.objects.get(name="Lamps")
    lamp_irons = [works.plain_place(name="lamp iron", subassembly=lamps) for _ in range(2)]
    for place in lamp_irons:
        works.taken_over(State.ACCEPTED, place)
    DaySheet.objects.all().delete()
    sheet = writers.open_sheet(works.people.manager, works.locomotive, DAY)
    refit = sheet.jobs.get(need="refit")
    assert (refit.words, sorted(refit.places)) == ("Refit 2 pieces: Lamps", sorted(place.pk for place in lamp_irons))
    assert refit.href == reverse("put_together", args=[works.locomotive.slug, lamps.code])
    assert any(one.person in (works.people.fitter, works.people.second_fitter) for one in refit.hands.all())


def test_a_learner_is_named_with_who_answers_for_the_work(client, works, sheet):
    people = works.people
    set_learner(people.manager, people.volunteer, True)
    job = a_job(sheet)
    job.hands.set([hand(sheet, people.fitter), hand(sheet, people.volunteer)])
    client.force_login(people.manager)
    page = unescape(client.get(address(works)).content.decode())
    assert f"{people.volunteer} (learning, with {people.fitter})" in page


def test_a_choice_of_what_sets_free_is_dealt_first_in_one_tap_and_stays(client, works):
    client.force_login(works.people.manager)
    free = reverse("sets_free", args=[works.locomotive.slug])
    motion = Subassembly.objects.get(name="Motion")
    value = f"{motion.pk}:clean"
    DaySheet.objects.all().delete()
    page = client.get(free, {"do": value}).content.decode()
    to = reverse("plan_chosen", args=[works.locomotive.slug, DAY])
    assert client.post(to, {"do": f"{motion.pk}:nothing"}).url == free  # done meanwhile: no sheet is begun
    assert not DaySheet.objects.exists()
    assert reverse("plan_chosen", args=[works.locomotive.slug, days(1)])[:-11] in page
    assert client.post(to, {"do": value}).url == address(works)
    sheet = DaySheet.objects.get()
    job = sheet.jobs.get(chosen_of=motion)
    assert (job.need, "Motion" in job.words, job.hands.exists()) == ("clean", True, True)
    named = {place for each in sheet.jobs.filter(need="clean").exclude(pk=job.pk) for place in each.places}
    assert not named & set(job.places)
    writers.deal_again(works.people.manager, sheet)
    assert sheet.jobs.get(chosen_of=motion).hands.exists()
    told = client.post(to, {"do": f"{works.frames.pk}:clean"}, follow=True).content.decode()
    assert "All of it is on this sheet already." in told  # somebody has its pieces in hand
    assert not sheet.jobs.filter(chosen_of=works.frames).exists()
    for job in sheet.jobs.filter(need="clean", chosen_of=None):
        job.hands.clear()
    client.post(to, {"do": f"{works.frames.pk}:clean"})  # into the reserve, and nobody is moved
    assert not sheet.jobs.get(chosen_of=works.frames).hands.exists()
    assert client.post(reverse("plan_chosen", args=[works.locomotive.slug, days(-1)]), {"do": value}).url == free
    client.force_login(works.people.fitter)
    assert client.post(to, {"do": value}).status_code == 403
    assert "Put it on the sheet of" not in client.get(free, {"do": value}).content.decode()


def test_chosen_work_never_stands_beside_the_same_pieces_on_an_open_sheet(works, sheet):
    manager = works.people.manager
    about = {job.pk: {(job.need, place) for place in job.places} for job in sheet.jobs.all()}
    dealt = {job.pk for job in sheet.jobs.filter(hands__isnull=False)}
    subs = Subassembly.objects.filter(locomotive=works.locomotive)
    chosen = frozenset((sub.pk, need) for sub in subs for need in ("clean", "measure", "examine", "refit"))
    writers.open_sheet(manager, works.locomotive, DAY, chosen)
    on = [(job.need, place) for job in sheet.jobs.all() for place in job.places]
    assert sorted(on) == sorted(set(on))
    for job in sheet.jobs.filter(pk__in=dealt):  # what somebody has in hand keeps its pieces
        assert {(job.need, place) for place in job.places} == about[job.pk]
    assert sheet.jobs.filter(chosen_of__isnull=False, hands__isnull=True).exists()
    before = sheet.jobs.count()
    writers.open_sheet(manager, works.locomotive, DAY, chosen)  # once more changes nothing
    assert sheet.jobs.count() == before
    counted = sheet.jobs.filter(need="clean", chosen_of__isnull=False).first()
    assert counted is None or f"Clean {len(counted.places)} piece" in counted.words
