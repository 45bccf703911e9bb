from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from swatch.desk.plane import Plane, ellipse, labels_that_fit, light_span, span
from swatch.screens.gallery_samples import plane
from swatch.terms.colour import Covariance, Lab

COVARIANCE = Covariance(2.0, 0.3, 0.1, 4.0, 1.5, 1.0)


def test_the_ellipse_holds_its_share_of_a_gaussian():
    around = ellipse(Lab(50, 3, -2), COVARIANCE, 0.68)
    inner = np.linalg.inv([[4.0, 1.5], [1.5, 1.0]])
    d = around - [3, -2]
    # In two dimensions P(d² <= r²) = 1 − exp(−r²/2), so that 68 % lies within r² = 2.279 (memory).
    assert np.allclose(np.einsum("ni,ij,nj->n", d, inner, d), 2.279, atol=2e-3)
    drawn = np.random.default_rng(1).multivariate_normal([0, 0], [[4.0, 1.5], [1.5, 1.0]], 40_000)
    assert abs((np.einsum("ni,ij,nj->n", drawn, inner, drawn) <= 2.279).mean() - 0.68) < 0.01


def test_target_and_answers_are_in_sight_and_the_plane_is_square():
    (a1, a2), (b1, b2) = span(plane())
    assert abs((a2 - a1) - (b2 - b1)) < 1e-9
    for point in plane().answers:
        assert a1 < point.lab.a < a2
        assert b1 < point.lab.b < b2
    low, high = light_span(plane())
    assert all(low <= point.lab.L <= high for point in plane().answers)


def test_an_empty_plane_has_a_span():
    (a1, a2), _b = span(Plane())
    assert a1 < 0 < a2
    assert light_span(Plane()) == (0.0, 100.0)


@given(st.lists(st.tuples(st.integers(0, 200), st.integers(0, 200)), max_size=12))
@settings(max_examples=60)
def test_no_two_labels_collide(spots):
    points = [(k + 1, (float(x), float(y)), (14.0, 15.0)) for k, (x, y) in enumerate(spots)]
    found = labels_that_fit(points, 3, (204.0, 204.0))
    boxes = [(x, y, x + 14, y + 15) for x, y in found.values()]
    for k, one in enumerate(boxes):
        assert one[0] >= 0
        assert one[2] <= 204
        for other in boxes[k + 1 :]:
            assert one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3]


def test_the_chosen_one_keeps_its_label_where_others_lose_theirs():
    crowd = [(k, (100.0, 100.0 + 0.1 * k), (14.0, 15.0)) for k in range(1, 9)]
    assert 7 in labels_that_fit(crowd, 7, (204.0, 204.0))
    assert len(labels_that_fit(crowd, 7, (204.0, 204.0))) <= 4


def test_very_many_own_tiles_are_thinned():
    many = Plane(own=tuple(Lab(50, float(k % 60), 0.0) for k in range(20_000)))
    assert len(many.own_drawn()) <= 1500
    assert "20000 own tiles" in many.spoken(None)
