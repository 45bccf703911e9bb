import math
from dataclasses import replace

import numpy as np
import pytest
from small_studio import FIELDS, make_studio, reading

from swatch.library.studio import Studio
from swatch.science.heatlog import LOG_SD
from swatch.science.setting_up import set_up
from swatch.terms.cone import Cone
from swatch.terms.materials import Firing, WitnessCone
from swatch.work.studio_arrays import arrays_of

CLIMB = ((0.0, 20.0), (1202.0, 1222.0), (1500.0, 600.0))


@pytest.fixture
def logged(tmp_path):
    """A studio with a firing of no named cone and its log: a climb to cone 6 at 60 °C/h."""
    folder = make_studio(tmp_path / "studio")
    with Studio.open(folder) as studio:
        studio.put_firings([Firing("F-2", peak_c=1180.0)], frozenset({"peak_c"}))
        tile = replace(reading("T9", "A", "Moss", (45.0, -19.0, 15.0), firing="F-2"), cone=None)
        studio.put_readings([tile], FIELDS)
        studio.put_firing_log("F-2", CLIMB)
    return folder


def _firings(folder):
    with Studio.look(folder) as studio:
        data = arrays_of(studio.evidence()).data
    return data, set_up(data).problem


def test_a_log_tells_the_cone_of_a_firing_that_names_none(logged):
    data, problem = _firings(logged)
    assert math.isnan(data.firing_cone[1])
    assert data.firing_cones() == pytest.approx([6.0, 6.0], abs=0.05)
    assert problem.firing_sd[1] == pytest.approx(LOG_SD)


def test_a_cone_that_was_named_or_read_goes_before_the_log(logged):
    with Studio.open(logged) as studio:
        studio.put_firings([Firing("F-2", cone_asked=Cone(5.0))], frozenset({"cone_asked"}))
    data, _problem = _firings(logged)
    assert data.firing_cones()[1] == 5.0
    with Studio.open(logged) as studio:
        studio.put_firings([Firing("F-2", cone_reached=Cone(5.4))], frozenset({"cone_reached"}))
    _data, problem = _firings(logged)
    assert problem.firing_base[1] == pytest.approx(5.4)


def test_a_log_of_one_point_says_nothing(logged):
    with Studio.open(logged) as studio:
        studio.put_firing_log("F-2", CLIMB[:1])
    data, _problem = _firings(logged)
    assert np.isnan(data.firing_logged[1])
    assert data.firing_cones()[1] < 6.0  # the programme's peak, 1180 °C, is left


def test_a_firing_that_no_tile_and_no_witness_cone_tells_of_teaches_nothing(logged):
    with Studio.open(logged) as studio:
        before = arrays_of(studio.evidence()).data
        studio.put_firings([Firing("F-9", cone_asked=Cone(6.0))], frozenset({"cone_asked"}))
        assert len(arrays_of(studio.evidence()).data.firing_cone) == len(before.firing_cone)


def test_a_log_is_heard_beside_the_cone_that_was_asked(logged):
    with Studio.open(logged) as studio:
        studio.put_firings([Firing("F-2", cone_asked=Cone(5.0))], frozenset({"cone_asked"}))
    _data, problem = _firings(logged)
    assert problem.witness == pytest.approx(np.array([[1.0, -1.0, 6.0, LOG_SD]]), abs=0.05)
    _data, alone = _firings(logged)
    with Studio.open(logged) as studio:
        studio.put_witnesses([WitnessCone("F-2", "low", Cone(5.5))], frozenset({"cone_reached"}))
    _data, problem = _firings(logged)
    assert len(problem.witness) == len(alone.witness) + 1
