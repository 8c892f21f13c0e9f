"""Work on machines as jobs of a day: by the hours of the machine and by who may use it. An invented works."""

from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from core.models import Person
from parts.day import writers
from parts.day.machine_work import machine_tasks
from parts.domain.day_sheet import Hand, Task, that_fit
from parts.forecast.writers import plan_machine_work
from parts.models import DaySheet, Machine, MachineWork, Skill
from parts.models.planning import DAYS
from tests.factories import days
from tests.parts.actions.standard import refused
from tests.parts.day.a_day import DAY, with_people_in

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def works(module_db):
    return with_people_in()


@pytest.fixture
def lathe(works):
    return Machine.objects.create(name="wheel lathe")


def planned(works, what, likely="1", **more) -> MachineWork:
    guess = {"least": Decimal(likely), "likely": Decimal(likely), "most": Decimal(likely)}
    return plan_machine_work(works.people.manager, works.frames, what=what, **guess | more)


def of_the_day(works) -> list[str]:
    return [each.task.words.partition(":")[0] for each in machine_tasks(works.locomotive, DAY)]


def can(person: Person, name: str) -> None:
    Skill.objects.create(person=person, name=name)


def test_it_is_dealt_to_somebody_who_may_use_the_machine(client, works, lathe):
    can(works.people.second_fitter, "turn tyres")
    work = planned(works, "turn the tyres", machine=lathe, skill="turn tyres")
    sheet = writers.open_sheet(works.people.manager, works.locomotive, DAY)
    job = sheet.jobs.get(machine_work=work)
    assert [hand.person for hand in job.hands.all()][:1] == [works.people.second_fitter]
    assert job.where == "wheel lathe"
    client.force_login(works.people.manager)
    page = client.get(sheet.get_absolute_url()).content.decode()
    assert "Turn the tyres: Frames" in page
    assert "drawn into a machine" in page
    hands = writers.sheet_hands(sheet)
    assert writers.against(sheet, hands, writers.as_hands(sheet, hands)) == []
    job.hands.set(sheet.hands.filter(person=works.people.volunteer))
    (told,) = writers.against(sheet, hands, writers.as_hands(sheet, hands))
    assert "Turn the tyres" in told


def test_with_nobody_in_who_may_use_it_it_is_not_dealt(works, lathe):
    planned(works, "turn the tyres", machine=lathe, skill="turn tyres")
    sheet = writers.open_sheet(works.people.manager, works.locomotive, DAY)
    assert not sheet.jobs.filter(machine_work__isnull=False, hands__isnull=False).exists()


def test_one_lathe_takes_what_its_hours_hold(works, lathe):
    """A day for which nobody entered hours has 480 minutes; this lathe runs 240 of them."""
    setattr(lathe, DAYS[DAY.weekday()], 240)
    lathe.save()
    for what, likely in (("first", "0.25"), ("second", "0.25"), ("third", "0.25")):  # 120 minutes each
        planned(works, what, likely, machine=lathe)
    assert of_the_day(works) == ["First", "Second"]
    Machine.objects.update(units=2)
    assert of_the_day(works) == ["First", "Second", "Third"]
    Machine.objects.update(**{DAYS[DAY.weekday()]: 0})
    assert of_the_day(works) == []
    Machine.objects.update(**{DAYS[DAY.weekday()]: None}, out_of_use=True)
    assert of_the_day(works) == []


def test_another_locomotive_that_has_the_lathe_that_day_keeps_it(works, lathe):
    other = works.another()
    planned(other, "their tyres", "3", machine=lathe)
    sheet = writers.open_sheet(works.people.manager, other.locomotive, DAY)
    assert sheet.jobs.filter(machine_work__machine=lathe).exists()
    planned(works, "our tyres", "3", machine=lathe)
    assert of_the_day(works) == []


def test_what_ended_today_held_the_lathe_today(works, lathe):
    other = works.another()
    work = planned(other, "their tyres", "3", machine=lathe)
    sheet = writers.open_sheet(works.people.manager, other.locomotive, DAY)
    planned(works, "our tyres", "3", machine=lathe)
    sheet.jobs.update(done_at=timezone.now(), done_by=works.people.fitter)
    MachineWork.objects.filter(pk=work.pk).update(done_on=DAY)
    assert of_the_day(works) == []
    MachineWork.objects.filter(pk=work.pk).update(done_on=days(1))
    assert of_the_day(works) == ["Our tyres"]


def test_a_job_in_reserve_holds_no_machine(works, lathe):
    other = works.another()
    planned(other, "their tyres", "3", machine=lathe)
    sheet = writers.open_sheet(works.people.manager, other.locomotive, DAY)
    planned(works, "our tyres", "3", machine=lathe)
    for job in sheet.jobs.all():
        job.hands.clear()
    assert of_the_day(works) == ["Our tyres"]


def test_a_hoist_is_never_worked_alone(works):
    hoist = Machine.objects.create(name="wheel hoist")
    planned(works, "lower the boiler", machine=hoist)
    (task,) = machine_tasks(works.locomotive, DAY)
    assert (task.task.danger, task.task.wanted) == ("lifting", 2)


@pytest.mark.engine
def test_a_tick_is_for_the_day_and_the_work_ends_when_all_of_it_is_done(client, works, lathe):
    work = planned(works, "turn the tyres", "3", machine=lathe)
    sheet = writers.open_sheet(works.people.manager, works.locomotive, DAY)
    job = sheet.jobs.get(machine_work=work)
    with refused("machine"):
        writers.end_machine_work(works.people.manager, job)
    DaySheet.objects.update(date=days(0))
    job.refresh_from_db()
    job.sheet.refresh_from_db()
    client.force_login(works.people.manager)
    press = reverse("day_job", args=[job.pk])
    client.post(press, {"do": "done"})
    work.refresh_from_db()
    assert work.done_on is None
    client.post(press, {"do": "all done"})
    work.refresh_from_db()
    assert work.done_on == days(0)
    assert of_the_day(works) == []
    client.post(press, {"do": "not done"})
    work.refresh_from_db()
    assert work.done_on is None


def test_what_takes_longer_than_a_day_holds_the_machine_for_the_day():
    """By hand: 300 minutes and one lathe. 200 go on; 200 more do not; 100 do. 900 would only begin on a free one."""
    lathe = {"lathe": (1, 300)}
    assert that_fit([("a", "lathe", 200), ("b", "lathe", 200), ("c", "lathe", 100)], lathe) == ["a", "c"]
    assert that_fit([("a", "lathe", 900), ("c", "lathe", 10)], lathe) == ["a"]
    assert that_fit([("c", "lathe", 10), ("a", "lathe", 900)], lathe) == ["c"]
    assert that_fit([("a", "lathe", 900), ("b", "lathe", 900), ("c", "lathe", 9)], {"lathe": (2, 300)}) == ["a", "b"]
    assert that_fit([("a", "mill", 10)], lathe) == []


def test_without_a_named_skill_a_fitter_works_it_and_a_volunteer_does_not():
    task = Task(key="a", words="Turn", need="machine")
    assert Hand(id=1, name="Ann", roles=frozenset({"fitter"})).can_lead(task)
    assert not Hand(id=2, name="Bob", roles=frozenset({"volunteer"})).can_lead(task)
    assert not Hand(id=3, name="Cy", roles=frozenset({"fitter"}), learner=True).can_lead(task)
