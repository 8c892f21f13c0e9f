from datetime import date

import pytest
from django.db.models import F, prefetch_related_objects

from core.models import people
from core.models.prepared import MOST, prefetch, prepared
from inspections.provider import loading as examined
from parts.actions import built_up, refresh
from parts.common import shortcuts
from parts.domain.words import State
from parts.finding import find_index
from parts.models import Component, Position, Tag
from parts.queries import loading, readiness
from tests.factories import a_works

pytestmark = [pytest.mark.django_db, pytest.mark.engine]


@pytest.fixture(scope="module")
def places(works_once):
    outer = works_once.built_up()
    pieces = [works_once.examined(works_once.critical_place()), works_once.piece(State.CLEANED, place=outer)]
    return [piece.place_id for piece in pieces] + [works_once.plain_place().pk]


@pytest.fixture(scope="module")
def works_once(module_db):
    return a_works()


@pytest.mark.parametrize("query", [loading._positions, loading._holds, loading._within, refresh._stored])
def test_what_is_kept_finds_what_a_new_query_finds_of_places(works_once, places, query):
    one, other, empty = places
    scopes = [{"pk": one}, {"pk": other}, {"id__in": [one, other]}, {"id__in": [other, empty]}, {"id__in": [one] * 40}]
    for scope in [*scopes, {"locomotive": works_once.locomotive}, {"subassembly_id": works_once.frames.pk}]:
        assert as_read(query(scope)) == as_read(query.__wrapped__(scope)), scope


@pytest.mark.parametrize("query", [loading._components, examined._examinations, examined._dimensions])
def test_and_of_pieces(works_once, places, query):
    one, other, empty = places
    piece = Component.objects.get(place=one)
    for scope in ({"pk__in": [piece.pk]}, {"place__pk": one}, {"place__pk": other}, {"place__id__in": places}):
        assert as_read(query(scope)) == as_read(query.__wrapped__(scope)), scope


@pytest.mark.parametrize("query", [refresh._near, built_up._outer, built_up._built_up])
def test_and_of_what_is_around_and_inside(works_once, places, query):
    inner = Position.objects.filter(part_of__isnull=False).values_list("pk", flat=True)
    key = "id__in" if query is refresh._near else "pk__in"
    for ids in ([*inner], [*inner][:1], places[:2], places[1:], [10**6]):
        assert sorted(query({key: ids})) == sorted(query.__wrapped__({key: ids})), ids


def test_and_of_people(works_once):
    for person in works_once.people:
        roles, rights = {"user__in": [person.pk]}, {"person__in": [person.pk]}
        assert set(people._roles(roles)) == set(people._roles.__wrapped__(roles)) != set()
        assert as_read(people._authorisations(rights)) == as_read(people._authorisations.__wrapped__(rights))
    assert people._roles({"user__in": [None]}) == people._authorisations({"person__in": [None]}) == []


def test_and_by_words(works_once, places):
    """A kind beside numbers, a code alone; the second time with other words than it was made for."""
    for kind in ("piece", "place", "nothing"):
        scope = {"kind": kind, "thing__in": places}
        assert as_read(find_index._locked(scope)) == as_read(find_index._locked.__wrapped__(scope))
    first, second = Tag.objects.all()[:2]
    for tag in (first, second):
        assert shortcuts._tags({"code": tag.code}) == [tag]
    assert shortcuts._tags({"code": ""}) == []


def test_and_by_days(works_once, places):
    """The second time with another day than it was made for, and with the first again."""
    place, *_ = places
    Position.objects.filter(pk=place).update(changes_on=date(2026, 3, 2), later=[["2026-03-02", "blocked", "recheck"]])
    for day, found in [(date(2026, 3, 1), []), (date(2026, 3, 2), [place]), (date(2026, 3, 1), [])]:
        assert [row.pk for row in readiness._changed({"locomotive": works_once.locomotive.pk, "by": day})] == found


