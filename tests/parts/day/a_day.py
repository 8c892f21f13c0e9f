"""A half-done works, and a day on which five people of it have said that they come."""

from parts.attendance.writers import say_day
from tests.factories import Works, a_works, days
from tests.parts.a_half_done_works import half_done

DAY = days(5)
COME = ("volunteer", "fitter", "second_fitter", "examiner", "engineer")


def with_people_in() -> Works:
    works = a_works()
    half_done(works)
    for who in COME:
        person = getattr(works.people, who)
        say_day(person, person, DAY, True)
    return works
