"""Numbers to text for people and to plain figures for JSON: one place decides the decimals."""

from __future__ import annotations

import math

from swatch.terms.colour import Covariance, Lab
from swatch.wording.text import _, say

LAB_DECIMALS = 2
COVARIANCE_DECIMALS = 3
DE_DECIMALS = 2
SHARE_DECIMALS = 3


def figure(value: float, decimals: int) -> float:
    """Round for JSON, so that answers are the same on every machine; never minus zero.

    Raises
    ------
    ValueError
        The number is not finite: no answer holds such a number.
    """
    if not math.isfinite(value):
        raise ValueError(f"{value} is no answer")
    return round(float(value), decimals) + 0.0


def lab_figures(lab: Lab) -> list[float]:
    """A colour for JSON."""
    return [figure(part, LAB_DECIMALS) for part in lab]


def covariance_figures(covariance: Covariance) -> list[list[float]]:
    """A covariance for JSON, row by row."""
    return [[figure(part, COVARIANCE_DECIMALS) for part in row] for row in covariance.rows()]


def number_in_words(value: float, decimals: int = 1) -> str:
    """Write a number with a fixed count of decimals and a real minus sign: ``−21.6``."""
    text = f"{value:.{decimals}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", "−")


def signed_in_words(value: float, decimals: int = 1) -> str:
    """Write a change with its sign: ``+0.30``, ``−1.2``; no sign where nothing is left of it."""
    text = number_in_words(value, decimals)
    return f"+{text}" if value > 0 and float(text) > 0 else text


def with_doubt(value: float, variance: float) -> str:
    """Write a number with one standard uncertainty: ``57.4 ±1.2``."""
    return f"{number_in_words(value)} ±{number_in_words(math.sqrt(max(variance, 0.0)))}"


def share_in_words(share: float) -> str:
    """Say a share of 0 to 1 as per cent: ``18 %``."""
    return say(_("{n:.0f} %")).format(n=100 * share)


def grams_in_words(grams: float) -> str:
    """Say a weight: ``346 g``, ``1.20 kg``."""
    return f"{grams / 1000:.2f} kg" if grams >= 1000 else f"{grams:.0f} g"


def seconds_in_words(seconds: float) -> str:
    """Say how long something took: ``0.41 s``."""
    return f"{seconds:.2f} s"
