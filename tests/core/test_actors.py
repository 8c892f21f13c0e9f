"""People as the rules see them: who signs in, with their roles, and the rights to sign that are good on the day."""

from core.models import Authorisation, Person
from core.roles import Role
from tests.factories import a_cast, days


def test_all_of_them_are_seen_as_each_alone_is_and_who_has_left_is_not(db):
    people = a_cast()
    Person.objects.filter(pk__in=(people.volunteer.pk, people.second_engineer.pk)).update(is_active=False)
    Authorisation.objects.filter(person=people.examiner).update(until=days(-1))
    Authorisation.objects.filter(person=people.second_examiner).update(until=days(0))
    there = sorted({*people} - {people.volunteer, people.second_engineer}, key=str)
    found = Person.objects.actors(days(0))
    assert found == [person.as_actor(days(0)) for person in there]
    rights = {actor.id: bool(actor.authorised) for actor in found}
    assert rights == {person.pk: person == people.second_examiner for person in there}
    assert not any(actor.authorised for actor in Person.objects.actors(days(1)))
    examiners = Person.objects.actors(days(0), [Role.EXAMINER])
    assert examiners == [actor for actor in found if actor.id in (people.examiner.pk, people.second_examiner.pk)]
