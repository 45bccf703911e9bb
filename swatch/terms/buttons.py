"""Witness buttons: small cast buttons with stripes of the studio's underglazes, half covered."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.colour import Covariance, Lab
from swatch.terms.layering import Layers


@dataclass(frozen=True, slots=True)
class ButtonReading:
    """One measured colour of one stripe of a button.

    ``kept`` marks the reference button: it is not fired again but lies in every photo and takes the camera out.
    """

    button: str
    stripe: str
    lab: Lab
    covariance: Covariance
    reading: int = 1
    body: str | None = None
    layers: Layers = ()
    firing: str | None = None
    shelf: str | None = None
    session: str | None = None
    kept: bool | None = None
