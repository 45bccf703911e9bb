"""Measuring as a whole: rendered photos with known truth, painted cards of other layouts, and what is refused."""

import sys
from pathlib import Path

import cv2
import numpy as np
import pytest

from swatch.formats.keyword_text import read_card
from swatch.resources import resource
from swatch.science.card import Card
from swatch.science.colour_math import delta_e_2000, lab_to_srgb
from swatch.science.measuring import decode, measure
from swatch.terms.measured import Verdict, ZoneShape
from swatch.terms.problems import StudioProblem
from swatch.wording.problems_photo import NOTICES

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from bench.scenes import render

SIZE = (1200, 900)


@pytest.fixture(scope="module")
def chart():
    table = read_card(resource("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    return Card(table.name, table.rows, table.columns, np.array(table.lab))


def shapes(zones):
    return [ZoneShape(name, tuple(outline)) for name, outline in zones.items()]


def read(scene, card, **more):
    found = measure(decode(scene.jpeg, "scene.jpg"), card, shapes(scene.zones), photo="scene.jpg", **more)
    for notice in (*found.warnings, *(warning for zone in found.zones for warning in zone.warnings)):
        said, next_step = NOTICES[notice.code]
        assert said.format(**notice.facts)
        assert next_step.format(**notice.facts)
    return found


def test_tiles_under_three_kinds_of_light(chart):
    off, inside, refused = [], [], 0
    for seed, group in enumerate(("daylight", "warm", "fluorescent"), 300):
        scene = render(seed, chart, size=SIZE, group=group)
        found = read(scene, chart)
        refused += found.verdict is Verdict.REFUSED
        corners_off = np.subtract(found.card.corners, scene.corners)
        assert np.abs(corners_off).max() < 0.01 * SIZE[0]
        for zone in found.zones:
            difference = float(delta_e_2000(zone.lab, scene.truth[zone.zone]))
            off.append(difference)
            inside.append(difference <= zone.u95_de00)
    assert refused == 0
    assert np.median(off) <= 1.6
    assert np.quantile(off, 0.95) <= 4.0
    assert np.mean(inside) >= 11 / 12


@pytest.mark.parametrize(
    ("spoilt", "codes"),
    [
        ("mixed", {"mixed-light", "mixed-light-refused"}),
        ("clipped", {"sheet-too-bright-refused", "card-too-bright"}),
        ("half", {"card-not-found"}),
        ("local", {"light-patchy", "light-patchy-refused"}),
    ],
)
def test_a_spoilt_photo_is_not_called_good(chart, spoilt, codes):
    found = read(render(410, chart, size=SIZE, spoilt=spoilt), chart)
    assert found.verdict is not Verdict.GOOD
    assert codes & {notice.code for notice in found.warnings}
    if found.verdict is Verdict.REFUSED:
        assert found.zones == ()


def test_a_mirrored_photo_is_refused(chart):
    scene = render(420, chart, size=SIZE)
    image = cv2.imdecode(np.frombuffer(scene.jpeg, np.uint8), cv2.IMREAD_COLOR)
    scene.jpeg = cv2.imencode(".jpg", image[:, ::-1])[1].tobytes()
    assert read(scene, chart).verdict is Verdict.REFUSED


def test_corners_that_start_elsewhere_are_turned_to_fit(chart):
    scene = render(430, chart, size=SIZE)
    straight = read(scene, chart, corners=scene.corners)
    turned = read(scene, chart, corners=scene.corners[2:] + scene.corners[:2])
    np.testing.assert_allclose(turned.card.corners, straight.card.corners, atol=1.0)


# A card of 5 × 7 patches, six of them grey, painted flat: any layout works once its corners are given.
RNG = np.random.default_rng(7)
PAINTED = Card(
    "painted",
    5,
    7,
    np.vstack(
        [
            np.column_stack([RNG.uniform(25, 85, 29), RNG.uniform(-35, 35, (29, 2))]),
            [[95, 0, 1], [80, 0, 0], [65, 0, 0], [50, 0, 0], [35, 0, 0], [20, 0, 0]],
        ]
    ),
)
ZONES = np.array([[60.0, 15, 10], [45, -15, -12], [75, 3, 25], [30, 5, -10]])
PITCH, LEFT, TOP, PATCH = 60, 90, 80, 51


def painted(shade=None):
    """A photo of the painted card on a white sheet, its corners and zones."""
    image = np.empty((700, 1000, 3))
    image[:] = lab_to_srgb([93.0, 0, 0])[0]
    for k, lab in enumerate(PAINTED.lab):
        y, x = TOP + PITCH * (k // 7), LEFT + PITCH * (k % 7)
        image[y : y + PATCH, x : x + PATCH] = lab_to_srgb(lab)[0]
    zones = {}
    for k, lab in enumerate(ZONES):
        y, x = 90 + 140 * k, 640
        image[y : y + 100, x : x + 120] = lab_to_srgb(lab)[0]
        zones[f"Z{k}"] = [(x + 4.0, y + 4.0), (x + 116.0, y + 4.0), (x + 116.0, y + 96.0), (x + 4.0, y + 96.0)]
    right, low = LEFT + 6 * PITCH + PATCH, TOP + 4 * PITCH + PATCH
    corners = [(LEFT, TOP), (right, TOP), (right, low), (LEFT, low)]
    if shade is not None:
        image = image * shade
    data = cv2.imencode(".png", np.round(image[:, :, ::-1] * 255).astype(np.uint8))[1].tobytes()
    return decode(data, "painted.png"), corners, zones


def test_a_card_of_any_layout_is_read_by_its_corners():
    picture, corners, zones = painted()
    found = measure(picture, PAINTED, shapes(zones), photo="p", corners=[(x + 5, y - 4) for x, y in corners])
    assert found.verdict is Verdict.GOOD
    assert found.card.left_out_median < 1.0
    np.testing.assert_allclose(found.card.corners, corners, atol=2.0)
    for zone, lab in zip(found.zones, ZONES, strict=True):
        assert delta_e_2000(zone.lab, lab) < 1.0
        assert np.linalg.eigvalsh(zone.covariance.rows()).min() > 0


def test_uneven_light_is_levelled_by_the_sheet_and_by_a_blank_photo():
    fall = np.linspace(1.0, 0.8, 1000)[None, :, None]
    picture, corners, zones = painted(fall)
    blank_levels = np.tile(np.round(235 * fall), (700, 1, 3)).astype(np.uint8)
    blank = decode(cv2.imencode(".png", blank_levels)[1].tobytes(), "blank.png")
    for more in ({}, {"blank": blank}):
        found = measure(picture, PAINTED, shapes(zones), photo="p", corners=corners, **more)
        assert np.median([delta_e_2000(zone.lab, lab) for zone, lab in zip(found.zones, ZONES, strict=True)]) < 1.5


def test_another_card_needs_its_corners():
    picture, _, zones = painted()
    with pytest.raises(StudioProblem, match="card-needs-corners"):
        measure(picture, PAINTED, shapes(zones), photo="p")


@pytest.mark.parametrize(
    "corners",
    [
        [(0, 0), (100, 0), (100, 100)],
        [(0, 0), (5000, 0), (5000, 600), (0, 600)],
        [(90, 80), (500, 400), (500, 80), (90, 400)],
        [(90, 80), (90, 400), (500, 400), (500, 80)],
        [(90, 80), (92, 80), (92, 82), (90, 82)],
        [(float("nan"), 80), (500, 80), (500, 400), (90, 400)],
    ],
)
def test_corners_that_outline_no_card_are_a_problem(corners):
    picture, _, zones = painted()
    with pytest.raises(StudioProblem, match="card-corners-wrong"):
        measure(picture, PAINTED, shapes(zones), photo="p", corners=corners)


def test_corners_off_the_card_are_refused():
    picture, _, zones = painted()
    corners = [(580, 300), (900, 300), (900, 690), (580, 690)]
    found = measure(picture, PAINTED, shapes(zones), photo="p", corners=corners)
    assert found.verdict is Verdict.REFUSED
    assert [notice.code for notice in found.warnings] == ["card-does-not-fit"]


def test_zones_outside_are_named_and_the_others_read():
    picture, corners, zones = painted()
    zones["far"] = [(2000.0, 2000.0), (2100.0, 2000.0), (2100.0, 2100.0)]
    found = measure(picture, PAINTED, shapes(zones), photo="p", corners=corners)
    assert len(found.zones) == len(ZONES)
    assert [(notice.code, notice.where.zone) for notice in found.warnings] == [("zone-outside", "far")]


def test_a_zone_without_area_is_a_problem():
    picture, corners, _ = painted()
    line = [ZoneShape("line", ((10.0, 10.0), (20.0, 10.0), (30.0, 10.0)))]
    with pytest.raises(StudioProblem, match="zone-outline-wrong") as caught:
        measure(picture, PAINTED, line, photo="p", corners=corners)
    assert caught.value.where.zone == "line"


def test_a_blank_photo_of_another_shape_is_a_problem(chart):
    picture, corners, zones = painted()
    blank = decode(cv2.imencode(".png", np.full((500, 500, 3), 230, np.uint8))[1].tobytes(), "blank.png")
    with pytest.raises(StudioProblem, match="blank-does-not-fit"):
        measure(picture, PAINTED, shapes(zones), photo="p", corners=corners, blank=blank)


def test_a_card_without_greys_cannot_serve():
    picture, corners, zones = painted()
    lab = PAINTED.lab.copy()
    lab[:, 1] = 30.0
    with pytest.raises(StudioProblem, match="card-too-few-patches"):
        measure(picture, Card("no greys", 5, 7, lab), shapes(zones), photo="p", corners=corners)
