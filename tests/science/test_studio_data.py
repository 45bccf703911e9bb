from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from swatch.science import priors
from swatch.science.studio_data import RAW, merge_repeats, raw_colours


def test_repeated_readings_of_a_zone_become_one_tile(fired):
    zone = np.full(len(fired.lab), -1)
    zone[[3, 8, 9]] = 0
    covariance = fired.covariance.copy()
    covariance[3] *= 1e6
    merged, rows = merge_repeats(replace(fired, zone=zone, covariance=covariance))
    assert len(merged.lab) == len(fired.lab) - 2
    assert rows.tolist() == [i for i in range(len(fired.lab)) if i not in (8, 9)]
    assert merged.lab[3] == pytest.approx((fired.lab[8] + fired.lab[9]) / 2, abs=1e-3)
    assert merged.covariance[3] == pytest.approx(fired.covariance[8] / 2, rel=1e-3)


def test_zones_read_once_stay_as_they_are(fired):
    merged, rows = merge_repeats(replace(fired, zone=np.arange(len(fired.lab))))
    assert (merged.lab == fired.lab).all()
    assert len(rows) == len(fired.lab)


def test_a_raw_reading_stands_in_for_a_raw_colour_nobody_wrote_down(fired):
    m = int(np.flatnonzero(fired.kind == priors.UNDERGLAZE)[0])
    unwritten = fired.raw_lab.copy()
    unwritten[m] = np.nan
    stage, material, lab = fired.stage.copy(), fired.material.copy(), fired.lab.copy()
    stage[0], material[0], lab[0] = RAW, [m, -1, -1], [50, 10, 20]
    found = raw_colours(replace(fired, raw_lab=unwritten, stage=stage, material=material, lab=lab))
    assert found[m] == pytest.approx([50, 10, 20])


def test_a_firing_known_by_its_programme_has_a_cone(fired):
    nan = np.full(len(fired.firing_cone), np.nan)
    peak = nan.copy()
    peak[0] = 1222.0
    data = replace(fired, firing_cone=nan, firing_peak_c=peak)
    assert data.firing_cones()[0] == pytest.approx(6.0)
    asked = data.cones_asked()
    assert (np.isfinite(asked) == (fired.firing == 0)).all()
