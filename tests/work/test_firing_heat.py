from __future__ import annotations

import pytest
from small_studio import make_studio

from swatch.cli.heat_command import heat_entry
from swatch.library.studio import Studio
from swatch.terms.cone import Cone
from swatch.terms.materials import Firing, WitnessCone
from swatch.terms.problems import StudioProblem
from swatch.wording.firing_heat import heat_in_words
from swatch.work.firing_heat import firing_heat

CLIMB = ((0.0, 20.0), (1202.0, 1222.0), (1500.0, 600.0))


@pytest.fixture
def folder(tmp_path):
    made = make_studio(tmp_path / "studio")
    with Studio.open(made) as studio:
        studio.put_firings([Firing("F-2", peak_c=1222.0)], frozenset({"peak_c"}))
        studio.put_firing_log("F-2", CLIMB)
    return made


def test_a_climb_to_cone_6_at_60_degrees_an_hour_is_cone_6(folder):
    found = firing_heat(folder, "f-2")
    assert found.firing == "F-2"
    assert found.logged.cone == pytest.approx(6.0, abs=0.05)
    assert found.logged.soak_ends_min == 1202.0
    assert (found.cone, found.cone_sd) == (pytest.approx(found.logged.cone), pytest.approx(0.3))
    assert heat_entry(found)["log"]["points"] == [[0, 20], [1202, 1222], [1500, 600]]


def test_witness_cones_correct_the_log_by_what_each_is_worth(folder):
    with Studio.open(folder) as studio:
        cones = [WitnessCone("F-2", shelf, Cone(5.0)) for shelf in ("low", "high")]
        studio.put_witnesses(cones, frozenset({"cone_reached"}))
    found = firing_heat(folder, "F-2")
    logs, cones = 1 / 0.3**2, 2 / (0.2**2 + 0.2**2)
    assert found.cone == pytest.approx((6.0 * logs + 5.0 * cones) / (logs + cones), abs=0.02)
    assert found.cone_sd == pytest.approx((logs + cones) ** -0.5)
    assert "2 witness cones" in heat_in_words(found)[-1]


def test_a_firing_of_which_nothing_tells_says_what_to_do(folder):
    with Studio.open(folder) as studio:
        studio.put_firings([Firing("F-3", cone_asked=Cone(6.0))], frozenset({"cone_asked"}))
    found = firing_heat(folder, "F-3")
    assert (found.logged, found.cone) == (None, None)
    assert "witness cones" in heat_in_words(found)[0]
    with pytest.raises(StudioProblem) as raised:
        firing_heat(folder, "F-4")
    assert raised.value.code == "not-there"
