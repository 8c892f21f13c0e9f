from tests.demo_copy import register  # noqa: F401 - fixtures
