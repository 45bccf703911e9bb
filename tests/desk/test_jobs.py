import threading

import pytest

from swatch.desk.jobs import Jobs
from swatch.terms.report import Stopped


@pytest.fixture
def jobs(qtbot):
    made = Jobs()
    yield made
    made.close()


def test_a_result_is_heard_on_the_ui_thread(jobs, qtbot):
    heard = []
    job = jobs.start(lambda report: threading.get_ident(), "x")
    job.finished.connect(lambda result: heard.append((result, threading.get_ident())))
    with qtbot.waitSignal(job.ended):
        pass
    (worker, listener), *_rest = heard
    assert listener == threading.get_ident() != worker


def test_after_stop_nothing_is_delivered(jobs, qtbot):
    begun, go_on, over = threading.Event(), threading.Event(), threading.Event()
    heard = []

    def work(report):
        begun.set()
        go_on.wait(5)
        try:
            report(1, 2, "photos")
        except Stopped:
            over.set()
            raise
        return "too late"

    job = jobs.start(work, "x")
    job.finished.connect(heard.append)
    job.failed.connect(heard.append)
    job.progressed.connect(lambda *said: heard.append(said))
    ended = []
    job.ended.connect(lambda: ended.append(True))
    assert begun.wait(5)
    job.stop()
    with qtbot.waitSignal(job.over):
        go_on.set()
    assert over.is_set()
    assert heard == []
    assert ended == [True]
    assert jobs.running == ()


def test_a_result_already_on_its_way_is_dropped_when_stopped(jobs, qtbot):
    done = threading.Event()

    def work(report):
        report(1, 1)
        done.set()
        return "result"

    job = jobs.start(work, "x")
    heard = []
    job.finished.connect(heard.append)
    assert done.wait(5)
    job.stop()  # the result is queued for this thread, which has not listened yet
    with qtbot.waitSignal(job.over):
        pass
    assert heard == []


def test_progress_is_said_once_for_each_step(jobs, qtbot):
    said = []

    def work(report):
        for _ in range(3):
            report(1, 2, "photos")
        report(2, 2, "photos")

    job = jobs.start(work, "x")
    job.progressed.connect(lambda *what: said.append(what))
    with qtbot.waitSignal(job.ended):
        pass
    assert said == [(1, 2, "photos"), (2, 2, "photos")]


def test_an_error_comes_to_the_listener(jobs, qtbot):
    def work(report):
        raise ValueError("ours")

    job = jobs.start(work, "x")
    with qtbot.waitSignal(job.failed) as signal:
        pass
    assert isinstance(signal.args[0], ValueError)


def test_work_waits_until_a_thread_takes_it_up(qtbot):
    jobs, go_on = Jobs(most=1), threading.Event()
    first = jobs.start(lambda report: go_on.wait(5), "first")
    second = jobs.start(lambda report: None, "second")
    qtbot.waitUntil(lambda: not first.waiting)
    assert second.waiting
    with qtbot.waitSignal(second.began):
        go_on.set()
    assert not second.waiting
    jobs.close()
