"""What keeps the list for the return to service from being signed. Invented cases."""

from datetime import date

import pytest

from inspections.domain.return_list import Allowed, AskedFor, against, content_of, read

TODAY = date(2026, 11, 29)
TICKED = AskedFor(number=1, words="Brake test", asked_by="M. Vane", by_what="sheet 14", by="I. Roe", on="2026-11-28")
OPEN = AskedFor(number=2, words="Lamp test", asked_by="M. Vane")


def codes(items, *allowed) -> list[str]:
    return [refusal.code for refusal in against(items, allowed, TODAY)]


def test_an_empty_list_and_an_open_item_are_told():
    assert codes([]) == ["items"]
    assert codes([TICKED, OPEN]) == ["open"]
    assert codes([TICKED]) == []


@pytest.mark.parametrize(("until", "told"), [("2026-11-28", ["concession"]), ("2026-11-29", []), ("", [])])
def test_a_concession_holds_through_its_last_day(until, told):
    assert codes([TICKED], Allowed(what="journal 0.1 mm under", until=until)) == told


def test_what_is_kept_reads_back_as_it_was():
    allowed = [Allowed(what="journal 0.1 mm under", piece="axle 7K3M", until="2027-05-01")]
    assert read(content_of([TICKED, OPEN], allowed)) == ([TICKED, OPEN], allowed)
    assert (TICKED.ticked, OPEN.ticked) == ("I. Roe, 28 Nov 2026", "")
