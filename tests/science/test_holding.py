"""Verdicts on simulated loads whose truth is known (`bench.editions`); rates themselves are in `bench.holding`."""

from dataclasses import replace

import numpy as np
import pytest

from bench.editions import Devices, Edition, Studio, Wrong
from swatch.science.button_heat import heat_of_buttons
from swatch.science.colour_math import de00_metric
from swatch.science.holding import (
    KILN_LEAST,
    Shifts,
    kiln_variance,
    look_at,
    looked_through,
    within_loads,
    without_camera,
)
from swatch.science.holding_causes import BODY, HEAT, LOT, NOTHING, Lots, causes, rate_of_changes
from swatch.science.holding_verdict import (
    CAMERA,
    DRIFTED,
    HOLDS,
    KILN_OR_CAMERA,
    TOO_FEW,
    pieces_needed,
    strays,
    sure_within,
    tolerance_supported,
    verdict_of,
)

ALL = Devices()
NONE = Devices(kept=False, buttons=False, lots=False)


def said(seed, wrong, devices=ALL, tolerance=4.0):
    studio = Studio(Edition(seed), devices)
    load = studio.edition.fire(6, wrong)
    joint = studio.joint([load])
    metric = de00_metric(studio.edition.colour)
    found = look_at(joint, len(studio.heats), devices.lots and wrong.opens_lot)
    sure = sure_within(joint, metric, tolerance)
    verdict = verdict_of(joint, found, sure, tolerance_supported(joint, metric), tolerance)
    return verdict, found, joint, Lots(devices.lots, wrong.opens_lot)


def first_cause(joint, lots):
    return next(one for one in causes(joint, lots) if one.code != NOTHING)


def test_ordinary_loads_raise_no_alarm_and_mostly_hold():
    verdicts = [said(seed, Wrong())[0] for seed in range(30)]
    assert verdicts.count(DRIFTED) <= 1
    assert verdicts.count(HOLDS) >= 20


def test_a_hot_firing_is_found_and_called_one():
    right = 0
    for seed in range(20):
        verdict, found, joint, lots = said(seed, Wrong(heat=1.2))
        assert found.heat_cones == pytest.approx(1.2, abs=0.6)
        cause = first_cause(joint, lots)
        right += verdict == DRIFTED and cause.code == HEAT and cause.amount > 0.5
    assert right >= 18


def test_a_lot_is_found_and_called_one():
    right = 0
    for seed in range(20):
        verdict, _, joint, lots = said(seed, Wrong(lot=4.0, opens_lot=True))
        right += verdict == DRIFTED and first_cause(joint, lots).code == LOT
    assert right >= 17


def test_a_new_lot_of_clay_is_called_one_where_clays_are_recorded():
    right = {True: 0, False: 0}
    for seed in range(20):
        joint = said(seed, Wrong(body=4.0))[2]
        for opens in right:
            lots = Lots(True, opens_body=opens, body_recorded=True)
            right[opens] += first_cause(joint, lots).code == BODY
    assert right[True] >= 15
    assert right[False] < right[True]


def test_lots_of_materials_on_record_say_nothing_of_clay_that_is_not():
    joint = said(3, Wrong(body=4.0))[2]
    share = {
        kept: next(one.share for one in causes(joint, Lots(True, body_recorded=kept)) if one.code == BODY)
        for kept in (True, False)
    }
    assert share[False] > share[True]


def test_a_fault_of_the_camera_is_no_drift():
    verdicts = [said(seed, Wrong(camera=6.0))[0] for seed in range(20)]
    assert verdicts.count(DRIFTED) <= 1
    assert verdicts.count(CAMERA) >= 8


def test_without_a_kept_piece_kiln_and_camera_cannot_be_told_apart():
    wrongs = (Wrong(camera=7.0), Wrong(heat=2.0))
    verdicts = {said(seed, wrong, NONE)[0] for seed in range(12) for wrong in wrongs}
    assert verdicts <= {KILN_OR_CAMERA, TOO_FEW}
    assert KILN_OR_CAMERA in verdicts


