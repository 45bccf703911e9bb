"""The Gaussian process against scikit-learn's, and against the normal distribution it is.

Sources. scikit-learn, `GaussianProcessRegressor` without restarts or optimiser; scipy.stats, multivariate normal.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import RBF, ConstantKernel

from swatch.science import kriging

SIGNAL, LENGTHS = 2.3, np.array([0.7, 1.9, 3.1])


@pytest.fixture
def readings():
    random = np.random.default_rng(8)
    x = random.normal(size=(40, 3))
    noise = random.uniform(0.05, 0.4, 40)
    y = np.stack([np.sin(x[:, 0]) + x[:, 1], np.cos(x[:, 2])], axis=1) + random.normal(0, 0.1, (40, 2))
    return x, noise, y, random.normal(size=(15, 3))


def ours(x, noise, y):
    return kriging.given(SIGNAL * kriging.squared_exponential(x, x, LENGTHS), noise, y)


def test_mean_and_spread_are_scikit_learns(readings):
    x, noise, y, new = readings
    kernel = ConstantKernel(SIGNAL, "fixed") * RBF(LENGTHS, "fixed")
    theirs = GaussianProcessRegressor(kernel, alpha=noise, optimizer=None).fit(x, y)
    process = ours(x, noise, y)
    cross = SIGNAL * kriging.squared_exponential(new, x, LENGTHS)
    mean, sd = theirs.predict(new, return_std=True)
    assert process.mean(cross) == pytest.approx(mean, abs=1e-9)
    assert process.variance(cross, np.full(15, SIGNAL)) == pytest.approx(sd[:, 0] ** 2, abs=1e-9)
    assert process.likelihood == pytest.approx(theirs.log_marginal_likelihood_value_, abs=1e-8)


def test_its_likelihood_is_that_of_the_normal_it_is(readings):
    x, noise, y, _new = readings
    covariance = SIGNAL * kriging.squared_exponential(x, x, LENGTHS) + np.diag(noise)
    said = sum(stats.multivariate_normal(np.zeros(40), covariance).logpdf(channel) for channel in y.T)
    assert ours(x, noise, y).likelihood == pytest.approx(said, abs=1e-8)
