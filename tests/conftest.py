"""Which tests run, in what order, and by which of several workers."""

import gc
import os

import _pytest.runner
import hypothesis
import pytest
from django.conf import settings
from django.db import transaction
from django.test import Client
from django.test.utils import setup_databases, teardown_databases
from xdist.scheduler import LoadFileScheduling

from tests import tools
from tests.demo_copy import built_demo, copied, demo_in_the_database, register  # noqa: F401 - fixtures
from tests.reads_over import ReadsOver
from tests.remembered import force_login, memory
from tests.template_database import copied_instead_of_migrated

# What is collected stays, so nothing is looked through for what can go until all is there.
gc.disable()

# A shared machine pauses now and then, which says nothing about the code.
hypothesis.settings.register_profile("cotter", deadline=None, print_blob=True, max_examples=30)
hypothesis.settings.load_profile("cotter")

# Python keeps the frames of calls in stretches of 16 KB. Where a loop calls across the edge of one, the system is asked
# for the next and given it back at each call: a third of the processor time of the crawl of the demo, a tenth of all
# tests'. Whatever is called by something with a frame as large as this has a megabyte to its first edge.
_pytest.runner.runtestprotocol.__code__ = _pytest.runner.runtestprotocol.__code__.replace(co_stacksize=1 << 17)

DATABASE_FIXTURES = {
    "db",
    "transactional_db",
    "django_db_reset_sequences",
    "django_db_serialized_rollback",
    "live_server",
}
ALONE = ("rule", "plain", "database", "demo", "program")
"""What tells of a mistake soonest comes first."""
SHARED = ("program", "database", "plain", "demo", "rule")
"""What waits for a browser begins, and builds the demo, while the others do what needs none. The short ones at the end
keep all busy to it."""


@pytest.fixture(scope="session")
def django_db_setup(django_test_environment, django_db_modify_db_settings, django_db_blocker):
    """As pytest-django has it, but copied from a template rather than migrated."""
    with django_db_blocker.unblock(), copied_instead_of_migrated():
        databases = setup_databases(verbosity=0, interactive=False, serialized_aliases=())
        memory.prepare()
        Client.force_login = force_login
    yield
    with django_db_blocker.unblock():
        teardown_databases(databases, verbosity=0)


@pytest.fixture
def client():
    """It reads over and signs at once what was written down on a sheet (tests/reads_over.py)."""
    return ReadsOver()


@pytest.fixture(scope="module")
def module_db(django_db_setup, django_db_blocker):
    """For scenery that all tests of a file share: what a test changes is undone after it, and all after the last. The
    objects in memory are shared too, so a test that changes a row asks the database for it."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield
        transaction.set_rollback(True)


@pytest.fixture(scope="session")
def browser():
    """Debian's Chromium, one for all tests, which begin with a window of their own. Its event loop stays in this
    thread, where Django would refuse a database to all tests after it, though nothing here is asynchronous."""
    from playwright.sync_api import sync_playwright

    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=tools.chromium(), args=tools.CHROMIUM_FLAGS)
        yield chromium
        chromium.close()


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item):
    if item.get_closest_marker("database"):
        memory.begin()


def pytest_collection_finish():
    """Modules and tests stay to the end, so they need no looking through for what can go: a tenth of the whole time."""
    gc.freeze()
    gc.enable()
    gc.set_threshold(50_000, 20, 100)


@pytest.hookimpl(wrapper=True)
def pytest_collection_modifyitems(config, items):
    for item in items:
        if uses_database(item):
            item.add_marker("database")
            if item.get_closest_marker("needs_postgres"):
                item.add_marker("engine")
    absent = {tool.marker for tool in tools.missing()}
    if not settings.DATABASES["default"]["ENGINE"].endswith("postgresql"):
        absent.add("needs_postgres")  # their turn comes in the second run
    left_out = {item for item in items if any(item.get_closest_marker(marker) for marker in absent)}
    if left_out:
        config.hook.pytest_deselected(items=[*left_out])
        items[:] = [item for item in items if item not in left_out]
    yield
    order, files = SHARED if hasattr(config, "workerinput") else ALONE, {item.path for item in items if asks_demo(item)}
    # After pytest-django has put those with a database first.
    items.sort(key=lambda item: order.index(kind(item, item.path in files)))


def uses_database(item) -> bool:
    if item.get_closest_marker("django_db") or item.get_closest_marker("needs_postgres"):
        return True
    return not DATABASE_FIXTURES.isdisjoint(getattr(item, "fixturenames", ()))


def asks_demo(item) -> bool:
    return not {"built_demo", "demo_in_the_database"}.isdisjoint(getattr(item, "fixturenames", ()))


def kind(item, in_file_with_demo: bool) -> str:
    if item.get_closest_marker("needs_chromium") or item.get_closest_marker("needs_postgres"):
        return "program"
    if in_file_with_demo:
        return "demo"
    if item.get_closest_marker("database"):
        return "database"
    return "rule" if {"domain", "published"} & set(item.path.parts) else "plain"


class WholeFiles(LoadFileScheduling):
    """The tests of a file share their scenery, so they go to one worker. So do all that share a browser and what is
    served to it."""

    def _split_scope(self, nodeid: str) -> str:
        file = super()._split_scope(nodeid)
        in_browser = file.startswith("tests/browser/") or file.endswith("_js.py")
        return "browser" if in_browser else file


def pytest_xdist_make_scheduler(config, log):
    return WholeFiles(config, log)