def test_a_tolerance_that_six_pieces_cannot_support_is_said():
    verdict, _, joint, _ = said(3, Wrong(), tolerance=1.0)
    metric = de00_metric(np.array([[50.0, 10.0, 10.0]] * 3))
    assert verdict in {TOO_FEW, DRIFTED}
    supported = tolerance_supported(joint, metric)
    assert supported > 1.0
    assert pieces_needed(joint, metric, supported + 1e-6) == 6
    more = pieces_needed(joint, metric, 0.97 * supported)
    assert more is None or more > 6
    assert pieces_needed(joint, metric, 0.05) is None


def test_the_kept_piece_takes_the_camera_out():
    studio = Studio(Edition(7), ALL)
    load = studio.edition.fire(6)
    before = without_camera(studio.joint([load]))[0]
    shift = np.tile([6.0, -4.0, 2.0], 3)
    load = replace(load, pieces=load.pieces + shift, kept=load.kept + shift, reference=load.reference + shift[:3],
                   stripes=load.stripes + shift[:3])  # fmt: skip
    after = without_camera(studio.joint([load]))[0]
    assert np.abs(after - before).max() < 0.6


def test_the_measured_heat_is_taken_out_of_the_look():
    studio = Studio(Edition(9), ALL)
    load = studio.edition.fire(6, Wrong(heat=1.5))
    joint = studio.joint([load])
    rest, _ = looked_through(joint)
    assert np.linalg.norm(rest) < 0.7 * np.linalg.norm(without_camera(joint)[0])


def test_one_stray_piece_is_named_and_good_ones_are_not():
    named = 0
    for seed in range(10):
        studio = Studio(Edition(seed), ALL)
        load = studio.edition.fire(6)
        load.pieces[2, 3:6] += [12.0, 0.0, 12.0]
        found = strays(studio.joint([load]), load.pieces, studio.mean, 0.36)
        named += bool(found.off[2])
        assert not found.off[[0, 1, 3, 4, 5]].any()
        assert not (found.off & found.doubtful).any()
    assert named >= 8


def test_a_kiln_that_wanders_is_learnt_to():
    steady, wild = np.array([0.1, -0.05, 0.0, 0.08, -0.1, 0.02]), np.array([0.5, -0.4, 0.3, -0.5, 0.2, -0.3])
    assert KILN_LEAST**2 <= kiln_variance(steady, 0.0064) < 0.15**2
    assert kiln_variance(wild, 0.0064) > 0.25**2
    assert kiln_variance(np.zeros(0), 0.0) == pytest.approx(0.15**2)


def test_loads_teach_how_pieces_differ():
    shifts = Shifts(np.zeros(3), np.zeros(3), np.zeros((3, 0)), np.zeros((3, 0)))
    rows = 0.1 * np.random.default_rng(1).standard_normal((400, 3))
    before, after = within_loads([], shifts), within_loads([rows], shifts)
    assert before.degrees == 12
    assert after.degrees == 12 + 399
    assert np.trace(after.covariance) < 0.1 * np.trace(before.covariance)


def test_stripes_that_do_not_change_tell_no_heat():
    assert heat_of_buttons(np.zeros((4, 3)), np.full((4, 3), 0.1), 3, None) is None
    told = heat_of_buttons(np.full((4, 3), 1.5), np.diag([3.0, 2.0, 3.0, 1.0])[:, :3], 3, np.zeros(3), 6)
    blind = heat_of_buttons(np.full((4, 3), 1.5), np.diag([3.0, 2.0, 3.0, 1.0])[:, :3], 3, None)
    assert told.variance < blind.variance


def test_changes_of_lot_are_learnt():
    assert rate_of_changes(0, 0) == pytest.approx(0.2)
    assert rate_of_changes(0, 20) < 0.1 < rate_of_changes(8, 20)
