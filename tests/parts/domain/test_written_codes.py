"""Several codes in one box, as people type them and as scanners send them."""

from parts.domain.written_codes import codes_written
from tests.tables import for_each

ONE, TWO = "7K3M9QZ5", "4B8N1XY0"


@for_each(
    ("text", "codes"),
    [
        ("", []),
        (" \n ,; ", []),
        (ONE, [ONE]),
        (f"{ONE} {TWO}", [ONE, TWO]),
        (f"{ONE},{TWO};\n{ONE}", [ONE, TWO, ONE]),
        ("7K3M 9QZ5", [ONE]),  # as it stands on the tag
        ("7K3M 9QZ5 4B8N 1XY0", [ONE, TWO]),
        ("7K3M 9QZ5\n4B8N1XY0", [ONE, TWO]),
        ("7K3M-9QZ5", ["7K3M-9QZ5"]),
        ("7K3M", ["7K3M"]),  # half a code is told to be one, never joined to the whole one behind it
        (f"7K3M {ONE}", ["7K3M", ONE]),
        ("HTTP://COTTER.LOCAL:8000/T/7K3M9QZ5http://cotter.local:8000/T/4B8N1XY0",
         ["HTTP://COTTER.LOCAL:8000/T/7K3M9QZ5", "http://cotter.local:8000/T/4B8N1XY0"]),
    ],
)  # fmt: skip
def test_codes_are_parted(text, codes):
    assert codes_written(text) == codes
