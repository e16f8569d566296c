"""Long papers: watched, stopped, bounded, each device its own, nothing left behind."""

import threading
import time
from pathlib import Path

import pytest

from makegood.errors import Conflict, NotFound, TooManyTries, Unavailable
from makegood.work import paper_jobs
from makegood.work.paper_jobs import MOST_EACH, MOST_IN_ALL, Owner, PaperJobs

ME, OTHER = Owner("me", "site", "keeper"), Owner("other", "site", "keeper")
CALLED = ("paper.pdf", "application/pdf")


@pytest.fixture
def jobs():
    """Jobs that are all stopped at the end."""
    found = PaperJobs()
    yield found
    found.close()


def until(true):
    """Wait a little for something that a thread brings about."""
    end = time.monotonic() + 10
    while not true():
        assert time.monotonic() < end, "never came"
        time.sleep(0.01)


def quick(out, progress):
    """A paper that is made at once."""
    progress(0, 2)
    out.write(b"%PDF")


def slow(go: threading.Event):
    """A paper that goes on until it is told to."""
    def make(out, progress):
        n = 0
        while not go.is_set():
            n = min(n + 1, 99)
            progress(n, 100)
            time.sleep(0.005)
        out.write(b"done")

    return make


def test_finished_paper_can_be_fetched_by_its_device_only(jobs):
    key = jobs.start(ME, CALLED, quick)
    until(lambda: jobs.look(key, ME).ready)
    assert Path(jobs.finished(key, ME).file).read_bytes() == b"%PDF"
    with pytest.raises(NotFound):
        jobs.look(key, OTHER)
    with pytest.raises(NotFound):
        jobs.look(key, Owner("me", "site", "helper"))  # its part on the site has changed since
    jobs.stop(key, OTHER)
    assert jobs.finished(key, ME).ready


def test_progress_shows_and_stopping_leaves_no_file(jobs):
    go = threading.Event()
    key = jobs.start(ME, CALLED, slow(go))
    until(lambda: jobs.look(key, ME).done > 3)
    job = jobs.look(key, ME)
    with pytest.raises(Conflict):
        jobs.finished(key, ME)
    jobs.stop(key, ME)
    until(lambda: job.refusal is not None)
    assert not job.file.exists()
    with pytest.raises(NotFound):
        jobs.look(key, ME)


def test_only_so_many_at_once(jobs):
    go = threading.Event()
    for _ in range(MOST_EACH):
        jobs.start(ME, CALLED, slow(go))
    with pytest.raises(TooManyTries):
        jobs.start(ME, CALLED, quick)
    for n in range(MOST_IN_ALL - MOST_EACH):
        jobs.start(Owner(f"d{n}", "site", 1), CALLED, quick)
    with pytest.raises(TooManyTries):
        jobs.start(OTHER, CALLED, quick)
    go.set()


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_fault_is_told_and_does_not_hang(jobs):
    def broken(_out, _progress):
        raise ZeroDivisionError

    key = jobs.start(ME, CALLED, broken)
    until(lambda: jobs._jobs[key].refusal is not None)
    with pytest.raises(Unavailable):
        jobs.look(key, ME)
    again = jobs.start(ME, CALLED, quick)
    until(lambda: jobs.look(again, ME).ready)


def test_papers_are_thrown_away_after_a_while(jobs, monkeypatch):
    key = jobs.start(ME, CALLED, quick)
    until(lambda: jobs.look(key, ME).ready)
    file = jobs.finished(key, ME).file
    monkeypatch.setattr(paper_jobs, "KEPT_S", -1)
    with pytest.raises(NotFound):
        jobs.look(key, ME)
    assert not file.exists()


def test_closing_removes_the_folder():
    jobs = PaperJobs()
    key = jobs.start(ME, CALLED, quick)
    until(lambda: jobs.look(key, ME).ready)
    folder = jobs.finished(key, ME).file.parent
    jobs.close()
    assert not folder.exists()
