from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from swatch.science import priors
from swatch.science.setting_up import set_up, usable
from swatch.science.shifts import fit_once
from swatch.science.studio_data import RAW, merge_repeats, raw_colours
from swatch.terms.report import silent


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


def test_a_firing_is_as_hot_as_asked_else_as_reached_else_as_its_witness_cones_say(fired):
    nan = np.full(len(fired.firing_cone), np.nan)
    asked, reached, logged = nan.copy(), nan.copy(), nan.copy()
    asked[0], reached[[0, 1]], logged[[1, 2, 3]] = 6.0, 5.5, 4.0
    data = replace(
        fired,
        firing_cone=asked,
        firing_reached=reached,
        firing_logged=logged,
        witness_firing=np.array([1, 2, 2, 2]),
        witness_shelf=np.array([0, 0, 1, 2]),
        witness_cone=np.array([9.0, 5.0, 6.0, np.nan]),
    )
    assert data.firing_cones()[:4].tolist() == [6.0, 5.5, 5.5, 4.0]
    assert np.isnan(data.firing_cones()[4:]).all()
    assert np.isnan(replace(fired, firing_cone=nan).firing_cones()).all()


def test_tiles_of_a_firing_known_by_witness_cones_alone_count_at_their_cone(fired):
    one = int(fired.firing[0])
    cone = fired.firing_cone.copy()
    cone[one] = np.nan
    dumb = replace(fired, firing_cone=cone)
    assert not usable(dumb)[fired.firing == one].any()
    told = replace(
        dumb,
        witness_firing=np.full(2, one),
        witness_shelf=np.arange(2),
        witness_cone=fired.firing_cone[one] + np.array([-0.2, 0.2]),
    )
    assert usable(told).all()
    ready = set_up(told)
    assert ready.problem.firing_base[one] == pytest.approx(fired.firing_cone[one])
    fit = fit_once(told, silent)
    heat = fit.z[fit.layout.starts["firing_heat"] + one] * ready.problem.firing_sd[one]
    assert abs(heat) < 0.5
