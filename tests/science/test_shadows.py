"""Shadows: what lies in one is told, whatever its depth and edge, and sound photos are not called shaded."""

import sys
from pathlib import Path

import numpy as np
import pytest

from swatch.science.colour_math import delta_e_2000
from swatch.science.measuring import decode, measure
from swatch.terms.measured import Verdict, ZoneShape
from swatch.wording.problems_photo import NOTICES

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from bench.painted import chart, jpeg_of, paint
from bench.scenes import render

SIZE = (1200, 900)


def half(depth, edge, at, way=(1.0, 0.0)):
    """A shadow beyond `at` on the way from the middle, its half shadow `edge` wide."""

    def left(x, y):
        beyond = (x * way[0] + y * way[1] - at) / (edge / 4)
        return 1 - (1 - depth) / (1 + np.exp(-np.clip(beyond, -30, 30)))

    return left


def far_from_card(scene):
    """The way from the card to the zones, and where it has passed most of them, over the photo."""
    zones = np.array([np.mean(outline, axis=0) for outline in scene.zones.values()]) / SIZE - 0.5
    way = zones.mean(axis=0) - (np.mean(scene.corners, axis=0) / SIZE - 0.5)
    way /= np.hypot(*way)
    return way, float(np.quantile(zones @ way, 0.6))


def read(scene, card):
    shapes = [ZoneShape(name, tuple(outline)) for name, outline in scene.zones.items()]
    found = measure(decode(scene.jpeg, "scene.jpg"), card, shapes, photo="scene.jpg")
    for notice in (*found.warnings, *(warning for zone in found.zones for warning in zone.warnings)):
        said, next_step = NOTICES[notice.code]
        assert said.format(**notice.facts) + next_step.format(**notice.facts)
    return found


@pytest.mark.parametrize(
    ("depth", "edge", "paper"), [(0.6, 0.002, True), (0.4, 0.03, True), (0.25, 0.002, False), (0.2, 0.05, True)]
)
def test_zones_in_a_deep_shadow_are_told_and_doubted(depth, edge, paper):
    card = chart()
    way, at = far_from_card(render(523, card, size=SIZE, paper=paper))
    scene = render(523, card, size=SIZE, paper=paper, shadow=half(depth, edge, at, way))
    found = read(scene, card)
    assert found.verdict is Verdict.USABLE
    assert "shadow-on-zones" in {notice.code for notice in found.warnings}
    off = {zone.zone: float(delta_e_2000(zone.lab, scene.truth[zone.zone])) for zone in found.zones}
    far_off = [zone for zone in found.zones if off[zone.zone] > 6.0]
    assert len(far_off) >= 3
    for zone in far_off:
        assert "zone-other-light" in {notice.code for notice in zone.warnings}
        assert off[zone.zone] < 1.2 * zone.u95_de00, zone.zone


def test_a_shadow_across_the_card_is_refused():
    card = chart()
    plain = render(524, card, size=SIZE)
    across = np.mean([x for x, _ in plain.corners]) / SIZE[0] - 0.5
    found = read(render(524, card, size=SIZE, shadow=half(0.6, 0.002, across)), card)
    assert found.verdict is Verdict.REFUSED
    assert found.zones == ()


@pytest.mark.parametrize("share", [0.35, 0.8])
def test_grey_and_white_tiles_around_a_small_zone_are_no_shadow(share):
    card = chart()
    tiles = ((95.0, 0.0, 2.0), (60.0, 0.5, 0.0), (35.0, 0.0, 0.0), (15.0, 0.0, 0.0), (80.0, 0.0, 1.0))
    painted = paint(tiles, size=(1400, 1050))
    zones = []
    for zone in painted.zones:
        outline = np.array(zone.polygon)
        middle = outline.mean(axis=0)
        zones.append(ZoneShape(zone.zone, tuple(map(tuple, (middle + share * (outline - middle)).tolist()))))
    found = measure(decode(jpeg_of(painted), "painted.jpg"), card, zones, photo="painted.jpg")
    assert found.verdict is Verdict.GOOD
    assert len(found.zones) == 5
    assert not any(zone.warnings for zone in found.zones)
