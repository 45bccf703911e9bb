"""Layers and layerings: what lies over what, from the body outward."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from swatch.terms.problems.files import bad_layers

_WIPED = " (wiped)"
_TRAILING_BRACKET = re.compile(r"\s\([^()]*\)$")
_COATS = re.compile(r"\s*\*\s*([0-9]+(?:\.[0-9]+)?|½|[0-9]+½)$")
MOST_COATS = 20.0


@lru_cache(maxsize=65_536)
def fold_name(name: str) -> str:
    """Fold a name for comparison: NFC, trimmed, single spaces, no case."""
    return unicodedata.normalize("NFC", " ".join(unicodedata.normalize("NFC", name).split()).casefold())


@dataclass(frozen=True, slots=True)
class Layer:
    """One material with its number of coats; a zone's layers run from the body outward."""

    material: str
    coats: float = 1.0
    wiped: bool = False

    def __post_init__(self) -> None:
        if not 0 < self.coats <= MOST_COATS:
            raise ValueError(f"a layer has more than 0 and at most {MOST_COATS:g} coats, not {self.coats}")

    def __str__(self) -> str:
        coats = "" if self.coats == 1 else f"*{self.coats:g}"
        return f"{self.material}{coats}{_WIPED if self.wiped else ''}"


Layers = tuple[Layer, ...]


def parse_layers(text: str) -> Layers:
    """Read ``Iron slip*2 > Clear``: the layers from the body outward.

    Neighbouring layers of one material are one layer with the coats added (``A > A`` is ``A*2``). An empty
    text is the bare body.

    Raises
    ------
    StudioProblem
        ``bad-layers``: a layer without a name, coats that are no number above 0, or a bracket that is reserved.
    """
    if not text.strip():
        return ()
    layers: list[Layer] = []
    for part in text.split(">"):
        layer = _parse_layer(text, part)
        if layers and _same_material(layers[-1], layer):
            coats = layers[-1].coats + layer.coats
            if coats > MOST_COATS:
                raise bad_layers(text, part.strip())
            layers[-1] = Layer(layers[-1].material, coats, layer.wiped)
        else:
            layers.append(layer)
    return tuple(layers)


def format_layers(layers: Layers) -> str:
    """Write layers as `parse_layers` reads them; ``parse_layers(format_layers(x)) == x``."""
    return " > ".join(str(layer) for layer in layers)


def _same_material(one: Layer, other: Layer) -> bool:
    return fold_name(one.material) == fold_name(other.material) and one.wiped == other.wiped


def _parse_layer(text: str, part: str) -> Layer:
    bare = " ".join(part.split())
    wiped = False
    # `*n` and `(wiped)` may stand in either order after the name: `Rill*2 (wiped)`, `Rill (wiped)*2`.
    coats = 1.0
    for _ in range(2):
        if bare.casefold().endswith(_WIPED) and not wiped:
            wiped, bare = True, bare[: -len(_WIPED)].rstrip()
        elif found := _COATS.search(bare):
            coats, bare = _number(found.group(1)), bare[: found.start()].rstrip()
    if not bare or "*" in bare or _TRAILING_BRACKET.search(bare) or not 0 < coats <= MOST_COATS:
        raise bad_layers(text, part.strip())
    if any(unicodedata.category(ch) == "Cc" for ch in bare):
        raise bad_layers(text, part.strip())
    return Layer(bare, coats, wiped)


def _number(text: str) -> float:
    return float(text.replace("½", "") or 0) + 0.5 if text.endswith("½") else float(text)
