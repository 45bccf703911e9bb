"""The colours that jars can make, in words."""

from __future__ import annotations

from swatch.terms.colours import JarColours, LightnessBand
from swatch.wording.numbers import number_in_words
from swatch.wording.text import _, say, say_many


def spans_in_words(band: LightnessBand, measured: bool) -> tuple[str, str]:
    """The ranges of a* and b* that a band's outlines span, as ``−31 to 12``; empty where there are none."""
    corners = [corner for ring in (band.measured if measured else band.predicted) for corner in ring]
    if not corners:
        return "", ""
    a, b = ([corner[axis] for corner in corners] for axis in (0, 1))
    return _range(min(a), max(a)), _range(min(b), max(b))


def _range(low: float, high: float) -> str:
    words = say(_("{low} to {high}"))
    return words.format(low=number_in_words(low, 0), high=number_in_words(high, 0))


def band_in_words(band: LightnessBand) -> str:
    """Say what one band holds: how far it reaches, and how much of it was fired."""
    a, b = spans_in_words(band, measured=False)
    said = [say(_("L* {lightness}.")).format(lightness=lightness_in_words(band))]
    if a:
        made = say_many(
            "{n} layering predicted: a* {a}, b* {b}.", "{n} layerings predicted: a* {a}, b* {b}.", band.layerings
        )
        said.append(made.format(n=f"{band.layerings:,}", a=a, b=b))
    if band.u is not None:
        said.append(say(_("A prediction here is off by ±{u:.1f} ΔE00.")).format(u=band.u))
    if not band.tiles:
        return " ".join([*said, say(_("No tile of yours has these colours yet."))])
    a, b = spans_in_words(band, measured=True)
    tiles = say_many("{n} own tile: a* {a}, b* {b}.", "{n} own tiles: a* {a}, b* {b}.", len(band.tiles))
    return " ".join([*said, tiles.format(n=len(band.tiles), a=a, b=b)])


def lightness_in_words(band: LightnessBand) -> str:
    """``40–50``."""
    return f"{band.lightness[0]:.0f}–{band.lightness[1]:.0f}"


def searched_in_words(answer: JarColours) -> str:
    """How many layerings the outlines are of, and what they rest on."""
    words = say(
        _("{n} layerings, learnt from {tiles} readings of own tiles; outlines are drawn to {cell:g} in a* and b*.")
    )
    return words.format(n=f"{answer.searched:,}", tiles=f"{answer.learnt_from:,}", cell=answer.cell)
