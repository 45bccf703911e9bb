"""Amounts with their units."""

from __future__ import annotations

from swatch.wording.text import _, say


def grams_in_words(grams: float) -> str:
    """Say a weight: ``650 g``, ``3.2 kg``."""
    if abs(grams) >= 1000:
        return say(_("{n:.1f} kg")).format(n=grams / 1000)
    return say(_("{n:.0f} g")).format(n=grams)
