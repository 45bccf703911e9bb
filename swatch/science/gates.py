"""When a photo's colours are not to be trusted, or only with a warning."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.colour_math import FloatArray
from swatch.science.flat_field import Field, Sheet, other_light
from swatch.science.locate import ASK_SCORE, SURE_SCORE
from swatch.science.zones import ZoneLight
from swatch.terms.measured import Verdict
from swatch.terms.problems import Notice

SHEET_RESIDUAL = (0.0045, 0.05)
LAMP_CHANGE = (0.05, 0.15)
LIGHT_CHANGE = 0.6
CARD_MEDIAN = (3.5, 5.0)
SHEET_CLIPPED = (0.05, 0.5)
LEAST_CLEAR_SHARE = 0.6
FEWEST_NEUTRALS = 3
ENDS_SHARE = 0.02
ZONE_LEFT = (0.3, 0.1)
ZONE_DOUBT = 6.5
"""u95 in ΔE00 above which a colour is only a rough one: on rendered scenes of other glazes and cameras these are
one zone in 25, and most of the largest errors are among them."""
OTHER_LIGHT = 0.06
"""Ln light by which the sheet beside a zone may differ from what is reckoned with; sound photos have 0.015."""
ZONE_BESIDE, CARD_BESIDE = 1 / 3, 0.1
"""Part of the places beside a zone or the card that have to differ: an edge passes through it."""
CARD_OTHER_LIGHT, CARD_UNEVEN = 0.1, 1.5
"""Spread in L* by which patches are read too light or dark; sound photos have up to 1.1, one crossed by a shadow's
edge 1.6 and more."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A verdict with its reasons."""

    verdict: Verdict
    notices: tuple[Notice, ...]


class Gates:
    """Collects reasons; a single reason to refuse is enough."""

    def __init__(self) -> None:
        self._notices: list[Notice] = []
        self.refused = False

    def refuse(self, code: str, **facts: float | int | str) -> None:
        """Note a reason for which the photo cannot be used."""
        self.refused = True
        self._notices.append(Notice(code, facts))

    def warn(self, code: str, **facts: float | int | str) -> None:
        """Note a reason for care."""
        self._notices.append(Notice(code, facts))

    def grade(self, value: float, limits: tuple[float, float], code: str, **facts: float | int | str) -> None:
        """Warn above the first limit, refuse above the second."""
        if value > limits[1]:
            self.refuse(f"{code}-refused", **facts)
        elif value > limits[0]:
            self.warn(code, **facts)

    def judged(self) -> Judged:
        """The verdict so far."""
        if self.refused:
            return Judged(Verdict.REFUSED, tuple(self._notices))
        return Judged(Verdict.USABLE if self._notices else Verdict.GOOD, tuple(self._notices))


def judge_place(gates: Gates, score: float | None, corners_given: bool) -> None:
    """Judge how sure it is that the card lies there."""
    if score is None:
        gates.refuse("card-not-found")
    elif score < ASK_SCORE:
        gates.refuse("card-does-not-fit" if corners_given else "card-not-found")
    elif score < SURE_SCORE:
        gates.warn("card-unsure")


def judge_light(gates: Gates, sheet: Sheet, field: Field, points: FloatArray) -> None:
    """Judge the evenness of the light between the card and the zones, at `points` (n, 2)."""
    ln = field.ln(points)
    brightness, lamp = ln.mean(axis=1), ln[:, 0] - ln[:, 2]
    change, lamp_change = float(np.ptp(brightness)), float(np.ptp(lamp))
    gates.grade(sheet.clipped, SHEET_CLIPPED, "sheet-too-bright", percent=round(100 * sheet.clipped))
    if not sheet.seen:
        gates.warn("no-sheet")
        return
    gates.grade(field.residual, SHEET_RESIDUAL, "light-patchy", percent=round(100 * field.residual, 1))
    gates.grade(lamp_change, LAMP_CHANGE, "mixed-light", percent=round(100 * lamp_change))
    if change > LIGHT_CHANGE:
        gates.warn("uneven-light", percent=round(100 * (1 - float(np.exp(-change)))))


def judge_card(gates: Gates, median: float) -> None:
    """Judge how well the card's own patches are read when left out."""
    gates.grade(median, CARD_MEDIAN, "card-read-badly", median=round(median, 1))


def judge_card_light(gates: Gates, beside: FloatArray, off: FloatArray) -> None:
    """Judge whether the card lies in one light.

    Parameters
    ----------
    beside : (n,)
        Ln light by which the sheet beside it differs from what is reckoned with.
    off : (patches,)
        What each patch is read too light, L*. A shadow or a reflection on some of them spreads these.
    """
    shade, spread = abs(other_light(beside, CARD_BESIDE)), float(off.std())
    if spread <= CARD_UNEVEN:
        return
    if shade > CARD_OTHER_LIGHT:
        gates.refuse("card-in-shadow", percent=round(100 * (1 - float(np.exp(-shade)))))
    else:
        gates.warn("card-lit-unevenly", spread=round(spread, 1))


def zone_warnings(zone: ZoneLight, shade: float = 0.0, u95: float = 0.0) -> tuple[Notice, ...]:
    """What to say of one zone; `shade` is how far its light is from what is reckoned with, ln; `u95` its doubt."""
    found = []
    if abs(shade) > OTHER_LIGHT:
        found.append(Notice("zone-other-light", {"percent": round(100 * (1 - float(np.exp(-abs(shade)))))}))
    if zone.high_share > ENDS_SHARE:
        found.append(Notice("zone-too-bright", {"percent": round(100 * zone.high_share)}))
    if zone.low_share > ENDS_SHARE:
        found.append(Notice("zone-too-dark", {"percent": round(100 * zone.low_share)}))
    if zone.used_share < ZONE_LEFT[0]:
        found.append(Notice("zone-glare", {"percent": round(100 * zone.used_share)}))
    if u95 > ZONE_DOUBT and not found:
        found.append(Notice("zone-doubtful", {"u95": round(u95, 1)}))
    return tuple(found)