def test_a_query_that_asks_with_something_else_than_it_was_given_is_refused(works_once):
    with pytest.raises(ValueError, match="does not stand in the query"):
        prepared(lambda scope: Position.objects.filter(**scope))({"name__contains": "horn"})


def test_rows_that_become_something_else_are_refused(works_once):
    for query in (works_once.frames.positions.all(), Position.objects.values_list("pk", named=True)):
        with pytest.raises(ValueError, match="not known here what becomes of the rows"):
            prepared(lambda scope, query=query: query.filter(**scope))({"pk": 1})


def test_rows_are_given_as_they_are_asked_for(works_once, places):
    """As values in an order of their own, as one value, as a dictionary, without some columns, by what is not given."""
    place = Position.objects.get(pk=places[0])
    wanted = {"name": place.name, "subassembly__name": "Frames", "twice": place.pk * 2}
    every = Position.objects.annotate(twice=F("pk") * 2)
    for query, given in (
        (every.values_list("twice", "subassembly__name", "name"), (place.pk * 2, "Frames", place.name)),
        (every.order_by("end").distinct().values_list("name", "pk"), (place.name, place.pk)),
        (every.values_list("twice", flat=True), place.pk * 2),
        (every.values("name", "subassembly__name", "twice"), wanted),
    ):
        assert prepared(lambda scope, query=query: query.filter(**scope))({"pk": place.pk}) == [given]
    both = prepared(lambda scope: Position.objects.prefetch_related("pieces").filter(**scope))({"id__in": places[:2]})
    assert [[piece.place_id for piece in one._prefetched_objects_cache["pieces"]] for one in both] == [
        [one.pk] for one in both
    ]
    (some,) = prepared(
        lambda scope: every.select_related("subassembly").only("name", "subassembly__code").filter(**scope)
    )({"pk": place.pk})
    assert {"end", "side"} <= some.get_deferred_fields()
    assert (some.twice, some.end, some.subassembly.name) == (place.pk * 2, place.end, "Frames")


def test_what_belongs_to_rows_is_fetched_as_django_does(works_once, places, django_assert_num_queries):
    ask = prepared(lambda scope: Component.objects.filter(**scope))
    ours, theirs = (list(Position.objects.filter(pk__in=places)) for _ in range(2))
    prefetch_related_objects(theirs, "pieces")
    with django_assert_num_queries(1):
        assert {piece.place_id for piece in prefetch(ours, "pieces", ask)} == set(places[:2])
        assert prefetch(ours, "pieces", ask) == []
        found = [list(place.pieces.all()) for place in ours]
        assert all(piece.place is place for place in ours for piece in place.pieces.all())
    assert found == [list(place.pieces.all()) for place in theirs]
    assert [place.pieces.filter(quantity__gt=0).count() for place in ours] == [
        place.pieces.filter(quantity__gt=0).count() for place in theirs
    ]


def test_a_word_that_is_always_the_same_is_found_as_it_is(works_once):
    """A quotation mark ends a word in SQL, and a per cent sign begins a place for one."""
    for name in ("the driver's", "100 %", "%s", "two %% signs", "back\\slash"):
        place = works_once.place(name=name)
        always = prepared(lambda scope, name=name: Position.objects.filter(name=name, **scope))
        assert always({"pk": place.pk}) == always({"locomotive": works_once.locomotive}) == [place], name


def test_a_list_longer_than_is_kept_is_asked_anew(works_once, places):
    assert len(loading._positions({"id__in": [places[0], *range(10**6, 10**6 + MOST)]})) == 1
    assert loading._positions({"id__in": []}) == []


def as_read(rows) -> list[dict]:
    """All that stands in each, and in those joined to it."""
    return [values(row) for row in rows]


def values(row) -> dict:
    joined = {name: values(one) for name, one in row._state.fields_cache.items() if one is not None}
    return {name: value for name, value in vars(row).items() if name != "_state"} | joined
