"""Worker processes that crash, hang, swell or print: each costs one message, and the next job goes on."""

import threading
import time

import pytest

from swatch.terms.problems import StudioProblem
from swatch.terms.report import Stopped
from swatch.work import jobs
from swatch.work.jobs import GIB, JobKind
from swatch.work.workers import WorkerBug, Workers

ODD_JOBS = """
import os, signal, sys, time
from swatch.terms.problems import StudioProblem, Where

def echo(request, report):
    print("a library prints on standard output")
    report(1, 2, "photos")
    return request

def crash(request, report):
    os.kill(os.getpid(), signal.SIGSEGV)

def hang(request, report):
    report(1, 2, "photos")
    time.sleep(3600)

def swell(request, report):
    return len(bytearray(64 << 30))

def wrong(request, report):
    return 1 / 0

def refuse(request, report):
    raise StudioProblem("odd-photo", Where(photo="a.jpg"), n=3)
"""
NAMES = ("echo", "crash", "hang", "swell", "wrong", "refuse")


@pytest.fixture
def workers(tmp_path, monkeypatch):
    (tmp_path / "odd_jobs.py").write_text(ODD_JOBS)
    (tmp_path / "sitecustomize.py").write_text(
        "from swatch.work.jobs import JOBS, JobKind\n"
        f"JOBS.update((n, JobKind(f'odd_jobs:{{n}}', {4 * GIB}, 5.0)) for n in {NAMES})\n"
    )
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    for name in NAMES:
        patient = 0.4 if name == "hang" else 60.0
        monkeypatch.setitem(jobs.JOBS, name, JobKind(f"odd_jobs:{name}", 4 * GIB, patient))
    with Workers(2) as two:
        yield two


def test_a_job_gives_back_its_result_and_its_progress(workers):
    heard = []
    assert workers.run("echo", {"x": (1, 2.5, "é")}, lambda *said: heard.append(said)) == {"x": (1, 2.5, "é")}
    assert (1, 2, "photos") in heard


@pytest.mark.parametrize(
    ("job", "code"), [("crash", "worker-died"), ("swell", "worker-out-of-memory"), ("hang", "worker-silent")]
)
def test_what_kills_a_worker_costs_one_message(workers, job, code):
    with pytest.raises(StudioProblem) as told:
        workers.run(job, {})
    assert told.value.code == code
    assert workers.run("echo", {"still": "here"}) == {"still": "here"}


def test_the_potters_problem_and_our_own_bug_are_told_apart(workers):
    with pytest.raises(StudioProblem) as told:
        workers.run("refuse", {})
    assert (told.value.code, told.value.where.photo, told.value.facts) == ("odd-photo", "a.jpg", {"n": 3})
    with pytest.raises(WorkerBug, match="ZeroDivisionError"):
        workers.run("wrong", {})


def test_many_jobs_keep_their_order_and_one_failure_its_place(workers):
    names = ["echo", "echo"]
    answers = [workers.run_all(name, [{"n": n} for n in range(5)]) for name in names]
    assert answers == [[{"n": n} for n in range(5)]] * 2
    refused = workers.run_all("refuse", [{}, {}])
    assert [problem.code for problem in refused] == ["odd-photo", "odd-photo"]


def test_a_wish_to_stop_ends_a_hanging_job_at_once(workers, monkeypatch):
    monkeypatch.setitem(jobs.JOBS, "hang", JobKind("odd_jobs:hang", 4 * GIB, 600.0))

    def stop_after_progress(done, total, what=""):
        if done:
            raise Stopped

    with pytest.raises(Stopped):
        workers.run("hang", {}, stop_after_progress)
    begun = threading.Event()

    def stop_all_once_begun(done, total, what=""):
        if begun.is_set():
            raise Stopped
        begun.set()

    with pytest.raises(Stopped):
        workers.run_all("hang", [{}, {}, {}], stop_all_once_begun)


def test_closing_ends_jobs_that_still_run(workers, monkeypatch):
    monkeypatch.setitem(jobs.JOBS, "hang", JobKind("odd_jobs:hang", 4 * GIB, 600.0))
    begun = threading.Event()
    ended = []

    def note(done, total, what=""):
        if done:
            begun.set()

    def run():
        try:
            workers.run("hang", {}, note)
        except Stopped:
            ended.append(time.monotonic())

    thread = threading.Thread(target=run)
    thread.start()
    assert begun.wait(60)
    workers.close()
    thread.join(60)
    assert len(ended) == 1
