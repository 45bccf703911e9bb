"""Control charts, covariance and T² against the NIST/SEMATECH e-Handbook of Statistical Methods."""

import numpy as np
import pytest

from swatch.science.control_charts import covariance_of_rows, ewma, hotelling, hotelling_limit, individuals

TEN = np.array([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1])
TEN_BEFORE = np.array([52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5])
FIVE = np.array(
    [[4.0, 2.0, 0.60], [4.2, 2.1, 0.59], [3.9, 2.0, 0.58], [4.3, 2.1, 0.62], [4.1, 2.2, 0.63]]
)  # fmt: skip


def test_individuals_chart():
    """NIST/SEMATECH e-Handbook 6.3.2.2: mean 50.81, mean moving range 1.8778, limits 55.8041 and 45.8159."""
    chart = individuals(TEN)
    assert chart.middle == pytest.approx(50.81)
    assert chart.spread == pytest.approx(1.8778, abs=5e-5)
    assert chart.upper == pytest.approx(55.8041, abs=1e-4)
    assert chart.lower == pytest.approx(45.8159, abs=1e-4)
    assert not chart.outside.any()


def test_moving_mean_that_forgets():
    """NIST/SEMATECH e-Handbook 6.3.2.4: λ 0.3, target 50, s 2.0539; last 51.99, limits 52.5884 and 47.4115."""
    chart = ewma(np.concatenate([TEN_BEFORE, TEN]), 50.0, 2.0539, 0.3)
    assert chart.points[-1] == pytest.approx(51.99, abs=5e-3)
    assert chart.upper == pytest.approx(52.5884, abs=1e-4)
    assert chart.lower == pytest.approx(47.4115, abs=1e-4)
    assert not chart.outside.any()
    assert ewma(np.array([60.0]), 50.0, 2.0539, 0.3).outside.any()


def test_covariance():
    """NIST/SEMATECH e-Handbook 6.5.4.1."""
    mean, covariance = covariance_of_rows(FIVE)
    assert mean == pytest.approx([4.10, 2.08, 0.604])
    wanted = [[0.025, 0.0075, 0.00175], [0.0075, 0.0070, 0.00135], [0.00175, 0.00135, 0.00043]]
    assert covariance == pytest.approx(np.array(wanted), abs=1e-12)


@pytest.mark.parametrize(("m", "limit"), [(6, 54.1), (10, 18.44), (20, 11.26)])
def test_limit_for_one_more(m, limit):
    """NIST/SEMATECH e-Handbook 6.5.4.3, p 3, α .05; its formula, the numbers computed."""
    assert hotelling_limit(m, 3, 0.05) == pytest.approx(limit, rel=1e-3)


def test_statistic_of_the_rows_it_rests_on():
    """Σ (x − x̄)ᵀ S⁻¹ (x − x̄) is p(m − 1) for any sample: an identity of S, here of the e-Handbook's five rows."""
    mean, covariance = covariance_of_rows(FIVE)
    assert hotelling(FIVE, mean, covariance).sum() == pytest.approx(3 * 4)


def test_nothing_can_be_judged_with_as_many_rows_as_columns():
    assert hotelling_limit(3, 3, 0.05) == np.inf


def test_the_limit_is_passed_as_often_as_it_says():
    random = np.random.default_rng(5)
    passed = 0
    for _ in range(1500):
        rows = random.standard_normal((13, 3)) @ np.diag([1.0, 3.0, 0.2])
        mean, covariance = covariance_of_rows(rows[:12])
        passed += bool(hotelling(rows[12], mean, covariance)[0] > hotelling_limit(12, 3, 0.05))
    assert 0.03 < passed / 1500 < 0.07
