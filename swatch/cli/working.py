"""The studio's jobs, done in a worker process as the window does them: the same answers, and Ctrl+C ends them."""

from __future__ import annotations

from typing import Any

from swatch.terms.report import Report


def in_a_worker(job: str, asked: dict[str, object], report: Report) -> Any:
    """Do one job of `swatch.work.jobs` and give its answer.

    Raises
    ------
    StudioProblem
        The job's own, or that its process ended.
    """
    from swatch.work.workers import Workers

    with Workers(1) as workers:
        return workers.run(job, asked, report)
