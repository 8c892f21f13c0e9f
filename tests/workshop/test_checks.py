"""What `manage.py check` and the start of the server say of the address on the tags."""

import pytest
from django.core.checks import run_checks


def warned() -> list[str]:
    return [str(found) for found in run_checks() if (found.id or "").startswith("workshop.")]


@pytest.mark.parametrize("base", ["", "http://cotter.local:8000/"])
def test_nothing_is_said_where_none_is_set_or_where_it_lasts(settings, base):
    settings.ADDRESS = base
    assert warned() == []


@pytest.mark.parametrize(
    ("base", "told"),
    [
        ("cotter.local", "is no address to print"),
        ("http://192.168.1.5", "bare number"),
        ("http://cotter.example.org", "Add cotter.example.org to COTTER_HOSTS"),
    ],
)
def test_what_would_spoil_the_tags_is_warned_about(settings, base, told):
    settings.ADDRESS, settings.HOSTS = base, []
    (only,) = warned()
    assert told in only
