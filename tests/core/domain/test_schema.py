"""Which register this version works on, which it brings up to date, and which it leaves alone."""

from core.domain.schema import FIRST, Schema, compare, unknown
from tests.tables import for_each

KNOWN = frozenset({("auth", "0001_initial"), ("core", "0001_initial"), FIRST, ("parts", "0001_initial")})


@for_each(
    ("applied", "found"),
    [
        (set(), Schema.ABSENT),
        (KNOWN, Schema.CURRENT),
        (KNOWN - {("parts", "0001_initial")}, Schema.OLDER),
        ({("auth", "0001_initial")}, Schema.OLDER),  # a first start that was cut off
        (KNOWN | {("parts", "0009_later")}, Schema.NEWER),
        (KNOWN | {("an_app_that_went", "0001_initial")}, Schema.CURRENT),
        # as registers recorded them before the migrations were written anew
        (KNOWN - {FIRST} | {("core", "0002_event_log"), ("core", "0003_roles")}, Schema.UNSUPPORTED),
        ({("auth", "0001_initial"), ("workshop", "0001_initial"), ("parts", "0002_initial")}, Schema.UNSUPPORTED),
    ],
)
def test_a_register_is_known_by_its_migrations(applied, found):
    assert compare(applied, KNOWN) is found


def test_what_is_not_known_here_is_named():
    assert unknown(KNOWN | {("parts", "0009_later"), ("gone", "0001_initial")}, KNOWN) == ["parts.0009_later"]
