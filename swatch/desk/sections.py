"""A layering as a section through the glaze: what is drawn, and what is said of it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from swatch.terms.colour import Lab
from swatch.terms.layering import Layers
from swatch.wording.answers import coats_in_words
from swatch.wording.text import _, say


@dataclass(frozen=True, slots=True)
class SectionLayer:
    """One layer as it is drawn; ``lab`` is its fired colour, None where it is not known."""

    name: str
    coats: float
    lab: Lab | None
    wiped: bool = False
    clear: bool = False


@dataclass(frozen=True, slots=True)
class Section:
    """The body and the layers on it, from the body outward."""

    body: str
    body_lab: Lab | None
    layers: tuple[SectionLayer, ...] = ()


def section_of(
    layers: Layers, body: str, body_lab: Lab | None, fired: Mapping[str, Lab], clear: Collection[str] = ()
) -> Section:
    """Prepare a section: `fired` has the fired colour of each material, `clear` names those that are clear."""
    return Section(
        body,
        body_lab,
        tuple(
            SectionLayer(
                layer.material, layer.coats, fired.get(layer.material), layer.wiped, layer.material in clear
            )
            for layer in layers
        ),
    )


def section_in_words(section: Section) -> str:
    """Say a section from the body outward."""
    parts = [say(_("{body}, body")).format(body=section.body)]
    for layer in section.layers:
        wiped = say(_(", wiped")) if layer.wiped else ""
        parts.append(f"{layer.name}, {coats_in_words(layer.coats)}{wiped}")
    return say(_("From the body outward: {parts}.")).format(parts="; ".join(parts))
