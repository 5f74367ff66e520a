"""Keep what the desk knows of the jobs in its folder while it runs."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

from cardgen.desk.desk_memory import DeskMemory
from cardgen.desk.job_folder import JobFolder
from cardgen.desk.open_job import OpenJob
from cardgen.desk.print_queue import PrintQueue
from cardgen.desk.tag_preview import TagPreviews
from cardgen.problems import UserError


class DeskJobs:
    """The open jobs by file name; all requests share them."""

    def __init__(self, folder: JobFolder) -> None:
        self.folder, self.memory = folder, DeskMemory(folder.path)
        self.previews, self.queue = TagPreviews(), PrintQueue(folder, self.memory)
        self._open: dict[str, OpenJob] = {}
        self._printing: list[str] = []
        self._lock = Lock()

    def job(self, name: str) -> OpenJob:
        """A job as its file is now.

        Raises:
            NotInFolder: if there is no such file.
            UserError: if it cannot be read.
        """
        path = self.folder.file(name)
        with self._lock:
            found = self._open.get(name)
            if found is None:
                found = self._open[name] = OpenJob.at(path, self.memory)
        found.refresh()
        return found

    @contextmanager
    def prints(self, name: str) -> Iterator[None]:
        """While a page prints a job."""
        self._printing.append(name)
        try:
            yield
        finally:
            self._printing.remove(name)

    @property
    def printing(self) -> list[str]:
        """The jobs that are being printed, by a page or in the queue."""
        return list(dict.fromkeys((*self._printing, *self.queue.printing)))

    def all(self) -> list[OpenJob]:
        """Those that can be read, in the order of their names."""
        found = []
        for name in self.folder.names():
            try:
                found.append(self.job(name))
            except UserError:
                continue  # taken away meanwhile, or not ours to read
        return found
