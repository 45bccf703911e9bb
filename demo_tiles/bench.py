"""The bench under the lamp: a flat scene in millimetres, painted in sensor RGB of the light that falls on it."""

from __future__ import annotations

import cv2
import numpy as np

from demo_tiles.camera import SIZE, Light, sensor_weights
from demo_tiles.spectra import FloatArray, edge, flat, tail

PX = 5.5
"""Pixels of the scene per millimetre."""
SCENE = (560.0, 420.0)
SHEET = (70.0, 61.0, 490.0, 358.0)
"""Left, top, right, bottom of the white paper in the scene, mm."""

PAPER = 0.885 - tail(25, 0.05)
TABLE = 0.03 + 0.16 * (1 - edge(600, 60))
GRAPHITE = flat(0.30)


def smooth_noise(rng: np.random.Generator, shape: tuple[int, int], sigma: tuple[float, float]) -> FloatArray:
    """Noise of standard deviation 1, smooth over `sigma` (x, y) pixels."""
    # Drawn coarse and enlarged where it is smooth: the same look for a fraction of the work.
    step = max(1, int(min(sigma) / 2.5))
    small = (shape[0] // step + 3, shape[1] // step + 3)
    noise = rng.standard_normal(small).astype(np.float32)
    noise = cv2.GaussianBlur(noise, (0, 0), sigma[0] / step, sigmaY=sigma[1] / step, borderType=cv2.BORDER_REFLECT)
    noise /= noise.std() + 1e-9
    return cv2.resize(noise, (small[1] * step, small[0] * step), interpolation=cv2.INTER_CUBIC)[
        : shape[0], : shape[1]
    ]


class Bench:
    """A scene being laid out: what each spot reflects, how much light reaches it, and what mirrors the lamp."""

    def __init__(self, light: Light, rng: np.random.Generator) -> None:
        self.light, self.rng = light, rng
        self.weights = sensor_weights(light)
        self.shape = (round(SCENE[1] * PX), round(SCENE[0] * PX))
        self.colour = np.empty((*self.shape, 3), np.float32)
        self.lit = np.ones(self.shape, np.float32)
        self.mirror = np.zeros(self.shape, np.float32)
        grain = smooth_noise(rng, self.shape, (60.0, 2.0)) + 0.6 * smooth_noise(rng, self.shape, (200.0, 6.0))
        self.colour[:] = (TABLE @ self.weights)[None, None] * np.exp(0.13 * grain)[..., None]
        self._lay_sheet()

    def _lay_sheet(self) -> None:
        corners = np.array([SHEET[:2], (SHEET[2], SHEET[1]), SHEET[2:], (SHEET[0], SHEET[3])]) * PX
        sheet = np.zeros(self.shape, np.float32)
        cv2.fillConvexPoly(sheet, np.rint(corners).astype(np.int32), 1.0, lineType=cv2.LINE_AA)
        shadow = cv2.GaussianBlur(np.roll(sheet, (4, 4), (0, 1)), (0, 0), 5.0)
        self.lit *= 1 - 0.35 * shadow * (1 - sheet)
        fibre = 1 + 0.004 * smooth_noise(self.rng, self.shape, (3.0, 3.0))
        paper = (PAPER @ self.weights)[None, None] * fibre[..., None]
        self.colour += sheet[..., None] * (paper - self.colour)

    def place(self, local: tuple[int, int], centre: tuple[float, float], turn_deg: float) -> FloatArray:
        """(2, 3) matrix from a thing's own pixels (width, height `local`) to the scene's."""
        matrix = cv2.getRotationMatrix2D((local[0] / 2, local[1] / 2), turn_deg, 1.0)
        matrix[:, 2] += np.array(centre) * PX - np.array(local) / 2
        return matrix

    def lay(
        self, colour: FloatArray, mask: FloatArray, matrix: FloatArray, *, lift_mm: float = 0.0,
        shade: FloatArray | None = None, mirror: FloatArray | None = None,
    ) -> None:  # fmt: skip
        """Lay a thing drawn in its own pixels (colour (h, w, 3), mask (h, w)) on the bench."""
        height, width = mask.shape
        ends = np.array([[0, 0, 1], [width, 0, 1], [width, height, 1], [0, height, 1]]) @ matrix.T
        reach = 3.0 * lift_mm * PX + 4
        (x0, y0), (x1, y1) = np.floor(ends.min(axis=0) - reach), np.ceil(ends.max(axis=0) + reach)
        x0, y0 = max(int(x0), 0), max(int(y0), 0)
        window = (slice(y0, min(int(y1), self.shape[0])), slice(x0, min(int(x1), self.shape[1])))
        lit, under = self.lit[window], self.colour[window]
        size = lit.shape[::-1]
        matrix = matrix - np.array([[0, 0, x0], [0, 0, y0]])

        def over(image: FloatArray) -> FloatArray:
            return cv2.warpAffine(image.astype(np.float32), matrix, size, flags=cv2.INTER_LINEAR)

        cover = over(mask)
        if lift_mm:
            away = np.array(self.light.place[:2]) / -self.light.place[2] * lift_mm * PX
            shifted = cv2.warpAffine(cover, np.array([[1, 0, away[0]], [0, 1, away[1]]]), size)
            fallen = cv2.GaussianBlur(shifted, (0, 0), 0.32 * lift_mm * PX)
            near = cv2.GaussianBlur(cover, (0, 0), 0.55 * lift_mm * PX)
            lit *= 1 - (1 - cover) * (0.55 * fallen + 0.10 * near)
        lit += cover * ((over(shade) if shade is not None else 1.0) - lit)
        under += cover[..., None] * (over(colour) - under)
        if mirror is not None:
            self.mirror[window] += over(mirror)

    def write(self, text: str, at: tuple[float, float]) -> None:
        """Pencil a few letters on the paper, left end at `at` (mm)."""
        ink = np.zeros((30, 26 * len(text)), np.uint8)
        cv2.putText(ink, text, (2, 22), cv2.FONT_HERSHEY_SIMPLEX, 0.62, 255, 2, cv2.LINE_AA)
        x, y = round(at[0] * PX) - 2, round(at[1] * PX) - 22
        paper = self.colour[y : y + ink.shape[0], x : x + ink.shape[1]]
        share = 0.75 * (ink.astype(np.float32) / 255)[..., None]
        paper += share * ((GRAPHITE @ self.weights) - paper)

    def light_map(self) -> FloatArray:
        """(h, w, 3) light on the bench: the lamp by distance and slant, and the room's."""
        y, x = np.mgrid[: self.shape[0], : self.shape[1]].astype(np.float32)
        px, py, pz = self.light.place
        across = (x / PX - SCENE[0] / 2 - px) ** 2 + (y / PX - SCENE[1] / 2 - py) ** 2
        lamp = ((px**2 + py**2 + pz**2) / (across + pz**2)) ** 1.5
        room = self.light.room * (1 + 0.10 * (x / PX / SCENE[0] - 0.5))
        return (lamp * (1 - self.light.room) * self.lit)[..., None] + (room * self.lit**0.4)[..., None] * np.array(
            self.light.room_tint, np.float32
        )

    def shoot(self, tilt_deg: float) -> tuple[FloatArray, FloatArray]:
        """The sensor image (h, w, 3), paper near 0.8, and the (3, 3) map from scene mm to photo pixels."""
        scene = self.colour * self.light_map() + self.mirror[..., None] * np.array(
            self.light.white_balance, np.float32
        )
        width, height = SIZE
        view = np.array([[-240, -180], [240, -180], [240, 180], [-240, 180]], float)
        turn = np.radians(tilt_deg)
        view = view @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
        view = view * (1 + self.rng.uniform(-0.022, 0.022, view.shape)) + self.rng.uniform(-4, 4, 2)
        view = (view + np.array(SCENE) / 2).astype(np.float32)
        frame = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
        to_photo = cv2.getPerspectiveTransform(view, frame)
        from_scene = to_photo @ np.diag([1 / PX, 1 / PX, 1.0])
        raw = cv2.warpPerspective(scene, from_scene, SIZE, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        raw = cv2.GaussianBlur(raw, (0, 0), 0.75)
        y, x = np.mgrid[:height, :width].astype(np.float32)
        radius = ((x - width / 2) ** 2 + (y - height / 2) ** 2) / (width**2 + height**2) * 4
        raw *= (1 - 0.13 * radius + 0.03 * radius**2)[..., None]
        paper = self._paper_peak(raw, to_photo)
        return raw * (0.80 / paper), to_photo

    def _paper_peak(self, raw: FloatArray, to_photo: FloatArray) -> float:
        corners = np.array([[SHEET[:2], (SHEET[2], SHEET[1]), SHEET[2:], (SHEET[0], SHEET[3])]])
        mask = np.zeros(raw.shape[:2], np.uint8)
        cv2.fillConvexPoly(mask, np.rint(cv2.perspectiveTransform(corners, to_photo)[0]).astype(np.int32), 1)
        values = raw[..., 1][mask > 0]
        return float(np.percentile(values[values < np.percentile(values, 97)], 99))
