"""What the studio's tiles have taught: fitted once for the same evidence, kept in the studio's cache."""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, TypeVar

import numpy as np

from swatch import __version__
from swatch.formats.arrays import pack, unpack
from swatch.library.studio import Studio
from swatch.science.setting_up import usable
from swatch.science.shifts import LEARNING_FORM, StudioFit, fit_studio, refit
from swatch.science.studio_data import FIRED, StudioData
from swatch.terms.editions import Weighing
from swatch.terms.evidence import Evidence
from swatch.terms.problems.learning import nothing_fired
from swatch.terms.report import Report, silent
from swatch.work.studio_arrays import StudioArrays, arrays_of

_LAST = "last-fit.txt"
Built = TypeVar("Built")


@dataclass(frozen=True)
class Learnt:
    """A studio's evidence and the fit it gave."""

    evidence: Evidence
    arrays: StudioArrays
    fit: StudioFit
    digest: str
    weighings: tuple[Weighing, ...] = ()
    cache: Path | None = None
    """Where what is worked out of the fit may be kept."""
    provisional: bool = False
    """Learnt in haste from an earlier fit, with its scale of doubt; it answers until the full one is there."""

    @property
    def learnt_from(self) -> int:
        """Number of fired readings behind the fit: on a known body, with known layers."""
        return int((usable(self.arrays.data) & (self.arrays.data.stage == FIRED)).sum())


def learnt(folder: Path, report: Report = silent, in_haste: bool = False) -> Learnt:
    """Read the studio in `folder` and give what its tiles teach, from the cache where they have not changed.

    Parameters
    ----------
    in_haste : bool
        Where the tiles have changed, start from the last fit that was kept and take over its scale of doubt.
        That depends on what was kept, so it is marked as provisional and never kept in place of a full fit.

    Raises
    ------
    StudioProblem
        ``nothing-fired``: no fired tile is known, so nothing can be answered; or the folder cannot be read.
    """
    with Studio.look(folder) as studio:
        evidence, weighings, cache = studio.evidence(), studio.weighings(), studio.cache
    arrays = arrays_of(evidence)
    if not (arrays.data.stage == FIRED).any():
        raise nothing_fired()
    digest = digest_of(arrays.data)
    kept = cache / f"fit-{digest}.npz"
    fit, provisional = _read_fit(kept), False
    if fit is None and in_haste:
        last = _last_fit(cache)
        hasty = cache / f"hasty-{digest}.npz"
        fit = _read_fit(hasty)
        if fit is None and last is not None:
            fit = refit(arrays.data, report, last)
            keep_arrays(hasty, fit.arrays())
        provisional = fit is not None
    if fit is None:
        fit = fit_studio(arrays.data, report)
        keep_arrays(kept, fit.arrays())
        _remember(cache, digest)
    return Learnt(evidence, arrays, fit, digest, weighings, cache, provisional)


def _last_fit(cache: Path) -> StudioFit | None:
    """The full fit that was kept last, if it is of this form of learning."""
    try:
        form, digest = (cache / _LAST).read_text(encoding="ascii").split()
    except (OSError, ValueError):
        return None
    whole = form == str(LEARNING_FORM) and digest.isalnum()
    return _read_fit(cache / f"fit-{digest}.npz") if whole else None


def _remember(cache: Path, digest: str) -> None:
    with contextlib.suppress(OSError):
        (cache / _LAST).write_text(f"{LEARNING_FORM} {digest}\n", encoding="ascii")
    for hasty in cache.glob("hasty-*.npz"):
        hasty.unlink(missing_ok=True)


def digest_of(data: StudioData) -> str:
    """Name of the fit these arrays give with this version of the program."""
    sum_ = hashlib.sha256(f"{__version__} {LEARNING_FORM}".encode())
    for one in fields(data):
        value = np.asarray(getattr(data, one.name))
        sum_.update(f"{one.name} {value.dtype.str} {value.shape}".encode())
        sum_.update(np.ascontiguousarray(value).tobytes())
    return sum_.hexdigest()[:32]


def _read_fit(kept: Path) -> StudioFit | None:
    return read_arrays(kept, StudioFit.from_arrays)


def read_arrays(kept: Path, build: Callable[[dict[str, np.ndarray]], Built]) -> Built | None:
    """What a cache file holds; None where there is none, or where it is damaged and has to be made anew."""
    try:
        return build(unpack(kept.read_bytes()))
    except FileNotFoundError:
        return None
    except (ValueError, KeyError, TypeError, IndexError):
        kept.unlink(missing_ok=True)
        return None


def keep_arrays(kept: Path, arrays: Mapping[str, np.ndarray]) -> None:
    """Keep arrays as a file of the cache, whole or not at all."""
    # A cache that cannot be written (a studio on a stick that is write-protected) costs time, not answers.
    unfinished = kept.with_name(f".{kept.name}.{os.getpid()}")
    try:
        kept.parent.mkdir(parents=True, exist_ok=True)
        unfinished.write_bytes(pack(arrays))
        unfinished.replace(kept)
    except OSError:
        unfinished.unlink(missing_ok=True)


def learn_job(asked: dict[str, Any], report: Report) -> dict[str, object]:
    """Fit the studio in a worker, so that the cache holds it; says from how many readings."""
    found = learnt(Path(asked["folder"]), report, bool(asked.get("in_haste", False)))
    return {"digest": found.digest, "learnt_from": found.learnt_from, "provisional": found.provisional}
