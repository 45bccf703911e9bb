"""Does a load hold the look? Fresh simulated editions against what the program says of them.

`OPENBLAS_NUM_THREADS=1 python -m bench.holding --editions 300`, or in parts that are added up afterwards:
`--editions 200 --first 0 --keep part0.json`, `--editions 200 --first 200 --keep part1.json`, …,
`--sum part0.json part1.json …`.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from bench.editions import REGIONS, D, Devices, Edition, Fired, Studio, Wrong
from swatch.science.colour_math import de00_metric
from swatch.science.holding import Looks, look_at
from swatch.science.holding_causes import HEAT, LOT, NOTHING, THICKNESS, Lots, causes
from swatch.science.holding_verdict import regions_de00, strays, sure_within, tolerance_supported, verdict_of

TOLERANCE = 3.5


def judged(studio: Studio, loads: list[Fired], wrong: Wrong) -> tuple[bool, Looks, object]:
    """Whether the last of some loads raises an alarm, alone or with the others."""
    opens = studio.devices.lots and wrong.opens_lot
    single = studio.joint(loads[-1:])
    part = 1.0 if len(loads) == 1 else 0.5
    found = look_at(single, len(studio.heats), opens and len(loads) == 1, part)
    alarm = bool(found.alarms)
    if len(loads) > 1:
        alarm |= bool(look_at(studio.joint(loads), len(studio.heats), opens, part).alarms)
    return alarm, found, single


def alarms(make: Callable[[int], Studio], wrong: Wrong, editions: range, loads: int = 1) -> int:
    """How often the last of `loads` loads with something wrong raises an alarm."""
    hits = 0
    for i in editions:
        studio = make(i)
        fired = [studio.edition.fire(6, wrong) for _ in range(loads)]
        hits += judged(studio, fired, wrong)[0]
    return hits


MIX = (
    (HEAT, Wrong(heat=0.75)), (HEAT, Wrong(heat=-0.75)), (HEAT, Wrong(heat=1.0)), (HEAT, Wrong(heat=-1.0)),
    (LOT, Wrong(lot=3.0, opens_lot=True)), (LOT, Wrong(lot=3.0, opens_lot=True)), (LOT, Wrong(lot=4.0)),
    (THICKNESS, Wrong(thickness=0.45)),
)  # fmt: skip


def naming(make: Callable[[int], Studio], editions: range) -> list[tuple[float, bool]]:
    """Of each alarm, the share of the first-named cause and whether it was right."""
    said: list[tuple[float, bool]] = []
    for i in editions:
        cause, wrong = MIX[i % len(MIX)]
        studio = make(i)
        alarm, _, joint = judged(studio, [studio.edition.fire(6, wrong)], wrong)
        if not alarm:
            continue
        lots = Lots(studio.devices.lots, wrong.opens_lot)
        named = [one for one in causes(joint, lots) if one.code != NOTHING]  # type: ignore[arg-type]
        total = sum(one.share for one in named)
        said.append((named[0].share / total, named[0].code == cause))
    return said


def calibration(said: Sequence[tuple[float, bool]]) -> dict[str, float]:
    """How often the first-named cause is right, and how far stated shares are from what held."""
    shares, right = np.array([s for s, _ in said]), np.array([r for _, r in said])
    plain = shares >= 0.7
    worst = 0.0
    for low, high in ((0.3, 0.6), (0.6, 0.8), (0.8, 0.95), (0.95, 1.001)):
        inside = (shares >= low) & (shares < high)
        if inside.sum() >= 15:
            worst = max(worst, abs(float(shares[inside].mean() - right[inside].mean())))
    return {
        "alarms": len(said), "first named right": float(right.mean()), "said plainly": float(plain.mean()),
        "right when said with 0.7": float(right[plain].mean()), "worst calibration": worst,
        "mean share": float(shares.mean()),
    }  # fmt: skip


def wrong_holds(make: Callable[[int], Studio], editions: range) -> tuple[int, int]:
    """How often "holds" is said where a region is 1.33 times the tolerance off, and where nothing is wrong."""
    false, true = 0, 0
    for i in editions:
        studio = make(i)
        metric = de00_metric(studio.edition.colour)
        r = studio.edition.random
        way = r.standard_normal(D)
        way *= 1.33 * TOLERANCE / regions_de00(way, metric).max()
        for off in (way, np.zeros(D)):
            load = studio.edition.fire(6)
            load.pieces = load.pieces + off - load.true_shift
            joint = studio.joint([load])
            found = look_at(joint, len(studio.heats))
            sure = sure_within(joint, metric, TOLERANCE)
            says = verdict_of(joint, found, sure, tolerance_supported(joint, metric), TOLERANCE)
            if off is way:
                false += says == "holds"
            else:
                true += says == "holds"
    return false, true


def strays_of_good_loads(make: Callable[[int], Studio], editions: range) -> int:
    """How many good loads have a piece called a stray."""
    hits = 0
    for i in editions:
        studio = make(i)
        load = studio.edition.fire(6)
        hits += bool(strays(studio.joint([load]), load.pieces, studio.mean, 0.36).off.any())
    return hits


LOOKED_AT: tuple[tuple[str, Wrong, int, float], ...] = (
    ("false alarms", Wrong(), 1, 0.12),
    ("false alarms at kiln sd 0.35", Wrong(), 1, 0.35),
    ("false alarms by the fourth load", Wrong(), 4, 0.12),
    ("1/2 cone found", Wrong(heat=0.5), 1, 0.12),
    ("3/4 cone found", Wrong(heat=0.75), 1, 0.12),
    ("1 cone found", Wrong(heat=1.0), 1, 0.12),
    ("1/2 cone by the fourth load", Wrong(heat=0.5), 4, 0.12),
    ("lot of 3, recorded", Wrong(lot=3.0, opens_lot=True), 1, 0.12),
    ("lot of 3, not recorded", Wrong(lot=3.0), 1, 0.12),
    ("camera fault of 5 alarms", Wrong(camera=5.0), 1, 0.12),
)
"""What is asked, what is wrong in each load, how many loads, and how far the kiln strays."""
BLOCK = 10**5
"""Editions of one question are numbered apart from those of the next."""


def measured(devices: Devices, first: int, editions: int, seed: int) -> dict[str, Any]:
    """Hits of each question, and the shares of named causes, of editions `first` to `first + editions`."""
    found: dict[str, Any] = {"editions": editions, "devices": str(devices)}

    def block(k: int, n: int = editions, at: int = first) -> range:
        return range(seed + k * BLOCK + at, seed + k * BLOCK + at + n)

    def make(number: int, kiln: float = 0.12) -> Studio:
        return Studio(Edition(number, kiln), devices)

    for k, (name, wrong, loads, kiln) in enumerate(LOOKED_AT):
        found[name] = alarms(lambda i, kiln=kiln: make(i, kiln), wrong, block(k), loads)  # type: ignore[misc]
    k = len(LOOKED_AT)
    found["holds said at 1.33 tolerance"], found["holds said of good loads"] = wrong_holds(make, block(k))
    found["good loads with a stray"] = strays_of_good_loads(make, block(k + 1))
    found["named"] = naming(make, block(k + 2, 2 * editions, 2 * first))
    return found


def added(parts: Iterable[dict[str, Any]]) -> dict[str, Any]:
    """Parts of one run together."""
    out: dict[str, Any] = {}
    for part in parts:
        for name, value in part.items():
            if name == "devices":
                if out.setdefault(name, value) != value:
                    raise ValueError("the parts are of other devices")
            else:
                out[name] = out[name] + value if name in out else value
    return out


def main() -> None:
    """Print all figures."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--editions", type=int, default=300)
    words.add_argument("--first", type=int, default=0, help="number of the first edition")
    words.add_argument("--seed", type=int, default=1000)
    words.add_argument("--devices", default="kbl", help="k kept piece, b buttons, l lots; '-' for none")
    words.add_argument("--keep", type=Path, help="write what was counted there instead of printing it")
    words.add_argument("--sum", type=Path, nargs="+", help="print these together instead")
    said = words.parse_args()
    if said.sum:
        found = added(json.loads(path.read_text()) for path in said.sum)
    else:
        devices = Devices("k" in said.devices, "b" in said.devices, "l" in said.devices)
        found = measured(devices, said.first, said.editions, said.seed)
    if said.keep:
        said.keep.write_text(json.dumps(found))
        return
    n = found["editions"]
    print(f"{n} editions each, {REGIONS} regions, {found['devices']}")
    for name, value in found.items():
        if name not in ("editions", "devices", "named"):
            print(f"{name}: {value / n:.3f}")
    print({name: round(value, 3) for name, value in calibration(found["named"]).items()})


if __name__ == "__main__":
    main()
