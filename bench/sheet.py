"""The photo sheet printed, laid with tiles and photographed at random poses: `python -m bench.sheet --help`."""

from __future__ import annotations

import argparse
import functools
import time
from dataclasses import dataclass

import cv2
import numpy as np
import pypdfium2

from swatch.formats.keyword_text import read_card
from swatch.resources import resource
from swatch.science.colour_math import lab_to_srgb, srgb_decode, srgb_encode, xyz_to_lab
from swatch.science.icc import curve_of_srgb
from swatch.science.locate import project
from swatch.science.picture import Picture
from swatch.science.sheet_reading import SheetFound, zones_from_sheet
from swatch.science.tile_outlines import SPLIT_PART, WHOLE_PART, zone_outlines
from swatch.terms.sheet import Paper, SheetLayout, Size, Split
from swatch.wording.sheet import sheet_words
from swatch.work.sheet import SheetRequest, make_sheet

PER_MM = 6
COLOURS = (
    (84, 3, 6),
    (92, 0, 4),
    (45, 40, 25),
    (25, 5, -20),
    (60, -30, 20),
    (12, 0, 0),
    (70, 15, 55),
    (55, 0, -2),
)
SRGB_TO_XYZ = np.array(
    [[0.4360747, 0.3850649, 0.1430804], [0.2225045, 0.7168786, 0.0606169], [0.0139322, 0.0971045, 0.7141733]]
)
"""Linear sRGB to XYZ under D50, by the Bradford transform (published tables, from memory)."""


@dataclass
class Shot:
    """A photo of a sheet and what is true of it; outlines are in mm on the sheet as designed."""

    pixels: np.ndarray
    layout: SheetLayout
    to_photo: np.ndarray
    outlines: dict[int, np.ndarray]
    colours: dict[int, list[np.ndarray]]


@functools.cache
def printed_sheet(paper: Paper, split: Split = Split.WHOLE, tile: Size | None = None, tiles: int | None = None):
    """The sheet's first page rendered, linear light (h, w, 3), and its layout."""
    made = make_sheet(SheetRequest(sheet_words(split), paper, tiles, tile, split=split, firing="Third of May"))
    page = pypdfium2.PdfDocument(made.pdf)[0]
    image = page.render(scale=PER_MM * 25.4 / 72).to_numpy()[:, :, ::-1]
    return srgb_decode(image[..., :3] / 255.0).astype(np.float32) * 0.86, made.layouts[0]


def _rectangle(centre, size, turn):
    half = np.array(size) / 2
    corners = half * [[-1, -1], [1, -1], [1, 1], [-1, 1]]
    c, s = np.cos(turn), np.sin(turn)
    return corners @ np.array([[c, s], [-s, c]]) + centre


def _window(image, corners, spare=0):
    """The part of the sheet round some corners (px), and where it begins."""
    low = np.maximum(np.floor(corners.min(axis=0)).astype(int) - spare - 1, 0)
    high = np.ceil(corners.max(axis=0)).astype(int) + spare + 2
    return image[low[1] : high[1], low[0] : high[0]], low


def _mask(window, corners):
    mask = np.zeros(window.shape[:2], np.uint8)
    cv2.fillPoly(mask, [np.round(corners * 16).astype(np.int32)], 255, cv2.LINE_AA, shift=4)
    return mask


def _fill(image, corners_mm, colour):
    window, low = _window(image, corners_mm * PER_MM)
    share = _mask(window, corners_mm * PER_MM - low)[..., None] / np.float32(255)
    window[:] = window * (1 - share) + np.asarray(colour, np.float32) * share


def _shade(image, corners_mm, by, away):
    corners = (corners_mm + away) * PER_MM
    window, low = _window(image, corners, 3 * PER_MM)
    window *= 1 - np.float32(by) * (
        cv2.GaussianBlur(_mask(window, corners - low), (0, 0), 0.8 * PER_MM)[..., None] / np.float32(255)
    )


def linear(lab):
    """Linear RGB of a CIELAB colour, as near as the screen's primaries allow."""
    return srgb_decode(np.clip(lab_to_srgb(np.asarray(lab, float))[0], 0, 1))


