"""A list that a works might have, its readiness counted by hand (see tests/parts/a_list.py) and by Cotter."""

import json

import pytest
from django.core.management import call_command

from parts.actions.refresh import out_of_date
from tests.parts.a_list import BY_HAND, NEEDS_BY_HAND, as_csv, as_xlsx

FILES = {
    "commas.csv": as_csv(),
    "semicolons with a mark.csv": as_csv(separator=";", bom=True),
    "workbook.xlsx": as_xlsx(),
}


@pytest.fixture(params=FILES)
def read_back(request, works, tmp_path, capsys):
    """What `manage.py readiness --json` says after the import of one file; the works had its frames already."""
    slug = works.locomotive.slug
    file = tmp_path / request.param
    file.write_bytes(FILES[request.param])
    call_command("import_register", file, locomotive=slug)
    capsys.readouterr()
    call_command("readiness", slug, json=True)
    return {sub["code"]: sub for sub in json.loads(capsys.readouterr().out)["subassemblies"]}


@pytest.mark.engine
@pytest.mark.django_db
def test_readiness_agrees_with_a_count_by_hand(read_back, works):
    """The numbers, the need that each blocked place leads with, and what a branch counts of what is below it."""
    counted = {
        code: tuple(sub[word] for word in ("required", "refitted", "ready", "blocked"))
        for code, sub in read_back.items()
    }
    assert counted == BY_HAND
    for code, needs in NEEDS_BY_HAND.items():
        blockers = [blocker for blocker in read_back[code]["blockers"] if blocker["position"]]
        assert sorted(blocker["need"] for blocker in blockers) == needs
    assert read_back["running-gear"]["branch"] == {"required": 8, "refitted": 0, "ready": 1, "blocked": 7}
    assert out_of_date({"locomotive": works.locomotive}) == []
