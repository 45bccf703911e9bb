"""What a potter can put right, by code and facts; ``wording`` turns each into a sentence and a next step.

Any other exception is our bug. Constructors stand in one module per kind of trouble.
"""

from __future__ import annotations

from swatch.terms.problems.base import Fact, Notice, StudioProblem, Where

__all__ = ["Fact", "Notice", "StudioProblem", "Where"]
