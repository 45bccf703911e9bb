"""How far off predictions are when everything goes through the public files and commands.

``python -m bench.through_files --tiles 100 --studios 3``: an invented studio is written as CSV, brought in with
``swatch import``, asked with ``swatch predict --list``, and its answers held against newly fired tiles.
"""

from __future__ import annotations

import argparse
import contextlib
import csv
import io
import json
import tempfile
import time
from pathlib import Path

import numpy as np

from bench import studios
from bench.accuracy import QUESTIONS
from swatch.__main__ import main as swatch
from swatch.science.colour_math import de00_metric, delta_e_2000
from swatch.science.studio_data import StudioData
from swatch.terms.cone import Cone

KINDS = ("underglaze", "glaze", "clear", "slip", "wash", "")


def table(path: Path, rows: list[dict[str, object]]) -> Path:
    """Write rows as CSV."""
    with path.open("w", newline="", encoding="utf-8") as out:
        writer = csv.DictWriter(out, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return path


def layers_text(material: np.ndarray, coats: np.ndarray) -> str:
    return " > ".join(f"Stuff {m}*{c:g}" for m, c in zip(material, coats, strict=True) if m >= 0)


def cone_text(position: float) -> str:
    return str(Cone(float(position))) if np.isfinite(position) else ""


def known(value: float) -> object:
    return f"{value:.3f}" if np.isfinite(value) else ""


def write_studio(data: StudioData, folder: Path) -> dict[str, Path]:
    """Write a studio's arrays as the tables that `swatch import` takes."""
    materials = [
        {
            "material": f"Stuff {m}",
            "kind": KINDS[data.kind[m]],
            "cone_from": cone_text(data.rated[m, 0]),
            "cone_to": cone_text(data.rated[m, 1]),
            "raw_L": known(data.raw_lab[m, 0]),
            "raw_a": known(data.raw_lab[m, 1]),
            "raw_b": known(data.raw_lab[m, 2]),
        }
        for m in range(len(data.kind))
    ]
    firings = [
        {"firing": f"F{f}", "cone_asked": cone_text(data.firing_cone[f])} for f in range(len(data.firing_cone))
    ]
    cones, metric = data.cones_asked(), de00_metric(data.lab)
    tiles = [
        {
            "tile": f"T{i}",
            "zone": "A",
            "stage": "fired",
            "body": f"Body {data.body[i]}",
            "layers": layers_text(data.material[i], data.coats[i]),
            "firing": f"F{data.firing[i]}" if data.firing[i] >= 0 else "",
            "cone": "" if data.firing[i] >= 0 else cone_text(cones[i]),
            "shelf": str(data.shelf[i]) if data.shelf[i] >= 0 else "",
            "session": str(data.session[i]) if data.session[i] >= 0 else "",
            "L": known(data.lab[i, 0]),
            "a": known(data.lab[i, 1]),
            "b": known(data.lab[i, 2]),
            "u": known(float(np.sqrt(np.trace(metric[i] @ data.covariance[i])))),
        }
        for i in range(len(data.lab))
    ]
    return {
        "materials": table(folder / "materials.csv", materials),
        "firings": table(folder / "firings.csv", firings),
        "tiles": table(folder / "tiles.csv", tiles),
    }


def ask(studio: Path, new: StudioData, folder: Path) -> tuple[list[dict], float]:
    """Answers of ``swatch predict --list`` to new tiles, and the seconds they took."""
    cones = new.cones_asked()
    questions = [
        {
            "layers": layers_text(new.material[i], new.coats[i]),
            "body": f"Body {new.body[i]}",
            "cone": cone_text(cones[i]),
        }
        for i in range(len(new.lab))
    ]
    listed = table(folder / "questions.csv", questions)
    began = time.perf_counter()
    with contextlib.redirect_stdout(io.StringIO()) as out:
        swatch(["predict", "--studio", str(studio), "--list", str(listed), "--json"])
    return json.loads(out.getvalue())["predictions"], time.perf_counter() - began


def run(physics: str, tiles: int, count: int) -> None:
    """Print median, p90, coverage and refusals over `count` studios."""
    found: dict[str, list[tuple[float, float]]] = {question: [] for question in QUESTIONS}
    refused = asked_in_all = 0
    spent = []
    for seed in range(100, 100 + count):
        studio = studios.make_studio(seed, physics, int(np.clip(tiles // 4, 7, 25)), False)
        random = np.random.default_rng([seed, tiles])
        fired = studios.fire(studio, studios.plan_tiles(studio, tiles, random), random)
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place)
            words = [
                part
                for name, path in write_studio(fired.data, folder).items()
                for part in (f"--{name}", str(path))
            ]
            with contextlib.redirect_stdout(io.StringIO()):
                assert swatch(["import", "--studio", str(folder / "studio"), *words]) == 0
            for question in QUESTIONS:
                asked = studios.new_questions(studio, fired.data, 60, random, question)
                if not asked:
                    continue
                new = studios.fire(studio, asked, random, load=4).data
                answers, seconds = ask(folder / "studio", new, folder)
                spent.append(seconds)
                for lab, answer in zip(new.lab, answers, strict=True):
                    asked_in_all += 1
                    if answer["lab"] is None:
                        refused += 1
                        continue
                    off = lab - np.array(answer["lab"])
                    far = off @ np.linalg.solve(np.array(answer["covariance"]), off)
                    found[question].append((float(delta_e_2000(lab, np.array(answer["lab"]))), float(far)))
    for question, pairs in found.items():
        if pairs:
            off, far = np.array(pairs).T
            print(
                f"{physics:5} {tiles:4} tiles {question:13} n {len(off):4}  median {np.median(off):5.2f}  "
                f"p90 {np.quantile(off, 0.9):5.1f}  covers95 {100 * np.mean(far <= 7.815):3.0f} %  "
                f"refused {refused} of {asked_in_all}  first answer {spent[0]:.1f} s",
                flush=True,
            )


if __name__ == "__main__":
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--physics", default="home,other")
    words.add_argument("--tiles", default="100")
    words.add_argument("--studios", type=int, default=3)
    said = words.parse_args()
    for law in said.physics.split(","):
        for number in said.tiles.split(","):
            run(law, int(number), said.studios)
