"""Reads the published tables of boilers beside this file: figures exactly as they are printed."""

import csv
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).parent


def published(name):
    with open(HERE / f"{name}.csv", encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def by_id(name):
    return {row["id"]: row for row in published(name)}


def figures(row):
    """`TS=60000;t=0.375` as Fractions by name; `6*2240` is multiplied out."""
    return {key: _product(text) for key, text in (pair.split("=") for pair in row["inputs"].split(";"))}


def printed_inches(text):
    """`1 1/8` as a Fraction."""
    return sum(Fraction(part) for part in text.split())


def answer(row):
    return Fraction(row["answer_printed"] or row["answer_computed"])


def agrees(found, row):
    """As computed from the printed inputs, and as printed to the share that the table itself notes.

    To five figures and a half: some rows work with 0.7854 for pi/4.
    """
    computed = Fraction(row["answer_computed"])
    near = abs(Fraction(found) - computed) <= abs(computed) * Fraction(3, 10**6)
    off = Fraction(row["rel_diff"] or 0)
    return near and abs(Fraction(found) / answer(row) - 1) <= abs(off) + Fraction(1, 1000)


def _product(text):
    result = Fraction(1)
    for factor in text.split("*"):
        result *= Fraction(factor)
    return result
