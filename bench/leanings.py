"""What glazes do beyond the card, learnt from imagined cameras and lamps: makes and judges the shipped leanings.

python -m bench.leanings --draw 900 --write    learn anew and write resources/cards/rendition-24-leanings.json
python -m bench.leanings --judge 300           errors with and without, on what was not learnt from

Spectra only: no picture is drawn. Glazes are of three families (``bench/scenes.py``, ``bench/glazes.py``, and
smooth curves), cameras of two and mixtures of them. Judged are those families by fresh seeds, and what had no part
in the learning: two measured camera sensitivities and the 99 surfaces of the CIE 2017 colour fidelity index, as
the colour-science library states them, in lamps some of which were not learnt from either.
"""

from __future__ import annotations

import argparse
import functools
import json
import warnings

import numpy as np

from bench.glazes import glaze_spectrum, other_camera
from bench.measure import chart
from bench.scenes import LAMPS, WAVES, _look, _published, _tone, bent_to, camera, lab_of, tile_spectrum
from swatch.resources import resource
from swatch.science.calibration import calibrate, less_stray, stray_light
from swatch.science.colour_math import SRGB_TO_XYZ50, delta_e_2000, lab_to_xyz, srgb_decode
from swatch.science.leaning import Leanings, lab_terms, learnt_leanings, patch_signs

TRIED, SHARES = ("bands", "colourants", "smooth"), (0.4, 0.45, 0.15)
OTHER_LAMPS = ("D60", "LED-V2", "LED-B4", "LED-B5", "FL1", "FL8", "FL10", "FL3.12", "ID65")
AXES, RIDGE = 8, 100.0
"""How many kinds of difference between cameras are told apart, and how strongly weights are held to nothing."""
GLAZES, OTHERS = 30, 24
DARK = 40.0
_BUMPS = np.exp(-0.5 * ((WAVES - np.array([[445.0], [545.0], [625.0]])) / 45.0) ** 2)


def smooth_spectrum(rng):
    """A smooth curve between nothing and everything, without any pigment in mind."""
    length = rng.uniform(25, 70)
    alike = np.exp(-0.5 * ((WAVES[:, None] - WAVES) / length) ** 2) + 1e-6 * np.eye(len(WAVES))
    curve = rng.normal(-1.0, 1.3) + rng.uniform(0.4, 1.8) * (
        np.linalg.cholesky(alike) @ rng.normal(size=len(WAVES))
    )
    return np.clip(1 / (1 + np.exp(-curve)), 0.004, 0.95)


FAMILIES = {"bands": tile_spectrum, "colourants": glaze_spectrum, "smooth": smooth_spectrum}
CAMERAS = {"bands": camera, "colourants": other_camera}


@functools.cache
def _measured():
    """Two measured cameras (31, 3), and 99 measured surfaces (99, 31)."""
    import colour
    from colour.quality.cfi2017 import load_TCS_CIE2017

    shape = colour.SpectralShape(400, 700, 10)
    cameras = [one.copy().align(shape).values for one in colour.MSDS_CAMERA_SENSITIVITIES.values()]
    surfaces = load_TCS_CIE2017(colour.SpectralShape(380, 780, 5)).values[4:65:2].T
    return [np.clip(one, 0, None) / one.max(axis=0) for one in cameras], surfaces


@functools.cache
def _lamp(name):
    import colour

    return colour.SDS_ILLUMINANTS[name].copy().align(colour.SpectralShape(400, 700, 10)).values


@functools.cache
def _patches():
    return bent_to(_published()[2], chart().lab)


def _mixed(rng, count):
    return np.array([FAMILIES[name](rng) for name in rng.choice(TRIED, count, p=SHARES)])


def _sensor(rng):
    one, other = (CAMERAS[str(rng.choice(list(CAMERAS)))](rng) for _ in range(2))
    share = rng.random() if rng.random() < 0.4 else 1.0
    return share * one / one.max(axis=0) + (1 - share) * other / other.max(axis=0)


