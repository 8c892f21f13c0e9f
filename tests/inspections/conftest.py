from tests.parts.conftest import people, works

__all__ = ["people", "works"]
