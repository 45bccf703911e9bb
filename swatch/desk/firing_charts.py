"""Charts over firings as they are drawn: one column a firing, limits, and a sign for what was said of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swatch.terms.holding import CheckAnswer, FiringChart, LoadCheck, LoadVerdict
from swatch.wording.text import _, say

RING, OPEN, FILLED = "ring", "open diamond", "diamond"
"""Holds; not judged, or cannot be told; drifted."""

SIGNS = {
    LoadVerdict.HOLDS: RING,
    LoadVerdict.DRIFTED: FILLED,
    LoadVerdict.TOO_FEW: OPEN,
    LoadVerdict.KILN_OR_CAMERA: OPEN,
    LoadVerdict.CAMERA: OPEN,
}
DECIMALS = {"heat": 2, "heat, moving mean": 2}


@dataclass(frozen=True, slots=True)
class Chart:
    """One chart: a point a firing; ``upper`` and ``lower`` are limits, one a firing, or empty."""

    code: str
    title: str
    what: str
    firings: tuple[str, ...]
    points: tuple[float, ...]
    upper: tuple[float, ...] = ()
    lower: tuple[float, ...] = ()
    signs: tuple[str, ...] = ()
    decimals: int = 1

    def beyond(self, k: int) -> bool:
        """Whether a point lies outside the limits."""
        return bool(
            (self.upper and self.points[k] > self.upper[k]) or (self.lower and self.points[k] < self.lower[k])
        )

    def spoken(self) -> str:
        """The chart for who cannot see it."""
        out = [name for k, name in enumerate(self.firings) if self.beyond(k)]
        values = ", ".join(
            f"{name} {value:.{self.decimals}f}" for name, value in zip(self.firings, self.points, strict=True)
        )
        beyond = say(_("Beyond the limit: {firings}.")).format(firings=", ".join(out)) if out else ""
        return " ".join(part for part in (f"{values}.", beyond) if part)


def charts_of(answer: CheckAnswer) -> tuple[Chart, ...]:
    """Every chart of a checked edition, the distance from the look first."""
    judged = [load for load in answer.loads if load.limit > 0]
    if not judged:
        return ()
    signs = {load.firing: SIGNS[load.verdict] for load in answer.loads}
    return (
        _distance(judged, signs),
        *(_chart(chart, signs) for chart in answer.charts),
    )


def _distance(loads: Sequence[LoadCheck], signs: dict[str, str]) -> Chart:
    firings = tuple(load.firing for load in loads)
    return Chart(
        "distance",
        say(_("Distance from the look")),
        say(_("how far each load is from the approved pieces, what firings and hands ordinarily do counted in")),
        firings,
        tuple(load.statistic for load in loads),
        tuple(load.limit for load in loads),
        signs=tuple(signs[firing] for firing in firings),
    )


def _chart(chart: FiringChart, signs: dict[str, str]) -> Chart:
    titles = {
        "L*": (_("Lightness"), _("lighter or darker than the look, L*")),
        "a*": (_("Red and green"), _("redder or greener than the look, a*")),
        "b*": (_("Yellow and blue"), _("yellower or bluer than the look, b*")),
        "heat": (_("Heat"), _("cones hotter or cooler than the approved firings")),
        "heat, moving mean": (_("Heat, running mean"), _("cones, the last firings counting most: slow drift")),
    }
    title, what = titles[chart.name]
    n = len(chart.firings)
    return Chart(
        chart.name,
        say(title),
        say(what),
        chart.firings,
        chart.points,
        (chart.upper,) * n,
        (chart.lower,) * n,
        tuple(signs[firing] for firing in chart.firings),
        DECIMALS.get(chart.name, 1),
    )
