"""CIEDE2000 against its published pairs: Sharma, Wu & Dalal 2005, Table 1."""

from pathlib import Path

import numpy as np

from swatch.science.colour_math import delta_e_2000

PAIRS = np.loadtxt(Path(__file__).parent / "data" / "ciede2000_pairs.csv", delimiter=",", skiprows=2)


def test_the_34_pairs_agree_to_the_fourth_decimal():
    assert len(PAIRS) == 34
    np.testing.assert_allclose(delta_e_2000(PAIRS[:, :3], PAIRS[:, 3:6]), PAIRS[:, 6], atol=5.1e-5)


def test_the_34_pairs_agree_the_other_way_round():
    np.testing.assert_allclose(delta_e_2000(PAIRS[:, 3:6], PAIRS[:, :3]), PAIRS[:, 6], atol=5.1e-5)
