"""The gauge study of photos: made-up readings with known scatter, and what too little gives."""

import numpy as np
import pytest

from swatch.science.colour_math import de00_metric
from swatch.terms.colour import Lab, covariance_of
from swatch.terms.measured import PhotoRead, Verdict, ZoneRead
from swatch.terms.problems import StudioProblem
from swatch.work.self_test import study

COLOURS = np.array([[60.0, 20.0, 30.0], [40.0, -15.0, 5.0], [75.0, 0.0, 10.0], [30.0, 10.0, -30.0]] * 8)


def photos(occasions, repeats, within, between, seed=1):
    """Readings whose scatter is `within` and `between` ΔE00 in each of three directions."""
    random = np.random.default_rng(seed)
    step = [np.linalg.inv(np.linalg.cholesky(de00_metric(lab))) for lab in COLOURS]
    made = []
    for o in range(occasions):
        moved = between * random.normal(size=3)
        made.append([_photo(f"{o}{r}.jpg", step, moved, within, random) for r in range(repeats)])
    return made


def _photo(name, step, moved, within, random):
    zones = []
    for k, lab in enumerate(COLOURS):
        off = (moved + within * random.normal(size=3)) @ step[k]
        zones.append(
            ZoneRead(f"Z{k}", (), Lab(*(lab + off).tolist()), covariance_of(np.eye(3).tolist()), 3.0, 0.5, 1.0)
        )
    return PhotoRead(name, (100, 100), Verdict.GOOD, None, tuple(zones))


def test_scatter_among_photos_of_one_occasion_comes_out():
    found = study(photos(1, 6, 0.3, 0.0))
    assert found.repeatability_de00 == pytest.approx(2.7955 * 0.3, rel=0.1)
    assert found.reproducibility_de00 is None
    assert found.measuring_de00 == pytest.approx(found.repeatability_de00)
    assert found.mean_u95_de00 == pytest.approx(3.0)


def test_what_occasions_differ_by_comes_out_apart():
    found = study(photos(12, 2, 0.2, 0.8, seed=4))
    assert found.repeatability_de00 == pytest.approx(2.7955 * 0.2, rel=0.1)
    assert found.reproducibility_de00 == pytest.approx(2.7955 * 0.8, rel=0.45)
    assert found.measuring_de00 > found.reproducibility_de00


def test_as_many_photos_of_each_occasion_as_the_smallest_has():
    more = photos(2, 3, 0.2, 0.1)
    assert [len(one) for one in study([more[0], more[1][:2]]).occasions] == [2, 2]


def test_no_occasion_with_two_photos_is_said():
    with pytest.raises(StudioProblem, match="self-test-too-few-photos"):
        study([])


def test_zones_that_no_two_photos_share_are_said():
    first, second = photos(1, 2, 0.2, 0.1)[0]
    apart = PhotoRead(second.photo, second.size, second.verdict, None, second.zones[:1])
    with pytest.raises(StudioProblem, match="self-test-too-few-zones"):
        study([[first, apart]])
