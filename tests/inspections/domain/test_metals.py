"""Of what metal the places of a starting structure are: common practice, no source; densities as their table says."""

from inspections.domain.metals import density_of, metal_of
from parts.domain.structure import LocomotiveSpec, plan
from parts.domain.templates import tables
from tests.tables import for_each


@for_each(
    ("material", "metal"),
    [
        ("steel forging", "steel"),
        ("Cast steel", "cast steel"),
        ("spring steel", "steel"),
        ("steel, case-hardened", "steel"),
        ("boiler plate", "steel"),
        ("cast iron", "cast iron"),
        ("gunmetal, white-metalled", "gunmetal"),
        ("phosphor bronze", "phosphor bronze"),
        ("copper plate", "copper"),
        ("copper or steel pipe", ""),
        ("brass and toughened glass", ""),
        ("built up", ""),
        ("rubber", ""),
        ("", ""),
    ],
)
def test_the_metal_is_told_by_the_name_of_the_material(material, metal):
    assert metal_of(material) == metal


def test_a_copper_firebox_is_weighed_as_copper():
    """simetric.co.uk, mass of metals and alloys: copper 8930 kg/cu.m."""
    plates = [place for place in plan(LocomotiveSpec("0-6-0T")).positions if place.name == "firebox tubeplate"]
    assert [density_of(plate.material).kg_m3 for plate in plates] == [8930]
    assert density_of("worsted") is None


def test_every_cast_forged_or_plated_place_has_one_metal():
    """But for those that are left open because an engine may have either."""
    for row in tables().positions:
        words = row.material.split()
        if {"cast", "forging", "plate"} & set(words) and not {"or", "and"} & set(words):
            assert metal_of(row.material), (row.name, row.material)
