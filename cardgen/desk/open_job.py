"""Keep one job file open: its text, the steps back and forward, and what was found out about it."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock, RLock

from cardgen.desk.desk_memory import MOST_STEPS, DeskMemory, KeptText
from cardgen.desk.job_folder import read_plain
from cardgen.editing import Change, Rename, edited, edited_nodes
from cardgen.examine import Examined, examine_nodes
from cardgen.faults.file_faults import FILE_TOO_LARGE
from cardgen.output.locking import locked
from cardgen.output.writing import replace_file
from cardgen.problems import Problem, Span, UserError
from cardgen.reading import parse
from cardgen.reading.files import LARGEST_FILE, UTF8_MARK, decode
from cardgen.reading.nodes import Node
from cardgen.renaming import RenamedText, edited_with_names

PATIENCE_S = 5.0  # while another program writes into the folder; our choice


class ChangedMeanwhile(UserError):
    """The file is not what the page shows: another program or another window has changed it."""

    def __init__(self, name: str) -> None:
        super().__init__(
            f"'{name}' has been changed meanwhile, in another window or by another program",
            "take the file as it is now, or keep your change as a copy beside it",
        )


@dataclass(frozen=True, slots=True)
class FileText:
    """A file as it was read.

    Attributes:
        version: digest of its bytes; names what a page shows.
        text: None where it is no text; `faults` say why.
    """

    data: bytes
    version: str
    text: str | None
    faults: tuple[Problem, ...] = ()

    @classmethod
    def of(cls, data: bytes, name: str) -> FileText:
        text, faults = decode(data[:LARGEST_FILE], name)
        if len(data) > LARGEST_FILE:
            text, faults = None, (FILE_TOO_LARGE.at(Span(name, 1, 1), most=LARGEST_FILE),)
        return cls(data, hashlib.sha256(data).hexdigest()[:20], text, faults)

    @property
    def kept(self) -> KeptText:
        return KeptText(self.version, self.data)

    def with_text(self, text: str, name: str) -> FileText:
        """The same file with another text; a byte-order mark stays."""
        mark = UTF8_MARK if self.data.startswith(UTF8_MARK) else b""
        return FileText.of(mark + text.encode(), name)


@dataclass(slots=True)
class OpenJob:
    """Attributes:
    path: in the folder of the desk.
    now: as the file was when it was last read or written here.
    memory: keeps the steps for the next desk; None where they end with this one.
    back, forward: what undo and redo bring; empty as soon as others have changed the file.
    """

    path: Path
    now: FileText
    memory: DeskMemory | None = None
    back: list[FileText] = field(default_factory=list)
    forward: list[FileText] = field(default_factory=list)
    lock: RLock = field(default_factory=RLock)
    _recalled: str = ""
    _shown: dict[str, FileText] = field(default_factory=dict)
    _examining: Lock = field(default_factory=Lock)
    _parsed: tuple[str, tuple[Node | None, tuple[Problem, ...]]] | None = None
    _examined: tuple[str, Examined] | None = None

    @classmethod
    def at(cls, path: Path, memory: DeskMemory | None = None) -> OpenJob:
        """Raises:
        UserError: if it cannot be read.
        """
        return cls(path, _read(path), memory)

    @property
    def name(self) -> str:
        return self.path.name

    @property
    def text(self) -> str:
        """Empty where the file is no text."""
        return self.now.text or ""

    def refresh(self) -> None:
        """Take in what others have written; undoing over that would overwrite it.

        Raises:
            UserError: if it cannot be read any more.
        """
        with self.lock:
            found = _read(self.path)
            if found.version != self.now.version:
                self.now = found
                self.back.clear()
                self.forward.clear()
                self._recalled = ""

    def root(self, of: FileText | None = None) -> tuple[Node | None, tuple[Problem, ...]]:
        """The nodes of the text, with what is wrong with it as YAML.

        Args:
            of: as a page was shown it, while another request may write; else as it is now.
        """
        now, parsed = of or self.now, self._parsed
        if parsed is None or parsed[0] != now.version:
            found = parse(now.text, self.name) if now.text is not None else (None, now.faults)
            parsed = self._parsed = (now.version, found)
        return parsed[1]

    def examined(self, of: FileText | None = None) -> Examined:
        """What was found out about the text, once for each, however many ask at a time."""
        with self._examining:
            now = of or self.now
            if self._examined is None or self._examined[0] != now.version:
                root, faults = self.root(now)
                if root is None or faults:
                    found = Examined(job=None, problems=faults)
                else:
                    found = examine_nodes(root, self.name)
                self._examined = (now.version, found)
            return self._examined[1]

    def show(self) -> FileText:
        """What a page gets to see now, so that a change made there can be placed later."""
        with self.lock:
            self.refresh()
            self._recall()
            self._shown[self.now.version] = self.now
            while len(self._shown) > MOST_STEPS:
                del self._shown[next(iter(self._shown))]
            return self.now

    def edit(
        self, changes: Sequence[Change], version: str, *, names_alone: bool = False
    ) -> RenamedText:
        """Write changes into the file whose `version` a page shows, as one step.

        Args:
            names_alone: what mentions a name that is changed stays as it is.

        Raises:
            ChangedMeanwhile: with nothing written.
            UserError: if the text cannot be changed there, or the file not be written.
        """
        with self.lock:
            self._expect(version)
            renames = any(isinstance(change, Rename) for change in changes)
            root, faults = self.root()
            if renames and not names_alone:
                renamed = edited_with_names(self.text, changes)
            elif faults:  # it is told which of them is in the way
                renamed = RenamedText(edited(self.text, changes))
            else:
                text, root = edited_nodes(self.text, root, changes, self.name)
                renamed = RenamedText(text)
                if root is not None:  # it need not be read once more
                    self._parsed = (self.now.with_text(text, self.name).version, (root, ()))
            self._write(self.now.with_text(renamed.text, self.name))
            return renamed

    def replace(self, text: str, version: str) -> None:
        """Write a whole text, as a proposal that was accepted."""
        with self.lock:
            self._expect(version)
            self._write(self.now.with_text(text, self.name))

    def undo(self, version: str) -> None:
        """Go one step back; without one, nothing happens."""
        self._step(self.back, self.forward, version)

    def redo(self, version: str) -> None:
        """Go one step forward again."""
        self._step(self.forward, self.back, version)

    def shown(self, version: str) -> FileText:
        """The file as a page got to see it.

        Raises:
            UserError: if that is not known any more.
        """
        found = self._shown.get(version)
        if found is None or found.text is None:
            raise UserError("the page is too old to keep what was typed", "type it again")
        return found

    def _expect(self, version: str) -> None:
        self.refresh()
        self._recall()
        if self.now.version != version:
            raise ChangedMeanwhile(self.name)

    def _recall(self) -> None:
        """The steps that are kept of the file as it is now, where this desk knows none itself.

        Asked once for each text that others have written: not for all jobs when the desk opens.
        """
        if self.memory is None or self.back or self.forward or self._recalled == self.now.version:
            return
        self._recalled = self.now.version
        kept = self.memory.steps(self.name, self.now.version)
        for texts, mine in ((kept.back, self.back), (kept.forward, self.forward)):
            found = [(text, FileText.of(text.data, self.name)) for text in texts]
            if all(text.version == of.version for text, of in found):
                mine += [of for _, of in found]

    def _step(self, source: list[FileText], other: list[FileText], version: str) -> None:
        with self.lock:
            self._expect(version)
            if source:
                before = self.now
                self._put(source[-1], steps=-1 if source is self.back else 1)
                source.pop()
                other.append(before)

    def _write(self, new: FileText) -> None:
        if new.version == self.now.version:
            return
        before = self.now
        self._put(new)
        self.back.append(before)
        del self.back[:-MOST_STEPS]
        self.forward.clear()

    def _put(self, new: FileText, *, steps: int = 0) -> None:
        """Two desks on one folder write one after the other, and see what the other wrote.

        Args:
            steps: back or forward; 0 for a change.
        """
        with locked(self.path.parent, patience=PATIENCE_S):
            if _read(self.path).version != self.now.version:
                raise ChangedMeanwhile(self.name)
            if self.memory is not None and steps:
                self.memory.keep_move(self.name, self.now.version, steps)
            elif self.memory is not None:
                self.memory.keep_change(self.name, self.now.kept, new.kept)
            replace_file(self.path, new.data, expected=self.now.data)
        self.now = new
        self._shown[new.version] = new


def _read(path: Path) -> FileText:
    try:
        return FileText.of(read_plain(path), path.name)
    except OSError as fault:
        reason = (fault.strerror or str(fault)).lower()
        raise UserError(f"'{path.name}' cannot be read: {reason}", "look where it went") from fault
