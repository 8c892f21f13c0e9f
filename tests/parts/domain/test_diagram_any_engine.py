"""Any locomotive that can be written is drawn: well-formed, on the rail, whatever is known of it."""

import math
import re
from xml.etree import ElementTree

from hypothesis import given, settings
from hypothesis import strategies as st

from parts.domain.diagram.drawings import for_desk, for_phone, locator, silhouette
from parts.domain.diagram.engine import Engine
from parts.domain.diagram.picture import picture
from tests.parts.domain.diagram_engines import SPECS, rows_of

ROWS = rows_of(SPECS[4], refitted=4, ready=3, in_doubt=1)
COUNTS = st.sampled_from(["0-4-0", "2-2-2", "0-6-2", "4-4-4", "6-2-6", "2-12-2", "0-4-4-0", "2-6-6-2", "2-8-8-8-2"])
TANKS = st.sampled_from(["", "T", "ST", "PT", "WT", "CT", "F", "VBT"])
WHEELS = st.builds(str.__add__, COUNTS, TANKS) | st.sampled_from(
    ["0-4-0+0-4-0", "4-8-4+4-8-4", "A", "1'B", "(1'C)C1't"]
)
DIAMETERS = st.just(0) | st.floats(150, 2600)
ENGINES = st.builds(
    Engine, wheels=WHEELS, gauge_mm=st.floats(180, 2200), driving_mm=DIAMETERS, leading_mm=DIAMETERS,
    trailing_mm=DIAMETERS, tender_mm=DIAMETERS, tender_axles=st.integers(0, 9), outside_cylinders=st.booleans(),
    valve_gear=st.sampled_from(["", "Walschaerts", "Stephenson"]), outside_gear=st.none() | st.booleans(),
    outside_frames=st.booleans(), driven_axle=st.integers(0, 7), centre_coupler=st.none() | st.booleans(),
    superheated=st.booleans(),
)  # fmt: skip


@given(ENGINES)
@settings(max_examples=25, deadline=None)
def test_any_engine_is_drawn(engine):
    left, bottom, right, top = picture(engine).box()
    assert bottom > -1e-6
    assert right > left
    for svg in (for_desk(engine, ROWS, side="RH"), for_phone(engine, ROWS, {"front": "#"}), locator(engine, "cab"),
                silhouette(engine)):  # fmt: skip
        ElementTree.fromstring(svg)
        numbers = [
            float(number) for number in re.findall(r"-?[0-9]*\.?[0-9]+", " ".join(re.findall(r' d="([^"]*)"', svg)))
        ]
        assert all(map(math.isfinite, numbers))
        assert "nan" not in svg
