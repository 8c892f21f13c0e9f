from tests.demo_copy import built_demo, copied, register  # noqa: F401 - fixtures
