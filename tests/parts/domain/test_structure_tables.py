"""The tables of the starting structure: every row has a source and a use, and a mistake is named where it stands."""

from dataclasses import replace
from itertools import product

import pytest

from parts.domain.structure import Brake, LocomotiveSpec, ValveGear, plan
from parts.domain.templates import DATA, TemplateError, tables

WHEELS = ("0-6-0T", "0-6-0ST", "0-6-0PT", "0-6-0WT", "2-6-4")
OTHERS = ({"outside_frames": True}, {"valves": "piston", "superheated": True})


def test_every_row_is_laid_out_for_some_locomotive():
    specs = [
        LocomotiveSpec(wheels, inside, outside, gear, brake, **others)
        for wheels, (inside, outside), (gear, brake), others in product(
            WHEELS, ((0, 2), (2, 0)), zip(ValveGear, [*Brake, Brake.HAND], strict=True), OTHERS
        )
    ]
    laid_out = {(place.name, place.source) for spec in specs for place in plan(spec).positions}
    american = {"horn shoe", "horn wedge", "horn wedge bolt"}  # laid out there only, under other names
    unused = {(row.name, row.source) for row in tables().positions if row.name not in american} - laid_out
    assert unused == set()


def test_every_row_names_its_source():
    read = tables()
    for row in (*read.subassemblies, *read.order, *read.positions):
        assert row.source.endswith("common practice, no source")


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
