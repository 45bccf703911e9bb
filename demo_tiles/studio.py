"""What the invented studio has on its shelves: optics of every material and body. All names are invented."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from demo_tiles.spectra import FloatArray, band, edge, flat, tail

# Absorption of one unit of each colourant, per coat. Shapes after the well-known look of these oxides in glass
# (common practice, no source); the heights are invented.
COLOURANTS: dict[str, FloatArray] = {
    "cobalt": band(540, 24, 0.45) + band(592, 24, 1.0) + band(640, 24, 0.85) + flat(0.03),
    "chrome": band(440, 40, 0.95) + band(612, 46, 1.0) + flat(0.06),
    "amber iron": tail(58, 1.0) + flat(0.012),
    "red iron": edge(580, 17, 1.0) + flat(0.06, -0.4),
    "brown iron": edge(610, 52, 1.0) + flat(0.16, 0.1),
    "copper": band(790, 95, 1.0) + tail(28, 0.55) + flat(0.01),
    "manganese": band(515, 62, 1.0) + flat(0.08),
    "rose": band(520, 36, 1.0) + band(430, 40, 0.25),
    "yellow": edge(492, 15, 1.0) + flat(0.015),
    "black": flat(1.0, 0.06),
    "grey": flat(0.5, -0.1) + band(590, 90, 0.2),
}


@dataclass(frozen=True)
class Stuff:
    """The optics of one material at cone 6, per coat of nominal thickness.

    ``heat`` is the change of ln absorption per cone; ``fades_at`` the cone at which half the colour is gone;
    ``dissolved`` what is left of an underglaze's absorption where glaze has taken it up; ``clearing`` the change
    of ln scattering per cone; ``mobility`` how far it wanders, in coats².
    """

    kind: str
    colour: dict[str, float]
    scatter: float
    red_scatter: float = 1.0
    heat: float = 0.0
    fades_at: float | None = None
    dissolved: float = 1.0
    clearing: float = -0.15
    mobility: float = 0.03
    gloss: str = "gloss"
    raw: dict[str, float] = field(default_factory=dict)
    raw_scatter: float = 4.0

    def absorption(self) -> FloatArray:
        """Absorption per coat at cone 6, before fading."""
        return sum((amount * COLOURANTS[name] for name, amount in self.colour.items()), np.zeros(36)) + 0.002

    def raw_absorption(self) -> FloatArray:
        """Absorption of the raw powder: its own, or a dye that burns out."""
        return sum((amount * COLOURANTS[name] for name, amount in self.raw.items()), np.zeros(36)) + 0.01


def _underglaze(colour: dict[str, float], scatter: float, **more: object) -> Stuff:
    # Underglaze nearly keeps its raw colour: the powder holds the same colourants, lightened by the air in it.
    raw = {name: 0.95 * amount for name, amount in colour.items()}
    return Stuff("underglaze", colour, scatter, mobility=0.012, gloss="matt", raw=raw, raw_scatter=0.85 * scatter,
                 **more)  # type: ignore[arg-type]  # fmt: skip


MATERIALS: dict[str, Stuff] = {
    "Gantry black": _underglaze({"black": 4.6, "cobalt": 0.8}, 1.1, dissolved=1.15, heat=0.02),
    "Pailwash white": _underglaze({"amber iron": 0.05}, 3.1, heat=0.10, clearing=-0.06),
    "Quernstone red": _underglaze({"red iron": 3.0}, 1.7, heat=0.10, dissolved=0.62),
    "Haywain ochre": _underglaze({"yellow": 1.25, "red iron": 0.16}, 2.0, heat=0.05, dissolved=0.75),
    "Weirhouse blue": _underglaze({"cobalt": 1.75, "grey": 0.25}, 1.8, heat=0.03, dissolved=1.35),
    "Nettlerow green": _underglaze({"chrome": 1.05, "yellow": 0.28}, 1.7, heat=-0.02, dissolved=0.9),
    "Thrapple rose": _underglaze({"rose": 0.95, "amber iron": 0.1}, 2.2, fades_at=7.2, dissolved=0.7),
    "Plainpane clear": Stuff("clear", {"amber iron": 0.025}, 0.015, mobility=0.05, raw={"rose": 0.35}),
    "Skimveil": Stuff(
        "glaze",
        {"amber iron": 0.05, "copper": 0.05},
        0.30,
        red_scatter=1.9,
        clearing=-0.35,
        mobility=0.05,
        gloss="satin",
        raw={"cobalt": 0.2},
    ),
    "Old Ferry green": Stuff(
        "glaze",
        {"chrome": 0.20, "copper": 0.26, "amber iron": 0.80, "grey": 0.12},
        0.30,
        heat=0.08,
        mobility=0.05,
        raw={"grey": 0.5, "rose": 0.25},
    ),
    "Alderlees": Stuff(
        "glaze",
        {"amber iron": 0.85, "chrome": 0.05, "copper": 0.08},
        0.10,
        heat=0.12,
        mobility=0.06,
        raw={"rose": 0.8, "yellow": 0.2},
    ),
    "Cinderloaf": Stuff(
        "glaze",
        {"brown iron": 1.9, "manganese": 0.35},
        0.75,
        heat=0.07,
        clearing=-0.05,
        mobility=0.045,
        raw={"red iron": 1.9},
    ),
    "Lampblue dusk": Stuff(
        "glaze", {"cobalt": 0.72, "copper": 0.12, "grey": 0.22}, 0.46, heat=0.04, mobility=0.055, raw={"grey": 0.5}
    ),
    "Chalkfold": Stuff(
        "glaze",
        {"amber iron": 0.16, "grey": 0.03},
        2.3,
        clearing=-0.22,
        mobility=0.03,
        gloss="matt",
        raw={"rose": 0.3},
    ),
    "Copperlatch": Stuff(
        "glaze",
        {"copper": 1.0, "chrome": 0.12, "grey": 0.08, "amber iron": 0.02},
        0.60,
        heat=0.10,
        mobility=0.055,
        raw={"black": 0.5, "grey": 0.2},
    ),
}

DISCONTINUED = "Old Ferry green"


@dataclass(frozen=True)
class BodyStuff:
    """A body: reflectance inside it at cone 6, change of its ln K/S per cone, the iron it gives, its specks."""

    reflectance: FloatArray
    heat: float
    iron: float
    specks: float


def _from_ks(ratio: FloatArray) -> FloatArray:
    return 1 + ratio - np.sqrt(ratio**2 + 2 * ratio)


BODIES: dict[str, BodyStuff] = {
    "Palebank": BodyStuff(_from_ks(0.012 + tail(70, 0.05) + flat(0.004)), heat=0.10, iron=0.03, specks=0.0),
    "Dunbank": BodyStuff(_from_ks(edge(525, 42, 0.72) + flat(0.075)), heat=0.22, iron=0.28, specks=1.0),
}
