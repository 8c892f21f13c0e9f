"""The tables of the starting structure: every row has a source and a use, and a mistake is named where it stands."""

import re
from dataclasses import replace

import pytest

from parts.domain.structure import Brake, LocomotiveSpec, ValveGear, plan
from parts.domain.templates import DATA, TemplateError, tables
from tests.parts.domain.structures import answered_together

WHEELS = ("0-6-0T", "0-6-0ST", "0-6-0PT", "0-6-0WT", "2-6-4")
OTHERS = ({"outside_frames": True, "steam_heating": True}, {"valves": "piston", "superheated": True})
KINDS = ("2-6-6-2", "4-6-2+2-6-4", "0-4-4-0T", "0-4-0VBT", "0-6-0F", "0-4-0CT", "0-6-0D", "Bo'Bo'", "2'2'", "2")


def test_every_row_is_laid_out_for_some_locomotive():
    gears = list(zip(ValveGear, [*Brake, *Brake, Brake.HAND], strict=True))
    specs = [
        LocomotiveSpec(WHEELS[number % len(WHEELS)], inside, outside, gear, brake, **OTHERS[number % len(OTHERS)])
        for turn, (inside, outside) in enumerate(((0, 2), (2, 0)))
        for number, (gear, brake) in enumerate(gears, turn)
    ]
    specs += [LocomotiveSpec(wheels) for wheels in KINDS]
    specs += [
        LocomotiveSpec("2-6-0", inside, outside, **answers)
        for answers in answered_together()
        for inside, outside in ((0, 2), (2, 0))
    ]
    specs += [LocomotiveSpec(wheels, british=False, brake="air") for wheels in ("2-6-2", "2-6-2T")]
    untranslated = replace(tables(), american={})
    rows = (row for spec in specs for row in plan(spec, untranslated).positions)
    laid_out = {(re.sub("^(front|rear) engine ", "", row.name), row.source) for row in rows}
    assert {(row.name, row.source) for row in tables().positions} - laid_out == set()


def test_every_row_names_its_source():
    read = tables()
    for row in (*read.subassemblies, *read.order, *read.positions):
        assert row.source.endswith("common practice, no source") or row.source.startswith("Ahrons")


@pytest.mark.parametrize(
    ("column", "cell", "complaint"),
    [
        ("scope", "wing", "column scope: “wing” is not known"),
        ("when", "nuclear", "column when: “nuclear” is not known"),
        ("flags", "shiny", "column flags: “shiny” is not known"),
        ("crack_check", "x-ray", "column crack_check: “x-ray” is not known"),
        ("subassembly", "attic", "column subassembly: “attic” is not known"),
        ("goes_on_after", "attic", "column goes_on_after: “attic” is not known"),
        ("quantity", "0", "column quantity: write a whole number"),
        ("source", "", "column source: it is blank"),
    ],
)
def test_a_mistake_in_a_table_is_named_by_line_and_column(tmp_path, column, cell, complaint):
    for file in DATA.glob("*.csv"):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    heading, first = (DATA / "positions" / "frames.csv").read_text(encoding="utf-8").splitlines()[:2]
    cells = first.split(";")
    cells[heading.split(";").index(column)] = cell
    (tmp_path / "positions").mkdir()
    (tmp_path / "positions" / "frames.csv").write_text(f"{heading}\n{';'.join(cells)}\n", encoding="utf-8")
    with pytest.raises(TemplateError, match=f"frames.csv line 2, {complaint}"):
        tables(tmp_path)


def test_a_part_whose_parent_is_not_laid_out_is_named():
    read = tables()
    orphaned = tuple(replace(row, parent="tender") if row.code == "cab" else row for row in read.subassemblies)
    with pytest.raises(TemplateError, match="“cab” is part of “tender”, of which 0 are laid out"):
        plan(LocomotiveSpec("0-6-0T"), replace(read, subassemblies=orphaned))


def test_a_part_of_a_piece_that_is_not_there_is_named():
    read = tables()
    astray = tuple(replace(row, part_of="bell") if row.name == "tyre" else row for row in read.positions)
    with pytest.raises(TemplateError, match="“tyre” is part of 0 pieces named “bell”"):
        plan(LocomotiveSpec("0-6-0T"), replace(read, positions=astray))
