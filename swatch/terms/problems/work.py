"""Problems of worker processes: a job that ended before its answer."""

from __future__ import annotations

from swatch.terms.problems.base import StudioProblem


def worker_died(last_words: str) -> StudioProblem:
    """The process that did the job ended; for a photo, its decoder crashed on it."""
    return StudioProblem("worker-died", last_words=last_words)


def worker_out_of_memory() -> StudioProblem:
    """The job needed more memory than it may take."""
    return StudioProblem("worker-out-of-memory")


def worker_silent(seconds: int) -> StudioProblem:
    """The job said nothing for too long and was ended."""
    return StudioProblem("worker-silent", seconds=seconds)


def file_missing() -> StudioProblem:
    """There is no such file."""
    return StudioProblem("file-missing")


def not_a_file() -> StudioProblem:
    """A folder, a pipe or a device stands where a file was expected."""
    return StudioProblem("not-a-file")


def file_unreadable(reason: str) -> StudioProblem:
    """The system will not let the file be read."""
    return StudioProblem("file-unreadable", reason=reason)


def file_too_large(most_mib: int) -> StudioProblem:
    """The file is larger than any such file has reason to be."""
    return StudioProblem("file-too-large", most_mib=most_mib)


def file_not_written(reason: str) -> StudioProblem:
    """A file the user asked for cannot be written."""
    return StudioProblem("file-not-written", reason=reason)
