"""Colours of very many layerings: blocks of (second layer from above × uppermost layer) over shared prefixes.

All arrays hold bands or channels first, so that every pass runs over one long row. The uppermost coat and the
surface are one fraction of what lies beneath, worked out once: with R₀ and T² of the coat and the inner
reflection k, what is seen of the light x from beneath is g + s(R₀/n + T²/n² · x/(1 + d x)), where n = 1 − k R₀
and d = −(R₀ + k(T² − R₀²))/n.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from swatch.science import optics, priors
from swatch.science.optics import FloatArray
from swatch.science.predicting import Spread
from swatch.science.states import State

FAR = np.float32(1e6)
_LEAST_RATIO = np.float32(1e-6)
_FADED = np.float32(-20.0)
"""Beyond e^−20 nothing shows; its fourth power is still no denormal number, which would cost a hundredfold."""
_ROOT_START = np.int32(709_921_077)
"""Two thirds of the offset of a single-precision exponent, less what makes the start's error even."""
_LINEAR_FROM = np.float32((6.0 / 29.0) ** 3)


@dataclass(frozen=True)
class Patterns:
    """What is asked of one prefix: coats of all layers for each pattern, as tuples, lowest first."""

    prefix: tuple[int, ...]
    coats: tuple[tuple[int, ...], ...]


class Coats:
    """R₀ and T² of one to many coats of layers with K/S ``ratio`` and scattering ``power`` a coat."""

    def __init__(self, ratio: FloatArray, power: FloatArray) -> None:
        np.maximum(ratio, _LEAST_RATIO, out=ratio)
        b = ratio + 2
        b *= ratio
        np.sqrt(b, out=b)
        faded = b * power
        faded *= -2
        np.maximum(faded, _FADED, out=faded)
        np.exp(faded, out=faded)
        ratio -= b
        ratio += 1
        self._edge, self._faded_once = ratio, faded
        b += b
        self._twice_b = b
        self._faded = {1: faded}
        self._known: dict[int, tuple[FloatArray, FloatArray]] = {}

    def of(self, coats: int) -> tuple[FloatArray, FloatArray]:
        """R₀ = (1 − E)/D and T² = (2b/D)² E of coats; D = (1 + K/S − b)(1 − E) + 2b, E = e^(−2bS·coats)."""
        if coats not in self._known:
            faded = self._faded_of(coats)
            lost = 1 - faded
            between = self._edge * lost
            between += self._twice_b
            lost /= between
            np.divide(self._twice_b, between, out=between)
            between *= between
            between *= faded
            self._known[coats] = lost, between
        return self._known[coats]

    def _faded_of(self, coats: int) -> FloatArray:
        if coats not in self._faded:
            # each more coat fades as much again; floored, so that no number gets too small to be normal
            more = self._faded_of(coats - 1) * self._faded_once
            self._faded[coats] = np.maximum(more, np.float32(1e-30)) if coats > 4 else more
        return self._faded[coats]


def laid(one: tuple[FloatArray, FloatArray], below: FloatArray) -> FloatArray:
    """Reflectance of a layer (R₀, T²) over what lies below."""
    under = one[0] * below
    np.subtract(1, under, out=under)
    np.divide(below, under, out=under)
    under *= one[1]
    under += one[0]
    return under


def _lightness_roots(share: FloatArray) -> FloatArray:
    """CIE's f of shares of white: the cube root, straight near black.

    The root starts from a third of the exponent and takes two of Halley's steps, exact to single precision; the
    library's own is not vectorised.
    """
    start = share.view(np.int32) // 3
    start += _ROOT_START
    root = start.view(np.float32)
    for _ in range(2):
        cube = root * root
        cube *= root
        more = cube + share
        cube += more  # 2 y³ + x
        more += share  # y³ + 2 x
        more /= cube
        root *= more
    dark = share < _LINEAR_FROM
    if dark.any():
        root[dark] = share[dark] * np.float32(optics.LINEAR_SLOPE) + np.float32(4.0 / 29.0)
    return root


@dataclass(frozen=True)
class _Top:
    """The uppermost coat with the surface: shares are ``plain`` + weights · (``gain`` x/(1 + ``turn`` x))."""

    plain: FloatArray  # (3, u, t)
    gain: FloatArray  # (8, u, t)
    turn: FloatArray  # (8, u, t)
    shows: FloatArray  # (u, t) how much of an offset beneath is still seen


