"""Writers of a day sheet: dealt, moved about, ticked off."""

from collections.abc import Collection, Iterable, Mapping
from datetime import date

from django.utils import timezone

from core.domain.catalogue import may
from core.domain.refusals import Refusal, Refused
from core.models import Person

from ..actions import writing
from ..domain import plain
from ..domain.day_sheet import Hand, Task, breaches, deal, in_charge, who_on
from ..models import DayHand, DayJob, DaySheet, Locomotive, Machine, MachineWork
from ..models.planning import TOOK
from ..queries.attendance import people_in
from .machine_work import machine_tasks
from .tasks import Chosen, DayTask, hands_of, in_order, tasks_for


def may_run(person: Person, sheet: DaySheet) -> bool:
    """The office, and whoever is in charge of the day."""
    return may(person.role_names, "run day") or (sheet.in_charge_id == person.pk and person.is_active)


def may_see(person: Person, sheet: DaySheet) -> bool:
    return may_run(person, sheet) or sheet.hands.filter(person=person).exists()


def open_sheet(actor: Person, locomotive: Locomotive, day: date, chosen: Chosen = frozenset()) -> DaySheet:
    """The sheet of a day with all who said that they come, dealt, what was chosen first. Where there is one, what was
    chosen goes to its reserve, and nobody is moved."""
    with writing.one_transaction():
        writing.allow(actor, "run day")
        sheet, new = DaySheet.objects.get_or_create(locomotive=locomotive, date=day)
        if new:
            DayHand.objects.bulk_create(DayHand(sheet=sheet, person=person) for person in people_in(day))
            _deal(actor, sheet, chosen)
        elif chosen:
            writing.hold(sheet)
            _add(actor, sheet, chosen)
        return sheet


def _add(actor: Person, sheet: DaySheet, chosen: Chosen) -> None:
    """No piece stands on it twice: what is dealt keeps its pieces, and what is in reserve gives up those chosen."""
    tasks = {each.task.key: each for each in tasks_for(sheet.locomotive, writing.today(), chosen | _chosen_on(sheet))}
    jobs = {f"{job.need} {job.href}": job for job in sheet.jobs.prefetch_related("hands")}
    dealt = {key: job for key, job in jobs.items() if job.done_at or job.hands.all() or job.chosen_of_id}
    held = {(job.need, pk) for job in dealt.values() if not job.done_at for pk in job.places}
    new = []
    for key, each in tasks.items():
        if not each.chosen_of or (each.chosen_of, each.task.need) not in chosen:
            continue
        if key in dealt:
            sheet.jobs.filter(pk=dealt[key].pk, done_at=None).update(chosen_of=each.chosen_of)
        elif less := each.without({pk for need, pk in held if need == each.task.need}):
            new.append(less)
    taken = {(each.task.need, pk) for each in new for pk in each.places}
    same = {each.task.key for each in new}
    numbers = iter(range(max((job.number for job in jobs.values()), default=0) + 1, 10**4))
    made = [_job(sheet, next(numbers), each) for each in new]
    for key, job in jobs.items():
        if key not in dealt and (key in same or taken.intersection((job.need, pk) for pk in job.places)):
            job.delete()
            if key in tasks and key not in same:
                made.append(_job(sheet, job.number, tasks[key]))
    DayJob.objects.bulk_create(made)
    _log(actor, sheet, "edit day sheet")


def _chosen_on(sheet: DaySheet) -> Chosen:
    """What was chosen once stays chosen until it is ticked or taken off."""
    return frozenset(sheet.jobs.filter(done_at=None, chosen_of__isnull=False).values_list("chosen_of", "need"))


def deal_again(actor: Person, sheet: DaySheet, *, off: Collection[int] = (), on: Collection[int] = ()) -> None:
    """To those who have come, once anybody has; what is done stays. First without some people, and with others."""
    with writing.one_transaction():
        _held(actor, sheet)
        sheet.hands.filter(person__in=off, arrived=False).delete()
        for person in on:
            DayHand.objects.get_or_create(sheet=sheet, person_id=person)
        _deal(actor, sheet)


