"""What the studio's tiles have taught: fitted once for the same evidence, kept in the studio's cache."""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

import numpy as np

from swatch import __version__
from swatch.formats.arrays import pack, unpack
from swatch.library.studio import Studio
from swatch.science.shifts import LEARNING_FORM, StudioFit, fit_studio
from swatch.science.studio_data import FIRED, StudioData
from swatch.terms.editions import Weighing
from swatch.terms.evidence import Evidence
from swatch.terms.problems.learning import nothing_fired
from swatch.terms.report import Report, silent
from swatch.work.studio_arrays import StudioArrays, arrays_of


@dataclass(frozen=True)
class Learnt:
    """A studio's evidence and the fit it gave."""

    evidence: Evidence
    arrays: StudioArrays
    fit: StudioFit
    digest: str
    weighings: tuple[Weighing, ...] = ()

    @property
    def learnt_from(self) -> int:
        """Number of fired readings behind the fit."""
        return int((self.arrays.data.stage == FIRED).sum())


def learnt(folder: Path, report: Report = silent) -> Learnt:
    """Read the studio in `folder` and give what its tiles teach, from the cache where they have not changed.

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
    fit = _read_fit(kept)
    if fit is None:
        fit = fit_studio(arrays.data, report)
        _keep_fit(kept, fit)
    return Learnt(evidence, arrays, fit, digest, weighings)


def digest_of(data: StudioData) -> str:
    """Name of the fit these arrays give with this version of the program."""
    sum_ = hashlib.sha256(f"{__version__} {LEARNING_FORM}".encode())
    for one in fields(data):
        value = np.asarray(getattr(data, one.name))
        sum_.update(f"{one.name} {value.dtype.str} {value.shape}".encode())
        sum_.update(np.ascontiguousarray(value).tobytes())
    return sum_.hexdigest()[:32]


def _read_fit(kept: Path) -> StudioFit | None:
    """The fit in a cache file; None where there is none, or where it is damaged and has to be made anew."""
    try:
        return StudioFit.from_arrays(unpack(kept.read_bytes()))
    except FileNotFoundError:
        return None
    except (ValueError, KeyError, TypeError, IndexError):
        kept.unlink(missing_ok=True)
        return None


def _keep_fit(kept: Path, fit: StudioFit) -> None:
    # A cache that cannot be written (a studio on a stick that is write-protected) costs time, not answers.
    unfinished = kept.with_name(f".{kept.name}.{os.getpid()}")
    try:
        kept.parent.mkdir(parents=True, exist_ok=True)
        unfinished.write_bytes(pack(fit.arrays()))
        unfinished.replace(kept)
    except OSError:
        unfinished.unlink(missing_ok=True)


def learn_job(asked: dict[str, Any], report: Report) -> dict[str, object]:
    """Fit the studio in a worker, so that the cache holds it; says from how many readings."""
    found = learnt(Path(asked["folder"]), report)
    return {"digest": found.digest, "learnt_from": found.learnt_from}
