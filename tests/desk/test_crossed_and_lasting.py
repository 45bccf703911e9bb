"""A crossed tile fills its nine zones; what will not last for the pieces planned is told."""

from __future__ import annotations

import pytest

from swatch.desk.lasting import running_short
from swatch.desk.photo_work import ZoneEntry, crossed_zones
from swatch.terms.editions import EditionRegion, Weighing
from swatch.terms.layering import format_layers, parse_layers
from swatch.terms.materials import Material

SQUARE = ((0.0, 0.0), (90.0, 0.0), (90.0, 60.0), (0.0, 60.0))


def test_nine_zones_row_by_row_with_both_layers_stepped():
    entry = ZoneEntry("z", SQUARE, "T-1", "A", layers=parse_layers("Moss > Amber"))
    zones = crossed_zones(entry)
    assert [zone.zone for zone in zones] == list("ABCDEFGHI")
    assert format_layers(zones[0].layers) == "Moss*3 > Amber"
    assert format_layers(zones[5].layers) == "Moss*2 > Amber*3"
    assert format_layers(zones[6].layers) == "Moss > Amber"
    for n, zone in enumerate(zones):
        left, top = 30.0 * (n % 3), 20.0 * (n // 3)
        wanted = [(left, top), (left + 30, top), (left + 30, top + 20), (left, top + 20)]
        assert [pytest.approx(point) for point in wanted] == list(zone.polygon)
    assert len({zone.key for zone in zones}) == 9


def test_a_material_that_makes_fewer_pieces_than_planned_is_short():
    # 6 g for each dm² and coat: 2 dm² in two coats take 24 g a piece, so 240 g make about ten.
    weighed = [
        Weighing("Amber", f"2026-05-0{n}", before_g=112, after_g=100, area_dm2=1.0, coats=2) for n in (1, 2)
    ]
    region = EditionRegion("Bowl", "outside", planned=12, area_dm2=2.0, layers=parse_layers("Amber*2"))
    (short,) = running_short([region], weighed, [Material("Amber", left_g=240.0)])
    assert (short.material, short.edition, short.planned) == ("Amber", "Bowl", 12)
    assert short.pieces[0] < 10 <= short.pieces[1]
    assert running_short([region], weighed, [Material("Amber", left_g=2400.0)]) == ()
    assert running_short([region], [], [Material("Amber", left_g=240.0)]) == ()
