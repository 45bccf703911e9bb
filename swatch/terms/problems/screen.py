"""Problems of the screen itself."""

from __future__ import annotations

from swatch.terms.problems.base import StudioProblem, Where


def bad_screen_profile(file: str) -> StudioProblem:
    """The file chosen as the monitor's profile is none, or is not for a screen."""
    return StudioProblem("bad-screen-profile", Where(file=file), file=file)
