"""What engines and vehicles of each kind, and each choice, are made of. Common practice, no source; against books:
tests/published/test_parts_in_books.py."""

from tests.parts.domain.structures import laid_out, named
from tests.tables import for_each


@for_each(
    ("entered", "there", "not_there"),
    [
        ({"wheels": "0-4-4-0T"}, {"articulation hinge pin", "receiver pipe"}, {"front engine pivot pin"}),
        ({"wheels": "B'B't"}, {"front engine pivot pin", "rear engine flexible steam pipe"}, {"receiver pipe"}),
        ({"wheels": "2-6-2+2-6-2"}, {"cradle girder", "front engine water tank"}, {"tender tank", "side tank"}),
        ({"wheels": "0-4-0VB"}, {"boiler crown plate", "uptake tube", "well tank"}, {"barrel plate", "smokebox door"}),
        ({"wheels": "0-6-0F"}, {"charging valve", "reservoir shell plate"}, {"firehole door", "injector", "side tank"}),
        ({"wheels": "0-6-0D"}, {"jackshaft", "coupling rod", "exhauster"}, {"connecting rod", "ejector"}),
        ({"wheels": "2'2'"}, {"truck bolster", "body side", "solebar"}, {"cab roof", "exhauster", "headlamp"}),
        ({"wheels": "0-4-0CT"}, {"crane jib", "crane hook"}, set()),
        ({"big_end": "bush"}, {"big-end bush"}, {"big-end strap", "big-end brass"}),
        ({"reverse": "screw"}, {"reversing screw", "reversing nut"}, {"reversing lever"}),
        ({"crown": "girder"}, {"crown girder"}, {"crown stays"}),
        ({"regulator": "smokebox"}, {"regulator valve body"}, {"regulator head"}),
        ({"safety_valves": "Ramsbottom"}, {"safety valve columns", "safety valve lever"}, {"safety valve mounting"}),
        ({"couplings": "centre buffer-couplers"}, {"coupler hook"}, {"buffer spring", "screw coupling"}),
        ({"frames": "bar"}, {"bar frame"}, {"main frame plate", "smokebox saddle"}),
        ({"tyres": "tyres with set screws"}, {"tyre set screws"}, {"tyre retaining ring"}),
        ({"british": False}, {"pilot", "headlight", "bell", "gauge cock", "equalizer"}, {"screw coupling"}),
        ({"slide_bars": "four", "tail_rods": "tail rods", "liners": "cylinder liners"},
         {"slide block", "tail rod", "cylinder liner"}, {"crosshead slipper"}),
    ],
)  # fmt: skip
def test_each_kind_and_each_choice_has_its_own_pieces(entered, there, not_there):
    names = {place.name for place in laid_out(**entered).positions}
    assert there <= names
    assert not not_there & names


def test_each_engine_unit_has_frames_cylinders_and_gear_of_its_own_and_one_lever_reverses_them():
    found = laid_out("2-6-6-2", valve_gear="Walschaerts")
    names = {sub.name for sub in found.subassemblies}
    assert {"Front engine main frames", "Rear engine main frames", "Front engine outside cylinders"} <= names
    assert len(named(found, "cylinder casting")) == len(named(found, "weighshaft")) * 2 == 4
    assert len(named(found, "reversing lever")) == 1
    assert [place.axle for place in named(found, "wheelset")][:2] == ["front engine leading", "front engine driving"]


def test_a_double_boiler_has_two_fireboxes_and_one_cab():
    found = laid_out("0-4-4-0T", articulation="Fairlie")
    assert {"Front inner firebox", "Rear inner firebox"} <= {sub.name for sub in found.subassemblies}
    assert (len(named(found, "firebox tubeplate")), len(named(found, "cab roof"))) == (2, 1)


def test_inside_cylinders_may_drive_another_axle_than_outside_ones():
    found = laid_out("4-6-0", inside_cylinders=1, inside_driven_axle=1, valve_gear="Stephenson")
    assert [place.axle for place in named(found, "crank axle")] == ["leading"]
    sheaves = {(p.inside, p.axle) for p in found.positions if p.name.endswith("fore-gear eccentric sheave")}
    assert sheaves == {("inside", "leading"), ("outside", "driving")}


def test_an_inside_pair_may_be_one_casting():
    found = laid_out(inside_cylinders=2, outside_cylinders=0, inside_pair="inside cylinders cast together")
    assert (len(named(found, "cylinder casting")), len(named(found, "steam chest cover"))) == (1, 1)
