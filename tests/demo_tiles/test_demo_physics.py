"""The demo studio's world: it keeps the laws it states, and poses the question it should."""

import itertools

import numpy as np
import pytest

from demo_tiles import physics, tiles
from demo_tiles.camera import chart_spectra
from demo_tiles.physics import reflectances, true_lab
from demo_tiles.spectra import lab_of, observer_d50
from demo_tiles.studio import BODIES, DISCONTINUED, MATERIALS
from swatch.science.colour_math import delta_e_2000, lab_to_srgb

UNDERGLAZES = [name for name, stuff in MATERIALS.items() if stuff.kind == "underglaze"]
GLAZES = [name for name, stuff in MATERIALS.items() if stuff.kind != "underglaze"]
STOCK = [name for name in MATERIALS if name != DISCONTINUED]


def _random_stacks(count, seed):
    rng = np.random.default_rng(seed)
    return [
        tuple(
            (str(name), float(rng.integers(1, 4)))
            for name in rng.choice(list(MATERIALS), rng.integers(1, 4), False)
        )
        for _ in range(count)
    ]


def test_a_perfect_diffuser_is_white_and_nothing_is_black():
    assert lab_of(np.ones(36)) == pytest.approx([100, 0, 0], abs=1e-9)
    assert lab_of(np.zeros(36))[0] == pytest.approx(0, abs=1e-6)
    # White of D50, 2 degree observer (ISO 3664; CIE 015): X 96.42, Y 100, Z 82.51.
    assert 100 * observer_d50().sum(axis=0) == pytest.approx([96.42, 100, 82.51], abs=0.15)


def test_a_tile_gives_back_no_more_light_than_it_gets():
    for body, cone in itertools.product(BODIES, (4.5, 6.0, 7.5)):
        out = reflectances(_random_stacks(60, 3), body, cone)
        assert out.min() > 0
        assert out.max() < 1


def test_two_layers_of_one_material_are_one_thicker_layer():
    one = true_lab("Alderlees*3", "Palebank", "6")
    two = true_lab([("Alderlees", 1), ("Alderlees", 2)], "Palebank", 6)
    assert two == pytest.approx(one, abs=1e-9)


def test_firing_moves_ingredients_and_loses_none():
    stacks = _random_stacks(60, 5)
    share, depth = physics._slices(stacks, [[1.0] * len(stack) for stack in stacks])
    fired = physics._wander(share, depth, physics._heated(6.5)[2])
    before, after = ((one * depth[..., None]).sum(axis=1) for one in (share, fired))
    assert after == pytest.approx(before, abs=1e-9)
    assert fired.min() > -1e-12
    moved = np.abs(fired - share).max(axis=(1, 2))
    assert (moved[[len(stack) > 1 for stack in stacks]] > 0.05).all()


def test_order_thickness_heat_and_body_all_matter():
    def apart(one, other):
        return float(delta_e_2000(np.array(one), np.array(other)))

    assert (
        apart(
            true_lab("Copperlatch > Alderlees", "Palebank", 6), true_lab("Alderlees > Copperlatch", "Palebank", 6)
        )
        > 2
    )
    assert apart(true_lab("Alderlees", "Palebank", 6), true_lab("Alderlees*3", "Palebank", 6)) > 8
    assert apart(true_lab("Alderlees", "Palebank", 6), true_lab("Alderlees", "Dunbank", 6)) > 8
    assert apart(true_lab("Old Ferry green*2", "Palebank", 5), true_lab("Old Ferry green*2", "Palebank", 6)) > 1
    rose = [np.hypot(*true_lab("Thrapple rose*3 > Plainpane clear", "Palebank", cone)[1:]) for cone in (6, 7, 8)]
    assert rose[0] > rose[1] > rose[2]