def _deal(actor: Person, sheet: DaySheet, chosen: Chosen = frozenset()) -> None:
    chosen |= _chosen_on(sheet)
    hands = sheet_hands(sheet)
    found = hands_of([hand.person for hand in hands], sheet.date)
    done = {f"{job.need} {job.href}" for job in sheet.jobs.filter(done_at__isnull=False)}
    tasks = {each.task.key: each for each in _tasks(sheet, chosen) if each.task.key not in done}
    dealt = deal([each.task for each in tasks.values()], found)
    charge = next((hand for hand in found if hand.id == sheet.in_charge_id and hand.may_be_in_charge), None)
    charge = charge or in_charge(found)
    sheet.in_charge_id = charge.id if charge else None
    sheet.save(update_fields=["in_charge"])
    sheet.jobs.filter(done_at=None).delete()
    of_person = {hand.person_id: hand for hand in hands}
    made = DayJob.objects.bulk_create(
        _job(sheet, number, each) for number, each in enumerate((tasks[key] for key in dealt), len(done) + 1)
    )
    through = DayJob.hands.through
    through.objects.bulk_create(
        through(dayjob=job, dayhand=of_person[person])
        for job, on in zip(made, dealt.values(), strict=True)
        for person in on
    )
    _log(actor, sheet, "deal day sheet", hands=len(found), jobs=len(dealt))


def _tasks(sheet: DaySheet, chosen: Chosen) -> list[DayTask]:
    """Work on machines comes before what was not chosen: a machine that stands still on a day is a day lost."""
    list(Machine.objects.select_for_update().order_by("pk"))  # nobody deals the same hours on another sheet meanwhile
    found, machines = tasks_for(sheet.locomotive, writing.today(), chosen), machine_tasks(sheet.locomotive, sheet.date)
    first = sum(each.chosen_of is not None for each in found)
    return [*found[:first], *machines, *found[first:]]


def _job(sheet: DaySheet, number: int, each: DayTask) -> DayJob:
    return DayJob(
        sheet=sheet, number=number, need=each.task.need, words=each.task.words[:200], href=each.href,
        where=each.where[:300], look=each.task.look, danger=each.task.danger, cautions=list(each.cautions),
        places=list(each.places), chosen_of_id=each.chosen_of, machine_work_id=each.machine_work,
    )  # fmt: skip


def sheet_hands(sheet: DaySheet) -> list[DayHand]:
    return those_here(list(sheet.hands.select_related("person")))


def those_here(hands: list[DayHand]) -> list[DayHand]:
    """Those who have come, once anybody has; until then all who are expected."""
    return [hand for hand in hands if hand.arrived] or hands


def task_of(job: DayJob) -> Task:
    return Task(
        key=f"{job.need} {job.href}", words=job.words, need=job.need, look=job.look, danger=job.danger,
        chosen=job.chosen_of_id is not None, where=in_order(job.where),
    )  # fmt: skip


def as_hands(sheet: DaySheet, hands: Iterable[DayHand]) -> dict[int, Hand]:
    """By person, as the rules see them on that day."""
    return {hand.id: hand for hand in hands_of([each.person for each in hands], sheet.date)}


def against(sheet: DaySheet, there: Iterable[DayHand], known: Mapping[int, Hand]) -> list[str]:
    """What must be put right before the sheet is used, with these of its hands."""
    return _against(sheet, [known[hand.person_id] for hand in there if hand.person_id in known])


def name_hands(jobs: Iterable[DayJob], known: Mapping[int, Hand]) -> None:
    """Gives each job `who`, those on it; a learner with whoever answers for the work."""
    for job in jobs:
        on = job.hands.all()
        found = [known[each.person_id] for each in on if each.person_id in known]
        job.who = who_on(found) if len(found) == len(on) else [str(each) for each in on]


def _against(sheet: DaySheet, hands: Iterable[Hand]) -> list[str]:
    by_id = {hand.id: hand for hand in hands}
    jobs = sheet.jobs.with_hands().filter(done_at=None)
    rows = [(task_of(job), [hand.person_id for hand in job.hands.all()]) for job in jobs]
    return list(breaches(rows, by_id, sheet.in_charge_id))


def set_person(actor: Person, sheet: DaySheet, person: Person, *, on: bool) -> None:
    """Somebody else comes, or somebody does not."""
    with writing.one_transaction():
        _held(actor, sheet)
        if on:
            DayHand.objects.get_or_create(sheet=sheet, person=person)
        else:
            sheet.hands.filter(person=person).delete()
        _log(actor, sheet, "edit day sheet")


def arrive(actor: Person, hand: DayHand, arrived: bool) -> None:
    with writing.one_transaction():
        _held(actor, hand.sheet)
        writing.hold(hand)
        hand.arrived = arrived
        hand.save(update_fields=["arrived"])
        _log(actor, hand.sheet, "edit day sheet")


