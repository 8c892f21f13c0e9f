import pytest
from playwright.sync_api import sync_playwright

from tests import tools
from tests.demo_copy import register  # noqa: F401 - fixtures


@pytest.fixture(scope="module")
def browser():
    """Debian's Chromium. It is closed after each module, since its event loop would trouble tests with a database."""
    with sync_playwright() as playwright:
        # As root, which a container often is, Chromium runs only without its sandbox.
        chromium = playwright.chromium.launch(executable_path=tools.chromium(), args=["--no-sandbox"])
        yield chromium
        chromium.close()