def test_underglaze_is_near_its_raw_colour_and_glaze_is_not():
    def shift(name):
        return float(
            delta_e_2000(lab_of(physics.raw_reflectance(name)), np.array(true_lab(f"{name}*3", "Palebank", 6)))
        )

    assert max(map(shift, UNDERGLAZES)) < 15
    assert np.median([shift(name) for name in GLAZES]) > 25
    assert min(map(shift, GLAZES)) > 10


def test_the_studio_is_as_large_as_it_should_be():
    assert len(UNDERGLAZES) >= 6
    assert len(GLAZES) >= 7
    assert sum(stuff.kind == "clear" for stuff in MATERIALS.values()) == 1
    assert len(BODIES) == 2
    assert len(tiles.FIRINGS) == 6
    assert {firing.cone for firing in tiles.FIRINGS} == {"5", "6"}


def test_chart_has_its_published_colours_but_for_the_print():
    # Published Lab: colour-science, "ColorChecker24 - After November 2014", D50, 2 degree observer.
    spectra, published = chart_spectra()
    off = delta_e_2000(lab_of(spectra), published)
    assert np.median(off) < 0.3
    assert off.max() < 0.7


@pytest.fixture(scope="module")
def stock_layerings():
    """Every layering of at most 3 stocked materials and 4 coats, glaze outermost, and its colour on each body."""
    patterns = {1: [(1,), (2,), (3,), (4,)], 2: [(1, 1), (1, 2), (2, 1), (1, 3), (3, 1), (2, 2)]}
    patterns[3] = [(1, 1, 1), (1, 1, 2), (1, 2, 1), (2, 1, 1)]
    stacks = [
        tuple(zip(names, map(float, coats)))
        for count, coat_patterns in patterns.items()
        for names in itertools.permutations(STOCK, count)
        if names[-1] in GLAZES
        for coats in coat_patterns
    ]
    colours = {
        body: np.concatenate(
            [lab_of(reflectances(stacks[k : k + 2000], body, 6.0)) for k in range(0, len(stacks), 2000)]
        )
        for body in BODIES
    }
    return stacks, colours


def test_discontinued_glaze_has_no_twin_but_can_be_replaced_by_layers(stock_layerings):
    stacks, colours = stock_layerings
    assert len(tiles.discontinued_uses()) == 4
    for layers, body, cone in tiles.discontinued_uses():
        wanted = np.array(true_lab(layers, body, cone))
        apart = delta_e_2000(colours[body], wanted)
        assert apart.min() < 2.5, layers
        below = physics.parse(layers)[:-1]
        swapped = [
            true_lab((*below, (glaze, coats)), body, cone)
            for glaze in GLAZES if glaze != DISCONTINUED for coats in (1, 2, 3)
        ]  # fmt: skip
        assert delta_e_2000(np.array(swapped), wanted).min() > 6, layers
        alone = [k for k, stack in enumerate(stacks) if len(stack) == 1]
        assert apart[alone].min() > 6, layers


def test_reference_colour_is_within_reach_but_on_no_tile(stock_layerings):
    _, colours = stock_layerings
    wanted, body = np.array(tiles.REFERENCE_LAB), tiles.REFERENCE["body"]
    apart = delta_e_2000(colours[body], wanted)
    assert apart.min() < 2
    assert (apart < 4).sum() > 20
    fired = [
        true_lab(zone.layers, tile.body, 6)
        for photo in tiles.PHOTOS for tile in photo.tiles for zone in tile.zones if tile.stage == "fired"
    ]  # fmt: skip
    assert delta_e_2000(np.array(fired), wanted).min() > apart.min()


def test_colours_are_those_of_glazes():
    on_tiles = np.array([
        true_lab(zone.layers, tile.body, 6)
        for photo in tiles.PHOTOS for tile in photo.tiles for zone in tile.zones if tile.stage == "fired"
    ])  # fmt: skip
    assert on_tiles[:, 0].min() > 8
    assert on_tiles[:, 0].max() < 93
    assert lab_to_srgb(on_tiles)[1].all()