def put_in_charge(actor: Person, sheet: DaySheet, person: Person) -> None:
    with writing.one_transaction():
        _held(actor, sheet)
        found = next(iter(hands_of([person], sheet.date)), None)
        if found is None or not found.may_be_in_charge or not sheet.hands.filter(person=person).exists():
            raise Refused(
                Refusal("in_charge", "Choose a fitter, an engineer or the works manager who is in.",
                        f"{person} may not be in charge of this day.")
            )  # fmt: skip
        sheet.in_charge = person
        sheet.save(update_fields=["in_charge"])
        _log(actor, sheet, "edit day sheet")


def move(actor: Person, hand: DayHand, job: DayJob | None) -> None:
    """To this job, and from the others that are not done. Refused where it makes the day less safe."""
    with writing.one_transaction():
        _held(actor, hand.sheet)
        writing.hold(hand)
        if job is not None:
            writing.hold(job)
        hands = hands_of([each.person for each in sheet_hands(hand.sheet)], hand.sheet.date)
        before = set(_against(hand.sheet, hands))
        hand.jobs.remove(*hand.jobs.filter(done_at=None))
        if job is not None:
            job.hands.add(hand)
        worse = [sentence for sentence in _against(hand.sheet, hands) if sentence not in before]
        if worse:
            raise Refused(*(Refusal("unsafe", sentence, "") for sentence in worse))
        _log(actor, hand.sheet, "edit day sheet")


def shift(actor: Person, job: DayJob, by: int) -> None:
    """Up or down among those that are not done."""
    with writing.one_transaction():
        _held(actor, job.sheet)
        order = list(job.sheet.jobs.filter(done_at=None))
        if job not in order:
            raise Refused(Refusal("stale", "It was ticked off or taken off meanwhile.", "Look at the sheet again."))
        at = order.index(job)
        order.insert(min(max(at + by, 0), len(order) - 1), order.pop(at))
        for number, each in enumerate(order, job.sheet.jobs.filter(done_at__isnull=False).count() + 1):
            each.number = number
        DayJob.objects.bulk_update(order, ["number"])
        _log(actor, job.sheet, "edit day sheet")


def drop(actor: Person, job: DayJob) -> None:
    """Off the sheet: it waits where it waited before."""
    with writing.one_transaction():
        _held(actor, job.sheet)
        job.delete()
        _log(actor, job.sheet, "edit day sheet")


def tick(actor: Person, job: DayJob, *, done: bool, took: str = "") -> None:
    """By somebody on the sheet. `took`: how long, beside what one thought; may be left blank."""
    with writing.one_transaction():
        writing.allow(actor, "tick job")
        if not may_see(actor, job.sheet):
            raise Refused(Refusal("role", "Ask somebody who is on this sheet.", "You are not on it."))
        writing.hold(job.sheet)
        writing.hold(job)
        if done and job.sheet.date > writing.today():
            when = plain.day(job.sheet.date)
            raise Refused(Refusal("date", f"Tick it on {when}.", "The day of this sheet has not come yet."))
        if done and not job.done_at:
            job.done_at, job.done_by = timezone.now(), actor
        elif not done:
            job.done_at = job.done_by = None
            _goes_on(job.machine_work)
        job.took = took if done and took in TOOK else ""
        job.save()
        _log(actor, job.sheet, "tick job", job=job.words, took=job.took)


def end_machine_work(actor: Person, job: DayJob) -> None:
    """The whole work is done, not only a day of it, says somebody on the sheet who ticked it."""
    work = job.machine_work
    with writing.one_transaction():
        writing.allow(actor, "tick job")
        if not may_see(actor, job.sheet):
            raise Refused(Refusal("role", "Ask somebody who is on this sheet.", "You are not on it."))
        if work is None or not job.done_at:
            raise Refused(
                Refusal("machine", "Tick the job first.", "Only work that was planned for a machine ends here.")
            )
        writing.hold(work)
        if work.done_on is None:
            work.done_on = writing.today()
            work.save(update_fields=["done_on"])
            _log(actor, job.sheet, "tick job", job=f"{job.words}: all of it is done", took="")


def _goes_on(work: MachineWork | None) -> None:
    """All of it was said to be done with the tick that is taken off now."""
    if work and work.done_on:
        writing.hold(work)
        work.done_on = None
        work.save(update_fields=["done_on"])


def _held(actor: Person, sheet: DaySheet) -> None:
    writing.hold(sheet)
    if not may_run(actor, sheet):
        writing.allow(actor, "run day")


def _log(actor: Person, sheet: DaySheet, word: str, **data) -> None:
    data = {"sheet": sheet.pk, "date": sheet.date.isoformat()} | data
    event = writing.log(actor, word, locomotive=sheet.locomotive, data=data)
    DaySheet.objects.filter(pk=sheet.pk).update(last_event=event.pk)