@dataclass
class Blocks:
    """Fills blocks of colours for prefixes. ``must`` are materials that every layering holds."""

    spread: Spread
    bare: FloatArray  # (8,)
    unders: np.ndarray
    tops: np.ndarray
    most_coats: int
    must: frozenset[int]
    _top: dict[int, _Top] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        state, low, high = self._state, self.unders[:, None], self.tops[None, :]
        self._power = (np.exp(priors.SCATTER_TILT)[:, None] * state.s[0]).astype(np.float32)  # (8, m)
        self._ratio = np.ascontiguousarray(state.ratio[0].T)  # (8, m)
        self._kept, self._gained = state.kept[0], state.gained[0]
        self._low = self._ratio[:, self.unders][:, :, None] * self._kept[low, high]
        self._weights = np.ascontiguousarray(optics.BAND_TO_XYZ.T).astype(np.float32)  # (3, 8)
        over = (
            self._ratio[:, self.tops][:, None, :]
            + self._ratio[:, self.unders][:, :, None] * self._gained[low, high]
        )
        uppermost = Coats(over, self._power[:, self.tops][:, None, :])
        inner = state.inner[0, self.tops]
        for coats in range(1, self.most_coats):
            self._top[coats] = self._with_surface(uppermost.of(coats), inner)
        pair = self.spread.pair
        self._offset = np.ascontiguousarray(np.moveaxis(self._offsets(pair[low, high]), -1, 0))  # (3, u, t)
        self._offset[0] -= 16.0
        self._same = low == high
        wanted = list(self.must)
        self._has = np.isin(low, wanted).astype(int) + np.isin(high, wanted).astype(int)
        self._any_offset = bool(len(self.spread.pair_middle))

    @property
    def _state(self) -> State:
        return self.spread.plain

    def _with_surface(self, coat: tuple[FloatArray, FloatArray], inner: FloatArray) -> _Top:
        reflected, passed = coat
        held = 1 - inner * reflected
        passes = (1 - inner) * np.float32(optics.SURFACE_PASSED)
        plain = np.float32(optics.SURFACE_GLINT) + passes * reflected / held
        turn = -(reflected + inner * (passed - reflected * reflected)) / held
        gain = passes * passed / (held * held)
        u, t = reflected.shape[1:]
        shares = (self._weights @ plain.reshape(8, -1)).reshape(3, u, t)
        return _Top(shares, gain, turn, passed.mean(axis=0))

    def _offsets(self, pair: np.ndarray) -> FloatArray:
        known = self.spread.pair_middle if len(self.spread.pair_middle) else np.zeros((1, 3))
        return np.where((pair >= 0)[..., None], known[np.maximum(pair, 0)], 0.0).astype(np.float32)

    def fill(self, asked: Patterns, out: FloatArray) -> int:
        """Colours of all patterns over one prefix into ``out`` (3, patterns, u, t); how many are real layerings.

        L* of what is no layering is `FAR`.
        """
        prefix = asked.prefix
        ratio = self._low.copy()
        if prefix:
            into = self._gained[prefix[-1], self.unders]
            ratio += (self._ratio[:, prefix[-1], None] * into)[:, :, None]
        second = Coats(ratio, self._power[:, self.unders][:, :, None])
        below: dict[tuple[int, ...], FloatArray] = {}
        reached: dict[tuple[int, ...], FloatArray] = {}
        lower = self._lower_offset(prefix[-1]) if prefix and self._any_offset else None
        far = self._not_real(prefix)
        for i, pattern in enumerate(asked.coats):
            beneath = pattern[:-1]
            if beneath not in reached:
                if pattern[:-2] not in below:
                    below[pattern[:-2]] = self._below(prefix, pattern[:-2])
                reached[beneath] = laid(second.of(pattern[-2]), below[pattern[:-2]][:, :, None])
            self._seen(self._top[pattern[-1]], reached[beneath], out[:, i])
            if lower is not None:
                shows = self._top[pattern[-1]].shows
                for channel in range(3):
                    out[channel, i] += shows * lower[channel][:, None]
                if len(prefix) > 1:
                    self._add_deep(out[:, i], prefix, pattern, shows * second.of(pattern[-2])[1].mean(axis=0))
            out[0, i][far] = FAR
        return (far.size - int(np.count_nonzero(far))) * len(asked.coats)

    def _seen(self, top: _Top, below: FloatArray, out: FloatArray) -> None:
        """CIELAB (3, u, t) through the uppermost coat and the surface, offsets of the two uppermost added."""
        through = top.turn * below
        through += 1
        np.divide(below, through, out=through)
        through *= top.gain
        share = (self._weights @ through.reshape(8, -1)).reshape(top.plain.shape)
        share += top.plain
        x, y, z = _lightness_roots(share)
        np.multiply(y, 116, out=out[0])
        np.subtract(x, y, out=x)
        np.multiply(x, 500, out=out[1])
        np.subtract(y, z, out=z)
        np.multiply(z, 200, out=out[2])
        for channel in range(3):
            out[channel] += self._offset[channel]

    def _not_real(self, prefix: tuple[int, ...]) -> np.ndarray:
        far = self._same.copy()
        for material in prefix:
            far[self.unders == material] = True
            far[:, self.tops == material] = True
        if self.must:
            far |= self._has < len(self.must - set(prefix))
        return np.asarray(far)

    def _below(self, prefix: tuple[int, ...], coats: tuple[int, ...]) -> FloatArray:
        """Reflectance under the second layer for each choice of that layer: (8, u)."""
        reached = np.broadcast_to(self.bare[:, None], (8, len(self.unders)))
        for j, material in enumerate(prefix):
            reached = laid(
                Coats(self._prefix_ratio(prefix, j), self._power[:, material, None]).of(coats[j]), reached
            )
        return reached

    def _prefix_ratio(self, prefix: tuple[int, ...], j: int) -> FloatArray:
        above = np.full(len(self.unders), prefix[j + 1]) if j + 1 < len(prefix) else self.unders
        ratio = self._ratio[:, prefix[j], None] * self._kept[prefix[j], above]
        if j:
            ratio = ratio + (self._ratio[:, prefix[j - 1]] * self._gained[prefix[j - 1], prefix[j]])[:, None]
        return np.asarray(ratio)

    def _lower_offset(self, lower: int) -> FloatArray:
        return np.ascontiguousarray(self._offsets(self.spread.pair[lower, self.unders]).T)

    def _add_deep(
        self, colours: FloatArray, prefix: tuple[int, ...], pattern: tuple[int, ...], through: FloatArray
    ) -> None:
        """Offsets of pairs further down, seen through every layer above them."""
        for j in range(len(prefix) - 1, 0, -1):
            pair = int(self.spread.pair[prefix[j - 1], prefix[j]])
            if pair >= 0:
                for channel in range(3):
                    colours[channel] += through * np.float32(self.spread.pair_middle[pair, channel])
            coat = Coats(self._prefix_ratio(prefix, j), self._power[:, prefix[j], None])
            through = through * coat.of(pattern[j])[1].mean(axis=0)[:, None]
