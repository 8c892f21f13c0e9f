"""Labels worn, smeared and photographed badly, read by zxing-cpp in percent; the whole table is bench_worn.py's.

The levels of correction are those of ISO/IEC 18004: L restores 7 % of the code words, Q 25 %. How much wear a tag meets
has no source: what is asserted is that Q pays, and that it does not come to read worse than it did when this was set.
"""

import pytest

from parts.domain.tagcodes import printed_address
from parts.labels.kinds import PartLabel
from tests import wear

TIMES = 25
FLOORS = {"smeared, dark, askew": 96, "scratched, 2 % gone": 75, "scratched, 4 % gone": 60, "blotted, 1 % covered": 60}
CODE = "7K3M9QZ2"


@pytest.mark.needs_poppler
def test_level_q_reads_most_worn_labels_and_more_than_level_l(tmp_path):
    label = PartLabel(code=CODE, address=printed_address("http://cotter.local:8000", CODE), title="Axlebox")
    found = wear.table(label, tmp_path, list(FLOORS), TIMES, levels="LQ")
    assert {name: shares["Q"] for name, shares in found.items() if shares["Q"] < FLOORS[name]} == {}
    assert found["scratched, 4 % gone"]["Q"] >= found["scratched, 4 % gone"]["L"] + 15
    assert sum(shares["Q"] for shares in found.values()) > sum(shares["L"] for shares in found.values())


@pytest.mark.needs_poppler
def test_the_same_label_wears_in_the_same_way_and_nothing_is_read_of_one_that_is_gone(tmp_path):
    label = PartLabel(code=CODE, address=printed_address("http://cotter.local:8000", CODE))
    code = wear.printed_at("Q", label, tmp_path)
    shares = [wear.percent_read(code, label.address, "scratched, 4 % gone", 5) for _ in range(2)]
    assert shares[0] == shares[1]
    assert wear.percent_read(code.point(lambda v: 255), label.address, "as printed", 1) == 0
