"""An import undone whole: while nothing was done to what it added, the register is as before, and the list comes in
again."""

import pytest

from core.domain.refusals import Refused
from parts.actions.refresh import out_of_date
from parts.finding.find_index import lacking
from parts.models import Component, Findable, Location, Position, Subassembly, Tag
from parts.taking_over.writers.undoing import imports_of, undo_import
from tests.factories import events_of
from tests.parts.a_list import ROWS
from tests.parts.taking_over.test_importing import bring_in

pytestmark = [pytest.mark.django_db]
WHY = "it was the list of another engine"


def seen() -> list:
    """What lists, counts and finding read."""
    models = (Subassembly, Position, Component, Location)
    rows = [sorted(model.objects.values_list("pk", *more)) for model, more in zip(models, MORE, strict=True)]
    tied = Tag.objects.exclude(component=None, location=None).filter(current=True).values_list("code", flat=True)
    return [*rows, sorted(tied), sorted(Findable.objects.values_list("kind", "thing", "name"))]


MORE = (["name"], ["standing", "need", "known_empty_on", "opened"], ["state", "broken_down"], ["path"])


@pytest.mark.engine
def test_the_register_is_as_before_and_the_same_list_comes_in_again(works):
    bring_in(works, *ROWS[5:8])  # places that the whole list fills, marks empty or leaves
    before = seen()
    made = bring_in(works, *ROWS)
    whole = seen()
    undo_import(imports_of(works.locomotive).first(), works.people.manager, reason=WHY)
    assert seen() == before
    assert (out_of_date({"locomotive": works.locomotive}), lacking()) == ([], [])
    struck = Component._base_manager.filter(struck=True).first()
    assert events_of(struck).latest("pk").remark == WHY
    again = bring_in(works, *ROWS)
    assert len(again.steps) == len(made.steps)
    assert [len(rows) for rows in seen()] == [len(rows) for rows in whole]
    with pytest.raises(Refused, match="undone already"):
        undo_import(imports_of(works.locomotive)[1], works.people.manager, reason=WHY)


def test_once_something_was_done_to_a_row_it_is_told_and_nothing_changes(works, client):
    bring_in(works, *ROWS)
    piece = Component.objects.filter(state="stripped").first()
    works.clean(piece)
    before, event = seen(), imports_of(works.locomotive).first()
    with pytest.raises(Refused, match="1 thing was done since.*“clean”"):
        undo_import(event, works.people.manager, reason=WHY)
    assert seen() == before
    client.force_login(works.people.manager)
    at = f"/l/{works.locomotive.slug}/import/"
    assert "list.csv" in client.get(at).content.decode()
    assert "“clean”" in client.get(f"{at}{event.pk}/undo").content.decode()
    assert client.post(f"{at}{event.pk}/undo", {"reason": WHY}).status_code == 422
    client.force_login(works.people.fitter)
    assert client.post(f"{at}{event.pk}/undo", {"reason": WHY}).status_code == 403
