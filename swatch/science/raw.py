"""A camera's raw photo as DNG: its light as the sensor counted it, by LibRaw and nothing of a camera's look."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from swatch.terms.problems.photo import photo_raw_unread

SRGB_GAMMA = (2.4, 12.92)
"""How LibRaw is told the sRGB curve; light is coded by it so that chart and sheet are found as in other photos."""


def dng_pixels(data: bytes, check_size: Callable[[tuple[int, int]], None], *, half: bool) -> NDArray[np.uint16]:
    """Develop a DNG plainly: white balance as shot, no brightening, no look; upright.

    Parameters
    ----------
    data : bytes
        The file; may be hostile, so only ever in a worker process.
    check_size : function of (width, height)
        Raises where the photo is too large, before anything is unpacked.
    half : bool
        Each four sensor cells as one pixel: four times as fast, for a preview.

    Returns
    -------
    (height, width, 3) uint16
        In wide primaries (ProPhoto's), so that nothing saturated is cut off, under the sRGB curve.
    """
    import rawpy

    try:
        with rawpy.imread(io.BytesIO(data)) as raw:
            check_size((int(raw.sizes.width), int(raw.sizes.height)))
            levels: NDArray[Any] = raw.postprocess(
                half_size=half,
                use_camera_wb=True,
                no_auto_bright=True,
                output_bps=16,
                gamma=SRGB_GAMMA,
                output_color=rawpy.ColorSpace.ProPhoto,
                highlight_mode=rawpy.HighlightMode.Clip,
            )
    except (rawpy.LibRawError, OSError, ValueError) as error:
        raise photo_raw_unread() from error
    if levels.ndim != 3 or levels.shape[2] != 3 or levels.dtype != np.uint16:
        raise photo_raw_unread()
    return levels
