"""What is believed of materials and bodies before any tile is fired, as latents z ~ N(0, 1).

The values were found on simulated studios and real paint; none was measured on fired glazes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from swatch.science.optics import (
    BANDS_NM,
    FloatArray,
    bands_to_lab_slopes,
    infinite_reflectance,
    through_surface_slopes,
)

UNDERGLAZE, GLAZE, CLEAR, SLIP, WASH, UNKNOWN_KIND = range(6)
"""Codes of a material's kind, as `StudioData` holds them."""

LATENTS = 16
(LEVEL, SCATTER, HEAT_LEVEL, HEAT_SCATTER) = (0, 5, 6, 9)
(BURN_SHARE, BURN_CONE, DULL_POWER, DULL_CONE, ATTACK, YIELD) = (10, 11, 12, 13, 14, 15)
SHAPES = slice(1, 5)
HEAT_SHAPES = slice(7, 9)

BODY_LATENTS = 7
SCATTER_TILT: FloatArray = -0.6 * np.log(BANDS_NM / 550.0)
"""ln S falls with wavelength as (λ/550 nm)^−0.6."""

CONES_PER_T = 5.0
MIDDLE_CONE = 6.0
"""Heat enters the slopes as t = (cone − 6) / 5."""

USUAL_RATED = 6.0
_GRID: FloatArray = np.linspace(-7.0, 7.0, 5601)
_SHAPE_LENGTH_NM = 55.0


def smooth_modes() -> FloatArray:
    """A constant and four smooth shapes over the bands, (5, 8); the shapes scaled for unit variance in all."""
    apart = (BANDS_NM[:, None] - BANDS_NM[None, :]) / _SHAPE_LENGTH_NM
    kernel = np.exp(-0.5 * apart**2)
    centre = np.eye(8) - 1.0 / 8.0
    values, vectors = np.linalg.eigh(centre @ kernel @ centre)
    order = np.argsort(values)[::-1][:4]
    shapes = (vectors[:, order] * np.sqrt(values[order])).T
    # The sign of an eigenvector is anybody's choice: fix it, so that every machine fits the same latents.
    shapes *= np.sign(shapes[:, :1])
    return np.vstack([np.ones(8), shapes])


MODES: FloatArray = smooth_modes()