def lab_of(rgb):
    """CIELAB of linear RGB."""
    return xyz_to_lab(np.asarray(rgb) @ SRGB_TO_XYZ.T)


def lay_tiles(image, layout: SheetLayout, random, print_scale: float, empty: float, glare: float):
    """Lay tiles into most slots: a little askew, shaded, some with glare, some nearly white."""
    outlines, colours = {}, {}
    light_from = random.uniform(0, 2 * np.pi)
    for slot in layout.slots:
        if random.random() < empty:
            continue
        size = np.array([slot.box.wide, slot.box.high]) * random.uniform(0.98, 1.015) / print_scale
        corners = _rectangle(
            np.array(slot.box.centre) + random.uniform(-1.2, 1.2, 2), size, np.radians(random.uniform(-1, 1))
        )
        _shade(image, corners, random.uniform(0.1, 0.5), 2.5 * np.array([np.cos(light_from), np.sin(light_from)]))
        split = layout.code.split
        chosen = [
            linear(np.array(COLOURS[random.integers(len(COLOURS))], float) + random.normal(0, 2, 3))
            for _ in zone_outlines(corners, split)
        ]
        _fill(image, corners, linear(COLOURS[random.integers(len(COLOURS))]))
        outlines[slot.number], colours[slot.number] = corners, chosen
        rows, columns = {1: (1, 1), 3: (3, 1), 4: (2, 2), 9: (3, 3)}[len(chosen)]
        for k, colour in enumerate(chosen):
            row, column = divmod(k, columns)
            grid = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], float) + np.array([column, row])
            u, v = (corners[1] - corners[0]) / columns, (corners[3] - corners[0]) / rows
            _fill(image, corners[0] + grid[:, :1] * u + grid[:, 1:] * v, colour)
        if random.random() < glare:
            at = corners.mean(axis=0) + random.uniform(-0.3, 0.3, 2) * size
            window, low = _window(image, corners * PER_MM)
            spot = np.zeros(window.shape[:2], np.uint8)
            middle = np.round(at * PER_MM - low).astype(int).tolist()
            cv2.ellipse(spot, middle, (4 * PER_MM, 9 * PER_MM), random.uniform(0, 180), 0, 360, 255, -1)
            soft = cv2.GaussianBlur(spot, (0, 0), PER_MM) * (_mask(window, corners * PER_MM - low) // 255)
            window += np.float32(0.7 / 255) * soft[..., None]
    return outlines, colours


def turn_tiles(image, outlines: dict[int, np.ndarray], random):
    """Show the tiles of some slots from behind: one bare clay, a number of 10 mm pencilled on each."""
    clay = np.array((72, 4, 14), float)
    for slot, corners in outlines.items():
        _fill(image, corners, linear(clay + random.normal(0, 0.6, 3)))
        window, low = _window(image, corners * PER_MM)
        marks = np.zeros(window.shape[:2], np.uint8)
        text, font, scale = number_on(slot), cv2.FONT_HERSHEY_SIMPLEX, 10 * PER_MM / 22
        (wide, high), _ = cv2.getTextSize(text, font, scale, 6)
        middle = corners.mean(axis=0) * PER_MM - low
        at = np.round([middle[0] - wide / 2, middle[1] + high / 2]).astype(int).tolist()
        cv2.putText(marks, text, at, font, scale, 255, 6, cv2.LINE_AA)
        window *= 1 - np.float32(0.7 / 255) * marks[..., None]


def number_on(slot: int) -> str:
    """What is pencilled on the back of the tile in a slot."""
    return str(100 + 37 * slot)


def lay_card(image, layout: SheetLayout, random):
    """Lay the 24-patch chart into the card's place, turned as the place is."""
    card = read_card(resource("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    box = layout.card
    turned = box.high > box.wide
    long, short = max(box.wide, box.high) - 8, min(box.wide, box.high) - 8
    turn = (np.pi / 2 if turned else 0.0) + np.radians(random.uniform(-2, 2))
    frame = _rectangle(np.array(box.centre), (long, short), turn)
    _fill(image, frame, (0.02, 0.02, 0.02))
    u, v = (frame[1] - frame[0]) / 6.4, (frame[3] - frame[0]) / 4.4
    for k, lab in enumerate(card.lab):
        row, column = divmod(k, 6)
        square = np.array([[0.07, 0.07], [0.93, 0.07], [0.93, 0.93], [0.07, 0.93]])
        square += np.array([column + 0.2, row + 0.2])
        _fill(image, frame[0] + square[:, :1] * u + square[:, 1:] * v, linear(lab))


def pose(random, page, size, tilt_degrees: float):
    """A camera above the sheet, turned and tilted: mm on the sheet to pixels."""
    wide, high = size
    turn = random.uniform(0, 2 * np.pi)
    tilt, tilt_to = np.radians(random.uniform(0, tilt_degrees)), random.uniform(0, 2 * np.pi)

    def about_z(a):
        return np.array([[np.cos(a), -np.sin(a), 0], [np.sin(a), np.cos(a), 0], [0, 0, 1.0]])

    about_x = np.array([[1, 0, 0], [0, np.cos(tilt), -np.sin(tilt)], [0, np.sin(tilt), np.cos(tilt)]])
    rotation = about_z(tilt_to) @ about_x @ about_z(turn - tilt_to)
    focal = 0.85 * wide
    centred = np.array([[1, 0, -page.wide / 2], [0, 1, -page.high / 2], [0, 0, 1.0]])
    corners = np.array([[0, 0], [page.wide, 0], [page.wide, page.high], [0, page.high]], float)
    camera = np.array([[focal, 0, wide / 2], [0, focal, high / 2], [0, 0, 1.0]])
    for distance in np.geomspace(200, 3000, 150):
        plane = np.column_stack([rotation[:, 0], rotation[:, 1], [0, 0, distance]])
        matrix = camera @ plane @ centred
        seen = project(matrix, corners)
        inside = (seen > 6).all() and (seen < np.array([wide, high]) - 6).all()
        if inside:
            return matrix / matrix[2, 2]
    raise AssertionError("the sheet fits from somewhere")


def photograph(
    seed: int,
    paper: Paper = Paper.A3,
    *,
    split: Split = Split.WHOLE,
    size=(2400, 1800),
    tilt=15.0,
    hidden: int | None = None,
    print_scale=1.0,
    empty=0.15,
    glare=0.3,
    tile: Size | None = None,
    backs: bool = False,
) -> Shot:
    """One photo of one sheet with tiles, from its seed; `backs`: the same tiles turned, from another pose."""
    random = np.random.default_rng(seed)
    image, layout = printed_sheet(paper, split, tile)
    image = image.copy()
    lay_card(image, layout, random)
    outlines, colours = lay_tiles(image, layout, random, print_scale, empty, glare)
    if backs:
        random = np.random.default_rng([seed, 1])
        turn_tiles(image, outlines, random)
    if hidden is not None:
        x, y = layout.markers[hidden].centre
        across = _rectangle(np.array([x, y]) + random.uniform(-3, 3, 2), (26, 24), random.uniform(0, 3))
        _fill(image, across, linear((55, 15, 18)))
    matrix = pose(random, layout.page, size, tilt)
    wide, high = size
    to_render = np.array([[1 / PER_MM, 0, 0.5 / PER_MM], [0, 1 / PER_MM, 0.5 / PER_MM], [0, 0, 1]])
    table = np.asarray(linear((48, 12, 22)), np.float32) * random.uniform(0.5, 1.3)
    grain = cv2.resize(
        random.normal(0, 0.12, (high // 40, 6)).astype(np.float32), size, interpolation=cv2.INTER_CUBIC
    )
    photo = (table * (1 + grain[..., None])).astype(np.float32)
    sheet = np.dstack([image, np.ones(image.shape[:2], np.float32)])
    seen = cv2.warpPerspective(sheet, matrix @ to_render, size)
    photo = photo * (1 - seen[..., 3:]) + seen[..., :3]
    across, down = np.meshgrid(
        np.linspace(-1, 1, wide, dtype=np.float32), np.linspace(-1, 1, high, dtype=np.float32)
    )
    gx, gy, g2 = random.uniform(-0.2, 0.2), random.uniform(-0.2, 0.2), random.uniform(0, 0.15)
    light = np.exp(gx * across + gy * down - g2 * (across**2 + down**2))
    photo = photo * (light[..., None] * np.array(random.uniform(0.85, 1.05, 3))).astype(np.float32)
    photo = cv2.GaussianBlur(photo, (0, 0), random.uniform(0.4, 1.3))
    noise = random.standard_normal(photo.shape, np.float32) * np.float32(random.uniform(0.5, 3))
    coded = (255 * srgb_encode(np.linspace(0, 1, 4096))).astype(np.float32)
    levels = coded[(np.clip(photo, 0, 1) * 4095).astype(np.uint16)] + noise
    levels = np.clip(np.round(levels), 0, 255).astype(np.uint8)
    _, jpeg = cv2.imencode(".jpg", levels[:, :, ::-1], [cv2.IMWRITE_JPEG_QUALITY, int(random.integers(82, 96))])
    pixels = cv2.imdecode(jpeg, cv2.IMREAD_COLOR)[:, :, ::-1]
    return Shot(np.ascontiguousarray(pixels), layout, matrix, outlines, colours)


def picture_of(shot: Shot) -> Picture:
    """The shot as it comes from the decoder."""
    return Picture("shot.jpg", shot.pixels, curve_of_srgb(256))


def wrong(shot: Shot, found: SheetFound | None) -> list[str]:
    """What is not right in what was found; empty where every slot is."""
    if found is None:
        return ["no sheet"]
    if found.place.layout != shot.layout:
        return ["another sheet"]
    said = []
    wanted = {
        f"{number}{name}"
        for number, outline in shot.outlines.items()
        for name, _ in zone_outlines(outline, shot.layout.code.split)
    }
    zones = {zone.zone: np.array(zone.polygon) for zone in found.zones}
    if set(zones) != wanted:
        said.append(f"zones {sorted(set(zones) ^ wanted)}")
    for tile in found.tiles:
        truth = shot.outlines.get(tile.slot.number)
        if truth is None or tile.outline is None:
            continue
        share, _ = cv2.intersectConvexConvex(truth.astype(np.float32), tile.outline.astype(np.float32))
        areas = cv2.contourArea(truth.astype(np.float32)) + cv2.contourArea(tile.outline.astype(np.float32))
        overlap = share / (areas - share)
        if overlap < 0.9:
            said.append(f"slot {tile.slot.number} overlaps {overlap:.2f}, seen {tile.seen}")
        for name, corners in zone_outlines(truth, shot.layout.code.split):
            zone = zones.get(f"{tile.slot.number}{name}")
            grown = corners.mean(axis=0) + (corners - corners.mean(axis=0)) / (
                WHOLE_PART if shot.layout.code.split is Split.WHOLE else SPLIT_PART
            )
            outline = project(shot.to_photo, grown).astype(np.float32)
            if zone is not None and any(cv2.pointPolygonTest(outline, p.tolist(), False) < 0 for p in zone):
                said.append(f"zone {tile.slot.number}{name} leaves its part")
    return said


def main() -> None:
    """Photograph and find; print what went wrong and the share that was right."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--poses", type=int, default=40)
    words.add_argument("--first", type=int, default=0)
    given = words.parse_args()
    right, spent = 0, []
    for seed in range(given.first, given.first + given.poses):
        random = np.random.default_rng([seed, 1])
        shot = photograph(
            seed,
            (Paper.A3, Paper.A4, Paper.LETTER)[seed % 3],
            split=list(Split)[(seed // 3) % 4],
            hidden=int(random.integers(4)) if seed % 2 else None,
            print_scale=0.97 if seed % 5 == 0 else 1.0,
        )
        picture = picture_of(shot)
        began = time.perf_counter()
        found = zones_from_sheet(picture)
        spent.append(time.perf_counter() - began)
        said = wrong(shot, found)
        right += not said
        if said:
            print(f"pose {seed}: {'; '.join(said)}", flush=True)
    print(f"every slot right: {right} of {given.poses}; {np.median(spent):.2f} s each")


if __name__ == "__main__":
    main()
