"""Another world for rendered scenes: glazes by the colourants of the trade, cameras of another family.

Where colourants absorb is common knowledge of glass chemistry (memory; rough positions, strengths invented).
Nothing here is shared with ``bench/scenes.py``, so that what is tuned on one can be judged on the other.
"""

from __future__ import annotations

import numpy as np

WAVES = np.arange(400.0, 701.0, 10.0)
# Centre, width and relative strength of absorption bands, in nm; widths are standard deviations.
BANDS = {
    "cobalt": ((538, 18, 0.75), (590, 20, 1.0), (645, 18, 0.9)),
    "manganese": ((490, 55, 1.0), (570, 40, 0.35)),
    "copper-green": ((790, 95, 1.0), (380, 22, 0.5)),
    "copper-red": ((562, 17, 1.0), (430, 70, 0.45)),
    "chrome": ((425, 30, 1.0), (630, 42, 0.9), (680, 10, 0.2)),
    "chrome-tin": ((525, 38, 1.0), (420, 40, 0.4)),
    "iron-green": ((1050, 210, 3.0), (385, 28, 0.8)),
    "nickel": ((440, 45, 1.0), (640, 60, 0.5)),
    "praseodymium": ((445, 9, 1.0), (470, 9, 0.7), (483, 7, 0.7), (590, 8, 0.3), (400, 30, 0.7)),
    "vanadium": ((420, 40, 1.0), (640, 70, 0.15)),
}
EDGES = {
    "iron-amber": (470, 38),
    "rutile": (420, 20),
    "cadmium": (540, 7),
    "selenium-red": (595, 8),
    "uranium": (500, 14),
}
BODIES = {"porcelain": (0.92, 0.01), "stoneware": (0.62, 0.10), "red": (0.30, 0.9)}


def glaze_spectrum(rng):
    """Reflectance of one glaze over a body: light goes through the coat to pigment and body, and comes back."""
    absorbed = np.full_like(WAVES, rng.choice([0.01, 0.05, 0.25, 0.8]) * np.exp(rng.normal(0, 0.4)))
    names = [*BANDS, *EDGES, "black"]
    for name in rng.choice(names, size=rng.integers(1, 4), replace=False):
        strength = np.exp(rng.uniform(np.log(0.05), np.log(5.0)))
        if name in BANDS:
            moved = rng.normal(0, 4)
            for at, width, share in BANDS[name]:
                absorbed += strength * share * np.exp(-0.5 * ((WAVES - at - moved) / width) ** 2)
        elif name in EDGES:
            at, width = EDGES[name]
            absorbed += strength / (1 + np.exp((WAVES - at - rng.normal(0, 10)) / width))
        else:
            absorbed += 0.5 * strength
    white, iron = BODIES[str(rng.choice(list(BODIES)))]
    body = white * np.exp(-iron / (1 + np.exp((WAVES - 560) / 35)))
    if rng.random() < 0.5:  # opaque: Kubelka–Munk of a thick coat
        inner = 1 + absorbed - np.sqrt(absorbed**2 + 2 * absorbed)
    else:  # clear: twice through the coat over the body
        inner = body * np.exp(-1.2 * absorbed)
    # The surface sends part of it back inside (Saunderson; its mirror reflection is left out of the truth).
    inside = 0.55
    return np.clip((1 - 0.04) * (1 - inside) * inner / (1 - inside * inner) + 0.002, 0.003, 0.97)


def other_camera(rng):
    """Sensitivities of a sensor with skewed filters and cross-talk that grows with wavelength, (31, 3)."""
    peaks = np.array([598.0, 530.0, 462.0]) + rng.normal(0, [6, 5, 5])
    left = np.array([24.0, 40.0, 26.0]) * np.exp(rng.normal(0, 0.12, 3))
    right = np.array([48.0, 36.0, 34.0]) * np.exp(rng.normal(0, 0.12, 3))
    off = WAVES[:, None] - peaks
    bands = np.exp(-(np.abs(off / np.where(off < 0, left, right)) ** rng.uniform(1.7, 2.4)))
    floor = rng.uniform(0.01, 0.06, 3)
    red_in_blue = rng.uniform(0, 0.08) * np.exp(-0.5 * ((WAVES - 610) / 40) ** 2)
    blue_in_red = rng.uniform(0, 0.12) * np.exp(-0.5 * ((WAVES - 440) / 25) ** 2)
    bands = bands + floor
    bands[:, 2] += red_in_blue
    bands[:, 0] += blue_in_red
    cut = 1 / (1 + np.exp((WAVES - rng.uniform(640, 690)) / rng.uniform(4, 12)))
    rise = 1 / (1 + np.exp(-(WAVES - rng.uniform(405, 425)) / 6))
    return bands * (cut * rise)[:, None]
