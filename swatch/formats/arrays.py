"""Named arrays to bytes and back (.npz); never pickled."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray


def pack(arrays: Mapping[str, NDArray[np.generic]]) -> bytes:
    """Write arrays as an uncompressed ``.npz``."""
    out = io.BytesIO()
    np.savez(out, allow_pickle=False, **arrays)
    return out.getvalue()


def unpack(data: bytes) -> dict[str, NDArray[np.generic]]:
    """Read what `pack` wrote.

    Raises
    ------
    ValueError
        The bytes are damaged or hold anything but plain arrays.
    """
    try:
        with np.load(io.BytesIO(data), allow_pickle=False) as held:
            return {name: held[name] for name in held.files}
    except (OSError, EOFError, KeyError, zipfile.BadZipFile) as error:
        raise ValueError(f"not a whole .npz: {error}") from error
