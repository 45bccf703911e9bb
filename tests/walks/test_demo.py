"""The whole job on the demo studio: photos in, answers out, held against what the invented world really does."""

import json

import numpy as np
import pytest

from demo_tiles.physics import parse, true_lab
from swatch.library.studio import Studio
from swatch.resources import demo_tiles
from swatch.science.colour_math import delta_e_2000
from swatch.terms.layering import format_layers
from swatch.terms.measured import Verdict


@pytest.fixture(scope="module")
def zones(demo_answers):
    """(n,) ΔE00 of every zone of the demo's photos from its truth, and (n,) its u95."""
    truth = json.loads((demo_tiles() / "truth.json").read_text(encoding="utf-8"))
    true = {(zone["photo"], zone["zone_in_photo"]): zone["lab"] for zone in truth["zones"]}
    read = [(photo.photo.rpartition("/")[2], zone) for photo in demo_answers.photos for zone in photo.zones]
    assert len(read) == len(true) > 100
    off = delta_e_2000(np.array([zone.lab for _, zone in read]), np.array([true[p, z.zone] for p, z in read]))
    return off, np.array([zone.u95_de00 for _, zone in read])


def test_colours_read_from_the_photos_are_near_the_truth(zones):
    off, _ = zones
    assert np.median(off) <= 1.6
    assert np.quantile(off, 0.95) <= 4.0


def test_what_is_said_of_the_doubt_holds(zones):
    off, u95 = zones
    assert (off > u95).mean() <= 1 / 12
    assert u95.mean() < 4.0  # not bought by saying that nothing is known


def test_every_photo_of_the_demo_is_good_and_kept(demo_answers):
    assert {photo.verdict for photo in demo_answers.photos} == {Verdict.GOOD}
    with Studio.look(demo_answers.folder) as studio:
        assert studio.verify() == []
        assert studio.invented
        kept = len(studio.evidence().readings)
    assert demo_answers.readings == kept == sum(len(photo.zones) for photo in demo_answers.photos) - 1


def test_the_replacement_found_for_the_discontinued_glaze_is_near_it_in_truth(demo_answers):
    """Truth is what the invented world fires, not what the program believes."""
    in_edition = [use for use in demo_answers.replace.uses if use.suggestions[0].pieces_possible]
    assert in_edition, "the edition uses the discontinued glaze"
    for use in in_edition:
        body, cone = use.question.body, use.question.cone.position
        was = true_lab(parse(format_layers(use.question.layers)), body, cone)
        best = use.suggestions[0].prediction.question
        becomes = true_lab(parse(format_layers(best.layers)), body, cone)
        assert demo_answers.replace.material not in format_layers(best.layers)
        assert float(delta_e_2000(np.array(was), np.array(becomes))) <= 3.0


def test_predictions_of_new_layerings_hold_what_they_say(demo_answers):
    off, inside = [], []
    for use in demo_answers.replace.uses:
        for one in use.suggestions:
            question = one.prediction.question
            true = true_lab(parse(format_layers(question.layers)), question.body, question.cone.position)
            apart = np.array(one.prediction.lab) - np.array(true)
            covariance = np.array(one.prediction.covariance.rows())
            off.append(float(delta_e_2000(np.array(one.prediction.lab), np.array(true))))
            inside.append(apart @ np.linalg.solve(covariance, apart) <= 7.815)
    assert np.median(off) < 4.5
    assert np.mean(inside) >= 0.9


def test_every_answer_carries_what_is_said_of_food(demo_answers):
    every = [one for use in demo_answers.replace.uses for one in use.suggestions]
    every += demo_answers.match.suggestions
    food = {"bare-body-food", "bare-underglaze", "label-not-for-food", "label-silent", "label-other-cone"}
    food |= {"label-alone-only", "label-needs-test"}
    assert all(food & {caution.code for caution in one.prediction.cautions} for one in every)
