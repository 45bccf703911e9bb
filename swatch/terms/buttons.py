"""Witness buttons: small cast buttons with stripes of the studio's underglazes, half covered."""

from __future__ import annotations

from dataclasses import dataclass

from swatch.terms.colour import Covariance, Lab
from swatch.terms.layering import Layers
from swatch.terms.problems.base import Notice


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


@dataclass(frozen=True, slots=True)
class ButtonRequest:
    """Buttons for an edition's next firing; ``shelves`` from the top down, as on record where none is named."""

    edition: str
    firing: str = ""
    shelves: tuple[str, ...] = ()
    anew: bool = False


@dataclass(frozen=True, slots=True)
class Stripe:
    """One stripe as planned; ``change_de`` is what its colour does for a cone more, ΔE, None where not known."""

    stripe: str
    layers: Layers
    covered: bool
    change_de: float | None


@dataclass(frozen=True, slots=True)
class PlannedButton:
    """One button: what is pencilled on its back, and the shelf it goes on."""

    mark: str
    shelf: str


@dataclass(frozen=True, slots=True)
class ButtonPlan:
    """Witness buttons of one firing; ``sd_cones`` is how well they tell its heat.

    ``kept`` is the button that is never fired again, or what it is to be called; ``as_before`` says that stripes
    are those of the buttons on record. ``approved`` is the piece to lay beside the load, ``pieces`` how many to
    measure from each shelf.
    """

    edition: str
    firing: str
    body: str
    cone: str
    stripes: tuple[Stripe, ...]
    buttons: tuple[PlannedButton, ...]
    kept: str
    kept_known: bool
    as_before: bool
    sd_cones: float | None
    approved: str
    pieces: int
    notices: tuple[Notice, ...]
