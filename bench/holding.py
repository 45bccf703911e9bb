"""Does a load hold the look? Fresh simulated editions against what the program says of them.

`OPENBLAS_NUM_THREADS=1 python -m bench.holding --editions 300`
"""

from __future__ import annotations

import argparse
from collections.abc import Callable

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


def share(make: Callable[[int], Studio], wrong: Wrong, editions: int, seed: int, loads: int = 1) -> float:
    """How often the last of `loads` loads with something wrong raises an alarm."""
    hits = 0
    for i in range(editions):
        studio = make(seed + i)
        fired = [studio.edition.fire(6, wrong) for _ in range(loads)]
        hits += judged(studio, fired, wrong)[0]
    return hits / editions


MIX = (
    (HEAT, Wrong(heat=0.75)), (HEAT, Wrong(heat=-0.75)), (HEAT, Wrong(heat=1.0)), (HEAT, Wrong(heat=-1.0)),
    (LOT, Wrong(lot=3.0, opens_lot=True)), (LOT, Wrong(lot=3.0, opens_lot=True)), (LOT, Wrong(lot=4.0)),
    (THICKNESS, Wrong(thickness=0.45)),
)  # fmt: skip


def naming(make: Callable[[int], Studio], editions: int, seed: int) -> dict[str, float]:
    """How often the first-named cause of an alarm is right, and how well the shares are calibrated."""
    said: list[tuple[float, bool]] = []
    for i in range(editions):
        cause, wrong = MIX[i % len(MIX)]
        studio = make(seed + i)
        alarm, _, joint = judged(studio, [studio.edition.fire(6, wrong)], wrong)
        if not alarm:
            continue
        lots = Lots(studio.devices.lots, wrong.opens_lot)
        named = [one for one in causes(joint, lots) if one.code != NOTHING]  # type: ignore[arg-type]
        total = sum(one.share for one in named)
        said.append((named[0].share / total, named[0].code == cause))
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


def wrong_holds(make: Callable[[int], Studio], editions: int, seed: int) -> tuple[float, float]:
    """How often "holds" is said where a region is 1.33 times the tolerance off, and where nothing is wrong."""
    false, true = 0, 0
    for i in range(editions):
        studio = make(seed + i)
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
    return false / editions, true / editions


def strays_of_good_loads(make: Callable[[int], Studio], editions: int, seed: int) -> float:
    """How many good loads have a piece called a stray."""
    hits = 0
    for i in range(editions):
        studio = make(seed + i)
        load = studio.edition.fire(6)
        hits += bool(strays(studio.joint([load]), load.pieces, studio.mean, 0.36).off.any())
    return hits / editions


def main() -> None:
    """Print all figures."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--editions", type=int, default=300)
    words.add_argument("--seed", type=int, default=1000)
    words.add_argument("--devices", default="kbl", help="k kept piece, b buttons, l lots; '-' for none")
    said = words.parse_args()
    n, seed = said.editions, said.seed
    devices = Devices("k" in said.devices, "b" in said.devices, "l" in said.devices)

    def make(number: int, kiln: float = 0.12) -> Studio:
        return Studio(Edition(number, kiln), devices)

    print(f"{n} editions each, {REGIONS} regions, devices {devices}")
    print(f"false alarms {share(make, Wrong(), n, seed):.3f}; "
          f"at kiln sd 0.35 {share(lambda i: make(i, 0.35), Wrong(), n, seed + 10**5):.3f}; "
          f"by the fourth load {share(make, Wrong(), n, seed + 2 * 10**5, 4):.3f}")  # fmt: skip
    for cones in (0.5, 0.75, 1.0):
        print(f"{cones} cone found {share(make, Wrong(heat=cones), n, seed + 3 * 10**5):.3f}")
    print(f"0.5 cone by the fourth load {share(make, Wrong(heat=0.5), n, seed + 4 * 10**5, 4):.3f}")
    print(f"lot of 3, recorded {share(make, Wrong(lot=3.0, opens_lot=True), n, seed + 5 * 10**5):.3f}, "
          f"not recorded {share(make, Wrong(lot=3.0), n, seed + 5 * 10**5):.3f}")  # fmt: skip
    print(f"camera fault of 5 alarms {share(make, Wrong(camera=5.0), n, seed + 6 * 10**5):.3f}")
    print(f"false holds at 1.33 tolerance, true holds: {wrong_holds(make, n, seed + 7 * 10**5)}")
    print(f"good loads with a stray {strays_of_good_loads(make, n, seed + 8 * 10**5):.3f}")
    print({name: round(value, 3) for name, value in naming(make, 2 * n, seed + 9 * 10**5).items()})


if __name__ == "__main__":
    main()