@dataclass(frozen=True, slots=True)
class Mixture:
    """A mixture of normals reached from one standard normal through its quantiles."""

    values: FloatArray
    slopes: FloatArray

    @classmethod
    def of(cls, parts: tuple[tuple[float, float, float], ...]) -> Mixture:
        """Tabulate the map for parts (weight, mean, standard deviation)."""
        from scipy.special import ndtr

        weight, mean, sd = (np.array(column) for column in zip(*parts, strict=True))
        x = np.linspace((mean - 9 * sd).min(), (mean + 9 * sd).max(), 20001)
        below = ((weight / weight.sum()) * ndtr((x[:, None] - mean) / sd)).sum(axis=1)
        above = ((weight / weight.sum()) * ndtr((mean - x[:, None]) / sd)).sum(axis=1)
        from scipy.special import ndtri

        # Both tails are worked from their own side: 1 − p has no digits left far out.
        z = np.where(below < 0.5, ndtri(np.maximum(below, 1e-300)), -ndtri(np.maximum(above, 1e-300)))
        values = np.interp(_GRID, z, x)
        return cls(values, np.gradient(values, _GRID))

    def __call__(self, z: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Value and slope at ``z``."""
        return np.interp(z, _GRID, self.values), np.interp(z, _GRID, self.slopes)


@dataclass(frozen=True, slots=True)
class KindPrior:
    """Mean and standard deviation of each latent's value for one kind of material; mixtures override."""

    mean: FloatArray
    sd: FloatArray
    scatter: tuple[tuple[float, float, float], ...] | None
    ratio_level: bool
    matures: bool
    tile_noise: float


def _kind(
    level: tuple[float, float],
    shape: float,
    scatter: tuple[float, float],
    heat_level: float,
    *,
    mixture: tuple[tuple[float, float, float], ...] | None = None,
    ratio_level: bool,
    matures: bool,
    tile_noise: float,
) -> KindPrior:
    mean, sd = np.zeros(LATENTS), np.ones(LATENTS)
    mean[LEVEL], sd[LEVEL] = level
    sd[SHAPES] = shape
    mean[SCATTER], sd[SCATTER] = scatter
    sd[HEAT_LEVEL] = heat_level
    sd[HEAT_SHAPES] = 0.15
    mean[HEAT_SCATTER], sd[HEAT_SCATTER] = -0.1, 0.15
    mean[BURN_SHARE], sd[BURN_SHARE] = 1.6, 0.7
    mean[DULL_POWER], sd[DULL_POWER] = 0.9, 0.4
    sd[ATTACK] = sd[YIELD] = 0.3
    return KindPrior(mean, sd, mixture, ratio_level, matures, tile_noise)


_JAR_SAYS_GLAZE = ((0.65, -2.3, 0.7), (0.35, 1.1, 0.5))
_JAR_SAYS_NOTHING = ((0.45, -2.3, 0.8), (0.55, 0.85, 0.5))
KINDS: tuple[KindPrior, ...] = (
    _kind((-0.6, 1.4), 1.3, (0.69, 0.45), 0.08, ratio_level=True, matures=False, tile_noise=0.72),
    _kind(
        (-1.4, 0.9),
        1.3,
        (0.0, 1.0),
        0.35,
        mixture=_JAR_SAYS_GLAZE,
        ratio_level=False,
        matures=True,
        tile_noise=0.9,
    ),
    _kind((-4.0, 0.8), 0.7, (-3.2, 0.5), 0.35, ratio_level=False, matures=True, tile_noise=0.9),
    _kind((-1.2, 1.4), 1.1, (0.9, 0.5), 0.12, ratio_level=True, matures=False, tile_noise=0.72),
    _kind((-0.3, 1.2), 1.2, (-1.0, 1.0), 0.25, ratio_level=False, matures=False, tile_noise=0.9),
    _kind(
        (-0.8, 1.5),
        1.3,
        (0.0, 1.0),
        0.25,
        mixture=_JAR_SAYS_NOTHING,
        ratio_level=False,
        matures=True,
        tile_noise=0.9,
    ),
)
"""By kind code. An unknown kind is believed to be a glaze as to heat, and as clear as one or as opaque as any."""

BODY_MEAN: FloatArray = np.array([-3.0, 0.0, 0.0, 0.0, 0.0, 0.1, 0.0])
BODY_SD: FloatArray = np.array([1.3, 0.9, 0.9, 0.9, 0.9, 0.25, 0.15])
"""ln K/S of a bare body: level, four shapes, heat slope of the level and of the first shape."""

RATIO_KINDS = np.array([k.ratio_level for k in KINDS])
MATURING_KINDS = np.array([k.matures for k in KINDS])
TILE_NOISE = np.array([k.tile_noise for k in KINDS])

MEASURED_RAW = np.array([True, False, False, True, False, False])
"""Kinds whose raw colour says something of the fired one."""

RAW_STAYS = np.array([0.25, 0.3, 0.3, 0.3, 0.3])
RAW_STAYS_SLIP = np.array([0.5, 0.4, 0.4, 0.4, 0.4])
RAW_NOISE = 1.5
RAW_INNER = 0.30

INTO_GLAZE, INTO_UNDERGLAZE, INTO_SD = -1.8, -3.2, 0.4
WIPED_LEFT, WIPED_SD = np.log(0.3), 0.5


@dataclass(frozen=True, slots=True)
class Beliefs:
    """The prior of one studio's materials, ready for use: arrays over materials.

    ``colour_mean`` (m, 5) and ``colour_root`` (m, 5, 5) give level and shapes; the rest are means, standard
    deviations and, for some, mixtures through a table.
    """

    kind: np.ndarray
    ratio: np.ndarray
    matures: np.ndarray
    rated: FloatArray
    colour_mean: FloatArray
    colour_root: FloatArray
    mean: FloatArray
    sd: FloatArray
    from_raw: np.ndarray


def believe(kind: np.ndarray, raw_lab: FloatArray, rated: FloatArray) -> Beliefs:
    """Prior of each material from its kind, its raw colour (underglaze and slip only) and its rated cones.

    Parameters
    ----------
    kind : (m,) int
        Kind codes.
    raw_lab : (m, 3) float
        Raw colour, NaN where unknown.
    rated : (m, 2) float
        Coolest and hottest rated cone position, NaN where unknown.
    """
    m = len(kind)
    middle = np.full(m, USUAL_RATED)
    for i in range(m):
        known = rated[i][np.isfinite(rated[i])]
        middle[i] = known.mean() if len(known) else USUAL_RATED
    mean = np.array([KINDS[k].mean for k in kind]).reshape(m, LATENTS)
    sd = np.array([KINDS[k].sd for k in kind]).reshape(m, LATENTS)
    colour_mean, colour_root = mean[:, :5].copy(), np.einsum("mi,ij->mij", sd[:, :5], np.eye(5))
    from_raw = np.zeros(m, dtype=bool)
    for i in range(m):
        if MEASURED_RAW[kind[i]] and np.isfinite(raw_lab[i]).all():
            stays = RAW_STAYS if kind[i] == UNDERGLAZE else RAW_STAYS_SLIP
            found, covariance = spectrum_of_raw(raw_lab[i], mean[i, :5], sd[i, :5])
            colour_mean[i] = found
            colour_root[i] = np.linalg.cholesky(covariance + np.diag(stays**2))
            from_raw[i] = True
    ratio, matures = RATIO_KINDS[kind], MATURING_KINDS[kind]
    return Beliefs(kind, ratio, matures, middle, colour_mean, colour_root, mean, sd, from_raw)


def spectrum_of_raw(lab: FloatArray, mean: FloatArray, sd: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Most probable level and shapes of ln K/S behind a raw colour, with their covariance.

    Gauss–Newton on a thick layer seen through its surface; many spectra share a colour, so the covariance
    stays wide where the colour says nothing.
    """
    z = np.zeros(5)
    hessian = np.eye(5)
    for _ in range(12):
        ratio = np.exp((mean + sd * z) @ MODES)
        inside = infinite_reflectance(ratio)
        seen, by_inside, _inner = through_surface_slopes(inside, np.asarray(RAW_INNER))
        value, by_seen = bands_to_lab_slopes(seen)
        by_log = -inside * ratio / np.sqrt(ratio * (ratio + 2.0)) * by_inside
        slope = ((by_seen * by_log) @ MODES.T) * sd / RAW_NOISE
        hessian = slope.T @ slope + np.eye(5)
        step = np.linalg.solve(hessian, slope.T @ ((lab - value) / RAW_NOISE) - z)
        z = z + step * min(1.0, 1.5 / max(float(np.abs(step).max()), 1e-12))
    covariance = np.linalg.inv(hessian) * np.outer(sd, sd)
    return mean + sd * z, covariance


_TABLES: dict[str, Mixture] = {}


def scatter_table() -> Mixture:
    """Quantile map of ln S for a jar that says glaze."""
    if "scatter" not in _TABLES:
        _TABLES["scatter"] = Mixture.of(_JAR_SAYS_GLAZE)
    return _TABLES["scatter"]


def any_scatter_table() -> Mixture:
    """Quantile map of ln S for a jar that says nothing."""
    if "any scatter" not in _TABLES:
        _TABLES["any scatter"] = Mixture.of(_JAR_SAYS_NOTHING)
    return _TABLES["any scatter"]


def burn_table() -> Mixture:
    """Quantile map of the cone at which a colour burns out: some at mid range, most never."""
    if "burn" not in _TABLES:
        _TABLES["burn"] = Mixture.of(((0.25, 6.0, 2.5), (0.75, 15.0, 2.5)))
    return _TABLES["burn"]


def dull_table() -> Mixture:
    """Quantile map of the cone below which a glaze stays dull, relative to its rated cone."""
    if "dull" not in _TABLES:
        _TABLES["dull"] = Mixture.of(((0.75, -2.0, 1.2), (0.25, -5.0, 2.5)))
    return _TABLES["dull"]
