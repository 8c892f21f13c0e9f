"""The run on PostgreSQL leaves out no marked test, and says which action it never carried out."""

from types import SimpleNamespace

import pytest

from core.domain.catalogue import CATALOGUE
from tests import second_engine
from tests.running import ROOT


def test_every_marked_test_stands_in_a_file_that_is_named(request):
    marked = {item.path.relative_to(ROOT) for item in request.session.items if item.get_closest_marker("engine")}
    assert marked <= {ROOT.joinpath(name).relative_to(ROOT) for name in second_engine.files()}


@pytest.mark.parametrize(("by_a_worker", "ends_with"), [({"clean", "refit"}, 0), ({"clean"}, 1)])
def test_a_run_that_misses_an_action_fails(monkeypatch, by_a_worker, ends_with):
    others = set(CATALOGUE.event_words()) - {"clean", "refit"}
    monkeypatch.setattr(second_engine, "carried_out", others)
    second_engine.pytest_testnodedown(SimpleNamespace(workeroutput={"carried_out": sorted(by_a_worker)}))
    session = SimpleNamespace(config=SimpleNamespace(), exitstatus=0)
    second_engine.pytest_sessionfinish(session, 0)
    assert session.exitstatus == ends_with
    assert second_engine.missed() == ["refit"] * ends_with
