"""Papers that take long: made one after another beside the server's answers, counted, stoppable, thrown away after a while.

Kept in this process only: a job asked for here is not known to another process behind the same proxy.
"""

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import BinaryIO
from uuid import uuid4

from makegood.errors import Conflict, MakegoodError, NotFound, TooManyTries, Unavailable

MOST_EACH, MOST_IN_ALL = 3, 12
KEPT_S = 15 * 60

Make = Callable[[BinaryIO, Callable[[int, int], None]], None]


@dataclass(frozen=True)
class Owner:
    """Whose a job is: the device, and the part it had on the site when it asked; with another part the job is gone."""

    device_id: str
    site_id: str
    part: object


@dataclass
class Job:
    """One paper in the making; `name` is what its file is called."""

    owner: Owner
    name: str
    media_type: str
    file: Path
    began_s: float
    done: int = 0
    of: int = 1
    ready: bool = False
    stopped: threading.Event = field(default_factory=threading.Event)
    refusal: MakegoodError | None = None

    def progress(self, done: int, of: int) -> None:
        """Note how far it has come; ends the making where it was stopped."""
        self.done, self.of = done, max(of, 1)
        if self.stopped.is_set():
            raise Conflict("paper_stopped", "Making this paper was stopped. Ask for it again when you need it.")


class PaperJobs:
    """The papers this process is making or has made."""

    def __init__(self) -> None:
        self._folder = TemporaryDirectory(prefix="makegood-papers-")
        self._jobs: dict[str, Job] = {}
        self._lock = threading.Lock()
        self._turn = threading.Lock()

    def start(self, owner: Owner, called: tuple[str, str], make: Make) -> str:
        """Begin a paper, `called` its file's name and media type; return the job's id. Raises TooManyTries."""
        with self._lock:
            self._sweep()
            mine = [one for one in self._jobs.values() if one.owner.device_id == owner.device_id]
            if len(mine) >= MOST_EACH or len(self._jobs) >= MOST_IN_ALL:
                raise TooManyTries("papers_busy", "Several papers are in hand already. Fetch or stop one, or wait a little.")
            key = str(uuid4())
            job = Job(owner, *called, Path(self._folder.name) / key, time.monotonic())
            self._jobs[key] = job
        threading.Thread(target=self._run, args=(job, make), name=f"paper {key}", daemon=True).start()
        return key

    def _run(self, job: Job, make: Make) -> None:
        try:
            with self._turn:
                job.progress(0, 1)
                with open(job.file, "wb") as out:
                    make(out, job.progress)
            job.progress(job.of, job.of)
            job.ready = True
        except MakegoodError as refusal:
            job.refusal = refusal
        finally:
            if not job.ready:
                sentence = "Making this paper failed; nothing on the site has changed. Ask again, or tell the keeper."
                job.refusal = job.refusal or Unavailable("paper_failed", sentence)
                job.file.unlink(missing_ok=True)

    def look(self, key: str, owner: Owner) -> Job:
        """Return a job of this device; raises what made it end, or NotFound."""
        with self._lock:
            self._sweep()
            job = self._jobs.get(key)
        if job is None or job.owner != owner:
            raise NotFound("paper_job_unknown", "There is no such paper in the making. Ask for it again.")
        if job.refusal is not None:
            raise job.refusal
        return job

    def site_of(self, key: str) -> str:
        """Return the site a job is about, empty for one that is not there."""
        job = self._jobs.get(key)
        return job.owner.site_id if job else ""

    def finished(self, key: str, owner: Owner) -> Job:
        """Return a job whose file is there; raises Conflict while it is not."""
        job = self.look(key, owner)
        if not job.ready:
            raise Conflict("paper_not_ready", "This paper is still being made. Wait until it is ready.")
        return job

    def stop(self, key: str, owner: Owner) -> None:
        """Stop a job, or throw its paper away; one that is not there counts as stopped."""
        with self._lock:
            job = self._jobs.get(key)
            if job is None or job.owner != owner:
                return
            self._drop(key)

    def close(self) -> None:
        """Stop everything and remove all files."""
        with self._lock:
            for key in list(self._jobs):
                self._drop(key)
        with self._turn:
            self._folder.cleanup()

    def _drop(self, key: str) -> None:
        job = self._jobs.pop(key)
        job.stopped.set()
        if job.ready:
            job.file.unlink(missing_ok=True)

    def _sweep(self) -> None:
        late = [key for key, one in self._jobs.items() if time.monotonic() - one.began_s > KEPT_S]
        for key in late:
            self._drop(key)
