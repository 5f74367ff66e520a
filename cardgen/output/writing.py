"""Write into the folders and files of a user, and never over what is not ours."""

from __future__ import annotations

import stat
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from cardgen.files.exchange import digest, digest_of, exchange, finish, is_unfinished, subfolders
from cardgen.files.one import put
from cardgen.files.sealing import BadSeal, opened, sealed
from cardgen.memory.prints import MANIFEST
from cardgen.output.locking import PATIENCE, locked
from cardgen.problems import CannotWrite, UserError, cannot_write

Say = Callable[[str], None]


@contextmanager
def held(
    folder: Path, *, replace: bool, say: Say | None = None, patience: float = PATIENCE
) -> Iterator[None]:
    """Hold a folder from the first reading of it to the end of the writing.

    What an earlier writing left half done when it was cut short is finished first; `say` is told.

    Raises:
        CannotWrite: if it cannot be made or held.
        UserError: if what was cut short cannot be finished.
    """
    with locked(folder, say=say, patience=patience):
        try:
            finished = finish(folder, replace=replace)
        except OSError as fault:
            raise cannot_write(folder, fault) from fault
        if finished and say is not None:
            say(f"an earlier writing into '{folder}' was cut short; it is finished now")
        yield


def is_whole(folder: Path, *, patience: float) -> bool:
    """Whether all files of a folder are of one set, for those who only read it.

    While they are being exchanged it waits; what was cut short it finishes.
    """
    if not is_unfinished(folder):
        return True
    try:
        with held(folder, replace=False, patience=patience):
            return True
    except UserError:
        return False


def write_set(
    folder: Path,
    files: Mapping[str, bytes],
    manifest: Mapping[str, Any],
    *,
    replace: bool,
    kept: Collection[str] = (),
) -> None:
    """Write `files` and their manifest into a `held` folder; a name may say a subfolder.

    Files of an earlier print of the same job are replaced, and taken away where the new print has
    none of that name, unless they are among `kept`.  Anything else of the same name stops the
    writing unless `replace` is set.

    Raises:
        CannotWrite: with nothing changed; or, if it says so, to be finished by the next run.
    """
    earlier = _ours(folder)
    _refuse_foreign_files(folder, files, earlier, manifest, replace)
    before = earlier.get("files", {})
    digests = {name: of for name, of in before.items() if name in kept}
    digests |= {name: digest(data) for name, data in files.items()}
    gone = [name for name in before if name not in digests and _is_unchanged(folder, name, before)]
    everything = {**files, MANIFEST: sealed({**manifest, "files": digests})}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        exchange(folder, everything, gone)
    except OSError as fault:
        raise cannot_write(folder, fault, unfinished=is_unfinished(folder)) from fault


def make_folder(path: Path) -> None:
    """Make one folder, in a folder that is there.

    Raises:
        CannotWrite: if it cannot be made.
    """
    try:
        path.mkdir()
    except OSError as fault:
        raise cannot_write(path, fault) from fault


def write_new(path: Path, data: bytes) -> None:
    """Write one file that must not be there yet.

    Raises:
        CannotWrite: if it is there, or cannot be written.
    """
    try:
        with put(path, replace=False) as part:
            part.write_bytes(data)
    except FileExistsError as fault:
        raise CannotWrite(f"'{path}' is there already", "choose another name") from fault
    except OSError as fault:
        raise cannot_write(path, fault) from fault


def write_over(path: Path, data: bytes) -> None:
    """Write one file, in the place of one that may be there, whole or not at all.

    Raises:
        CannotWrite: if it cannot be written.
    """
    try:
        with put(path, replace=True) as part:
            part.write_bytes(data)
    except OSError as fault:
        raise cannot_write(path, fault) from fault


def replace_file(path: Path, data: bytes, *, expected: bytes) -> None:
    """Put `data` in the place of a file that still holds `expected`, whole or not at all.

    It keeps its rights; behind a link, the file that the link names is replaced.

    Raises:
        CannotWrite: if it has changed since it was read, or cannot be written.
    """
    try:
        real = path.resolve(strict=True)
        if real.read_bytes() != expected:
            raise CannotWrite(f"'{path}' has changed in the meantime", "run the command again")
        with put(real, replace=True) as part:
            part.chmod(stat.S_IMODE(real.stat().st_mode))
            part.write_bytes(data)
    except OSError as fault:
        raise cannot_write(path, fault) from fault


def _ours(folder: Path) -> dict[str, Any]:
    """The manifest of an earlier print; empty if there is none that can be read."""
    try:
        found = opened((folder / MANIFEST).read_bytes())
    except (OSError, BadSeal):
        return {}
    return found if isinstance(found.get("files"), dict) else {}


def _refuse_foreign_files(
    folder: Path,
    files: Mapping[str, bytes],
    earlier: Mapping[str, Any],
    manifest: Mapping[str, Any],
    replace: bool,
) -> None:
    if folder.exists() and not folder.is_dir():
        raise CannotWrite(f"'{folder}' is a file, not a folder", "name a folder after --out")
    for path in subfolders(folder, files):
        # A link would lead the writing to a place that nobody named.
        if path.is_symlink() or (path.exists() and not path.is_dir()):
            raise CannotWrite(f"'{path}' is no folder of its own", "move it away")
    for name in (*files, MANIFEST):
        if (folder / name).is_dir():
            raise CannotWrite(f"'{folder / name}' is a folder, not a file", "move it away")
    if replace:
        return
    if earlier and earlier.get("job_code") != manifest.get("job_code"):
        raise CannotWrite(
            f"'{folder}' has the print of another job ({earlier.get('job_code')})",
            "choose another folder, or add --replace",
        )
    before = earlier.get("files", {})
    for name in files:
        path = folder / name
        if (path.exists() or path.is_symlink()) and not _is_unchanged(folder, name, before):
            raise CannotWrite(
                f"'{path}' was not made by cardgen or has been changed since",
                "move it away, choose another folder, or add --replace",
            )


def _is_unchanged(folder: Path, name: str, before: Mapping[str, str]) -> bool:
    """What an earlier print left, byte for byte."""
    try:
        return digest_of(folder / name) == before.get(name)
    except OSError:
        return False