def drawn(seed, kind):
    """One camera in one lamp: the card's straightened light, what is clear of it, and glazes as read and in truth.

    Parameters
    ----------
    kind : "learnt", "bands", "colourants", "smooth" or "measured"
    """
    rng = np.random.default_rng([seed, 79])
    lamps = [name for group in LAMPS.values() for name in group]
    if kind == "measured":
        cameras, surfaces = _measured()
        sees = cameras[rng.integers(len(cameras))]
        tiles, others = surfaces[rng.choice(len(surfaces), GLAZES, replace=False)], _mixed(rng, OTHERS)
        lamps += OTHER_LAMPS
    elif kind == "learnt":
        sees, tiles, others = _sensor(rng), _mixed(rng, GLAZES), _mixed(rng, OTHERS)
    else:
        sees = CAMERAS.get(kind, _sensor)(rng)
        tiles, others = (np.array([FAMILIES[kind](rng) for _ in range(count)]) for count in (GLAZES, OTHERS))
    seen_by = _lamp(str(rng.choice(lamps)))[:, None] * sees
    # How true cards are made and how they age is drawn too, so that a bad card is not taken for a strange camera.
    error = np.exp(rng.uniform(np.log(0.5), np.log(3.0))) if kind == "learnt" else 1.0
    made = _patches() * np.exp(0.012 * error * (rng.normal(size=(24, 1)) + rng.normal(size=(24, 3)) @ _BUMPS))
    white = seen_by.sum(axis=0) * np.exp(rng.normal(0, 0.03, 3))
    to_srgb = np.linalg.inv(SRGB_TO_XYZ50)
    wanted = lab_to_xyz(lab_of(others)) @ to_srgb.T
    matrix = 0.85 * np.linalg.lstsq(others @ seen_by / white, wanted, rcond=None)[0] + 0.15 * np.eye(3)
    linear = rng.uniform(0.62, 0.98) * (np.vstack([made, tiles]) @ seen_by / white @ matrix + 0.003)
    tone, twist = _tone(rng), (rng.uniform(0, 0.08), rng.uniform(0, 2 * np.pi))
    coded = _look(rng, np.maximum(linear, 0)[None], tone, rng.random() < 0.6, rng.uniform(0.95, 1.22), twist)[0]
    # What coding, sharpening and what is left of uneven light do to means of patches, as on rendered photos.
    coded = np.clip(coded + rng.normal(0, 0.002, coded.shape), 0, 1)
    light = srgb_decode(coded) * np.exp(rng.normal(0, 0.006, (len(coded), 1)) + rng.normal(0, 0.004, coded.shape))
    clear = (light < 0.98).all(axis=1) & (light > 5e-4).all(axis=1)
    card = chart()
    neutral = np.isin(np.arange(24), card.neutrals)
    use = clear[:24]
    made_of = calibrate(light[:24][use], card.lab[use], neutral[use], np.ones((int(use.sum()), 3)))
    z = made_of.curve(light[24:][clear[24:]])
    read = made_of.correction(z)
    for k in np.flatnonzero(read[:, 0] < DARK):  # as the program reads dark zones
        read[k] = made_of.correction(less_stray(z[k], stray_light(read[k], card.lab)))
    return made_of.curve(light[:24]), use, read, lab_of(tiles)[clear[24:]]


def learn(seeds):
    """Learn leanings from as many cameras as there are seeds."""
    rows = [drawn(seed, "learnt") for seed in seeds]
    signs = np.array([patch_signs(z) for z, *_ in rows])
    seen = np.array([np.repeat(use, 3) for _, use, *_ in rows])
    mean = np.where(seen, signs, 0).sum(axis=0) / seen.sum(axis=0)
    whole = np.where(seen, signs, mean)
    for _ in range(15):  # what a camera did not show is filled in by what its other patches say of it
        mean = whole.mean(axis=0)
        _, sizes, ways = np.linalg.svd(whole - mean, full_matrices=False)
        whole = np.where(seen, signs, mean + (whole - mean) @ ways[:AXES].T @ ways[:AXES])
    variance = sizes**2 / len(signs)
    left = (whole - mean) - (whole - mean) @ ways[:AXES].T @ ways[:AXES]
    noise = float(left[seen].std())
    axes = ways[:AXES] * np.sqrt(np.maximum(variance[:AXES] - noise**2, 1e-12))[:, None]
    found = Leanings(mean, axes, noise, np.zeros((AXES + 1, 20, 3)))
    size = (AXES + 1) * 20
    normal, wanted = RIDGE * np.eye(size), np.zeros((size, 3))
    for z, use, read, truth in rows:
        scores = np.concatenate([[1.0], found.scores(z, use)[0]])
        # A step in Lab is a smaller one in ΔE00 where chroma is large.
        weight = 1.0 / (1.0 + 0.03 * np.hypot(read[:, 1], read[:, 2]))[:, None]
        terms = weight * (scores[:, None] * lab_terms(read)[:, None, :]).reshape(len(read), -1)
        normal += terms.T @ terms
        wanted += terms.T @ (weight * np.clip(truth - read, -8, 8))
    return Leanings(mean, axes, noise, np.linalg.solve(normal, wanted).reshape(AXES + 1, 20, 3))


def write(found):
    """Write what was learnt where the program reads it."""
    told = {
        "made_by": "bench/leanings.py",
        "noise": round(found.noise, 6),
        "mean": np.round(found.mean, 5).tolist(),
        "axes": np.round(found.axes, 5).tolist(),
        "weights": np.round(found.weights, 4).ravel().tolist(),
    }
    resource("cards", "rendition-24-leanings.json").write_text(json.dumps(told) + "\n", "utf-8")


def judge(count, first):
    """Print errors without and with the leanings."""
    shipped = learnt_leanings()
    for kind in (*TRIED, "measured"):
        plain, leant, strange = [], [], []
        for seed in range(first, first + count):
            z, seen, read, truth = drawn(seed, kind)
            plain.append(delta_e_2000(read, truth))
            leant.append(delta_e_2000(shipped.of(z, seen)(read), truth))
            strange.append(shipped.scores(z, seen)[1])
        before, after = (np.quantile(np.concatenate(one), [0.5, 0.95]) for one in (plain, leant))
        print(
            f"{kind:12} median {before[0]:.2f} → {after[0]:.2f}, p95 {before[1]:.2f} → {after[1]:.2f}; "
            f"strangeness median {np.median(strange):.2f}, p95 {np.quantile(strange, 0.95):.2f}"
        )


def main():
    """Do what is asked for."""
    warnings.filterwarnings("ignore")
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--draw", type=int, default=0, help="how many cameras to learn from")
    asked.add_argument("--write", action="store_true", help="ship what was learnt")
    asked.add_argument("--judge", type=int, default=0, help="how many cameras of each kind to judge on")
    asked.add_argument("--first", type=int, default=900_000, help="seed of the first to judge on")
    given = asked.parse_args()
    if given.draw:
        found = learn(range(given.draw))
        if given.write:
            write(found)
    if given.judge:
        judge(given.judge, given.first)


if __name__ == "__main__":
    main()
