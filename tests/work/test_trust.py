"""Trust asked again costs nothing, and a spoilt cache costs time only."""

import pytest

from swatch.science import leaving_out
from swatch.work.trust import trust


def _kept(folder):
    return list((folder / "cache").glob("left-out-*.npz"))


def test_asked_again_nothing_is_fitted(own_demo, monkeypatch):
    first = trust(own_demo)
    assert len(_kept(own_demo)) == 1
    monkeypatch.setattr(leaving_out, "fit_once", lambda *_: pytest.fail("it was fitted again"))
    assert trust(own_demo) == first


def test_damage_to_what_was_kept_is_made_good(own_demo):
    first = trust(own_demo)
    _kept(own_demo)[0].write_bytes(_kept(own_demo)[0].read_bytes()[:-900])
    assert trust(own_demo) == first


def test_errors_of_another_studio_are_not_taken_for_its_own():
    found = leaving_out.LeftOut(*([1.0] * 3 for _ in range(10)))
    arrays = {name: leaving_out.np.array(value) for name, value in found.arrays().items()}
    arrays["row"] = leaving_out.np.array([0, 5, 9])
    assert len(leaving_out.left_out_from(arrays, 10).row) == 3
    with pytest.raises(ValueError, match="readings"):
        leaving_out.left_out_from(arrays, 9)
    with pytest.raises(KeyError):
        leaving_out.left_out_from({}, 9)


def test_its_pictures_are_the_errors_of_its_table(own_demo):
    answer = trust(own_demo)
    for line in answer.questions:
        curve = {one.stated: one.held for one in answer.curve if one.question == line.question}
        assert curve[0.8] == pytest.approx(line.covers_80, abs=1e-6)
        assert curve[0.95] == pytest.approx(line.covers_95, abs=1e-6)
        assert list(curve.values()) == sorted(curve.values())
    worst = [one.de00 for one in answer.pairs]
    assert worst == sorted(worst, reverse=True)
    assert len({(one.tile, one.zone) for one in answer.pairs}) > 10
    for one in answer.pairs[:20]:
        assert float(leaving_out.delta_e_2000(one.said, one.fired)) == pytest.approx(one.de00, abs=1e-6)
