"""Keep what the desk knows of the jobs in its folder while it runs."""

from __future__ import annotations

from threading import Lock

from cardgen.desk.job_folder import JobFolder
from cardgen.desk.open_job import OpenJob
from cardgen.desk.print_queue import PrintQueue
from cardgen.desk.tag_preview import TagPreviews
from cardgen.problems import UserError


class DeskJobs:
    """The open jobs by file name; all requests share them."""

    def __init__(self, folder: JobFolder) -> None:
        self.folder, self.previews, self.queue = folder, TagPreviews(), PrintQueue(folder)
        self._open: dict[str, OpenJob] = {}
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
                found = self._open[name] = OpenJob.at(path)
        found.refresh()
        return found

    def all(self) -> list[OpenJob]:
        """Those that can be read, in the order of their names."""
        found = []
        for name in self.folder.names():
            try:
                found.append(self.job(name))
            except UserError:
                continue  # taken away meanwhile, or not ours to read
        return found
