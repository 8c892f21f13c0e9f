"""Writers of who comes, of what people can do, and of machines."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from core.domain.refusals import Refusal, Refused
from core.log.writing import log
from core.models import Event, Person

from ..actions import writing
from ..models import Attendance, DayIn, Machine, Skill
from ..models.planning import DAYS

KEPT_OF_A_MACHINE = ("name", "units", *DAYS, "out_of_use")


def say_week(actor: Person, person: Person, days: Sequence[str]) -> Attendance:
    """The weekdays on which somebody usually comes, "saturday" and so on."""
    with writing.one_transaction():
        _may_say(actor, person)
        week = {day: day in days for day in DAYS}
        found, _ = Attendance.objects.update_or_create(person=person, defaults=week)
        return found


def say_day(actor: Person, person: Person, day: date, coming: bool) -> DayIn:
    """Whether somebody comes on this day, whatever their week says."""
    with writing.one_transaction():
        _may_say(actor, person)
        if day < writing.today():
            raise Refused(Refusal("date", "Choose today or a later day.", "That day has passed."))
        found, _ = DayIn.objects.update_or_create(person=person, date=day, defaults={"coming": coming})
        return found


def _may_say(actor: Person, person: Person) -> None:
    """Oneself, or the office."""
    writing.allow(actor, "say days" if actor == person else "plan")
    log(actor, "say days", about=[("person", person.pk)], data={"person": person.pk})


def set_learner(actor: Person, person: Person, learner: bool) -> None:
    with writing.one_transaction():
        writing.allow(actor, "edit skills")
        data = {"person": person.pk, "learner": learner}
        log(actor, "set learner", about=[("person", person.pk)], remark=str(person), data=data)
        Attendance.objects.update_or_create(person=person, defaults={"learner": learner})


def add_skill(actor: Person, person: Person, name: str, until: date | None = None) -> Skill:
    """Added again, its expiry is that of the second time."""
    name = " ".join(name.split()).lower()
    if not name:
        raise Refused(Refusal("name", "Write what the person can do.", "Nothing was written."))
    with writing.one_transaction():
        writing.allow(actor, "edit skills")
        data = {"person": person.pk, "skill": name, "until": until.isoformat() if until else None}
        log(actor, "add skill", about=[("person", person.pk)], remark=str(person), data=data)
        skill, _ = Skill.objects.update_or_create(person=person, name=name, defaults={"until": until})
        return skill


def end_skill(actor: Person, skill: Skill) -> None:
    with writing.one_transaction():
        writing.allow(actor, "edit skills")
        data = {"person": skill.person_id, "skill": skill.name}
        log(actor, "end skill", about=[("person", skill.person_id)], remark=str(skill.person), data=data)
        skill.delete()


def machine_edits(machine: Machine):
    return Event.objects.about("machine", machine.pk).filter(action="edit machine")


def save_machine(actor: Person, machine: Machine, *, seen: int | None = None, **entered: Any) -> Machine:
    """Add one, or change it: name, how many jobs at once, minutes by weekday."""
    if Machine.objects.filter(name__iexact=entered["name"]).exclude(pk=machine.pk).exists():
        raise Refused(Refusal("name", "Choose another name.", f"There is a {entered['name']} already."))
    with writing.one_transaction():
        writing.allow(actor, "edit machines")
        if machine.pk:
            writing.hold(machine)
        writing.not_overtaken(machine_edits(machine), seen)
        was = {name: getattr(machine, name) for name in KEPT_OF_A_MACHINE} if machine.pk else {}
        for name, value in entered.items():
            setattr(machine, name, value)
        machine.save()
        data = {"machine": machine.pk, "was": was}
        event = log(actor, "edit machine", about=[("machine", machine.pk)], remark=machine.name, data=data)
        Machine.objects.filter(pk=machine.pk).update(last_event=event.pk)
        return machine
