"""What is known of a material is what predictions say of it, and what is missing is named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from swatch.terms.answers import Prediction
from swatch.terms.knowledge import Change, Lack
from swatch.terms.materials import Kind
from swatch.terms.problems import StudioProblem
from swatch.work.knowledge import doubt_of, knowledge_from
from swatch.work.learn import learnt
from swatch.work.plain import from_plain, to_plain
from swatch.work.predict import predictions, why


@pytest.fixture(scope="module")
def known(demo_answers):
    return learnt(demo_answers.folder)


def _of_kind(known, kind):
    fired = known.arrays.data.material
    return next(one.name for i, one in enumerate(known.arrays.stock) if one.kind is kind and (fired == i).any())


def test_its_swatches_are_predictions_of_it_alone(known):
    name = _of_kind(known, Kind.GLAZE)
    found = knowledge_from(known, name)
    assert {one.question.body for one in found.swatches} == set(known.arrays.bodies.names)
    assert all([layer.material for layer in one.question.layers] == [name] for one in found.swatches)
    assert list(found.swatches) == predictions(known, [one.question for one in found.swatches])
    assert found.fired_tiles > 0
    assert found.raw is None
    assert from_plain(to_plain(found)) == found


def test_a_clear_covers_less_than_an_underglaze_and_ranges_hold_their_middle(known):
    clear = knowledge_from(known, _of_kind(known, Kind.CLEAR)).covering
    underglaze = knowledge_from(known, _of_kind(known, Kind.UNDERGLAZE)).covering
    assert clear.contrast_ratio < underglaze.contrast_ratio
    for one in (clear, underglaze):
        assert 0.0 < one.ratio_80[0] <= one.contrast_ratio <= one.ratio_80[1] <= 1.0
        assert one.over_light.question.layers[1:] == one.over_dark.question.layers[1:]


def test_a_light_coat_and_a_heavy_one_move_the_colour_opposite_ways(known):
    by = {one.change: one for one in knowledge_from(known, _of_kind(known, Kind.CLEAR)).sensitivities}
    assert set(by) == set(Change)
    light, heavy = by[Change.LIGHT_COAT], by[Change.HEAVY_COAT]
    assert (light.changed.L - light.lab.L) * (heavy.changed.L - heavy.lab.L) < 0


def test_the_tile_proposed_is_over_dark_or_where_it_is_least_sure(known):
    for material in known.arrays.materials.names:
        found = knowledge_from(known, material)
        if found.next_tile.lack is Lack.MOST_DOUBT:
            worst = max(found.swatches, key=doubt_of)
            assert found.next_tile.question == worst.question
        elif found.next_tile.lack is Lack.NOT_OVER_DARK:
            assert len(found.next_tile.question.layers) == 2
        else:
            assert found.fired_tiles == 0


def test_a_material_nobody_knows_is_refused(known):
    with pytest.raises(StudioProblem, match="unknown-material"):
        knowledge_from(known, "Nosuch")


def test_a_prediction_says_on_which_tiles_it_rests(known):
    name = _of_kind(known, Kind.GLAZE)
    answer = knowledge_from(known, name).swatches[0]
    assert isinstance(answer, Prediction)
    found = why(known, answer.question)
    assert 0 < len(found.tiles) <= 5
    tiles = {(one.tile, one.zone) for one in known.arrays.readings}
    assert all((one.tile, one.zone) in tiles for one in found.tiles)
    assert all(name in [layer.material for layer in one.layers] for one in found.tiles)
    left = replace(answer, covariance=found.after_one_more)
    assert doubt_of(left) < doubt_of(answer)
