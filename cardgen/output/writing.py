"""Write a set of files whole or not at all, and never over what is not ours.

all bytes ready -> every file beside its place as `.NAME.part`, on disk -> renamed one by one
-> the manifest last.  Killed at any moment, each file is the whole old one or the whole new one.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import stat
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path
from typing import Any

from cardgen.memory.prints import MANIFEST
from cardgen.memory.sealing import Broken, opened, sealed
from cardgen.problems import UserError


class CannotWrite(UserError):
    """The output folder cannot take the files."""


def write_set(
    folder: Path,
    files: Mapping[str, bytes],
    manifest: Mapping[str, Any],
    *,
    replace: bool,
    kept: Collection[str] = (),
) -> None:
    """Write `files` and their manifest into `folder`; a name may say a subfolder: `VB-1/a.html`.

    Files of an earlier print of the same job are replaced, and taken away where the new print has
    none of that name, unless they are among `kept`.  Anything else of the same name stops the
    writing unless `replace` is set.

    Raises:
        CannotWrite: with nothing changed, or (if a rename failed half-way) with whole files only.
    """
    earlier = _ours(folder)
    _refuse_strangers(folder, files, earlier, manifest, replace)
    hashes = {name: digest for name, digest in earlier.get("files", {}).items() if name in kept}
    hashes |= {name: hashlib.sha256(data).hexdigest() for name, data in files.items()}
    everything = {**files, MANIFEST: sealed({**manifest, "files": hashes})}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _make_subfolders(folder, everything)
        _write_parts(folder, everything)
        for name in everything:
            _part(folder, name).replace(folder / name)
        for name in earlier.get("files", {}):
            if name not in hashes and _is_unchanged(folder, name, earlier):
                (folder / name).unlink()
        for each in sorted({(folder / name).parent for name in everything}):
            sync_folder(each)
    except OSError as fault:
        _remove_parts(folder, everything)
        raise cannot(folder, fault) from fault


def write_new(path: Path, data: bytes) -> None:
    """Write one file that must not be there yet.

    Raises:
        CannotWrite: if it is there, or cannot be written.
    """
    part = path.with_name(f".{path.name}.part")
    try:
        with part.open("wb") as stream:
            _flush(stream, data)
        os.link(part, path)  # unlike a rename, it fails if the file is there
    except FileExistsError as fault:
        raise CannotWrite(f"'{path}' is there already", "choose another name") from fault
    except OSError as fault:
        raise cannot(path, fault) from fault
    finally:
        with contextlib.suppress(OSError):
            part.unlink()


def replace_file(path: Path, data: bytes, *, expected: bytes) -> None:
    """Put `data` in the place of a file that still holds `expected`, whole or not at all.

    It keeps its rights; behind a link, the file that the link names is replaced.

    Raises:
        CannotWrite: if it has changed since it was read, or cannot be written.
    """
    part = path
    try:
        real = path.resolve(strict=True)
        if real.read_bytes() != expected:
            raise CannotWrite(f"'{path}' has changed in the meantime", "run the command again")
        part = real.with_name(f".{real.name}.part")
        with part.open("wb") as stream:
            part.chmod(stat.S_IMODE(real.stat().st_mode))
            _flush(stream, data)
        part.replace(real)
        sync_folder(real.parent)
    except OSError as fault:
        raise cannot(path, fault) from fault
    finally:
        if part != path:
            with contextlib.suppress(OSError):
                part.unlink()


def _ours(folder: Path) -> dict[str, Any]:
    """The manifest of an earlier print; empty if there is none that can be read."""
    try:
        found = opened((folder / MANIFEST).read_bytes())
    except (OSError, Broken):
        return {}
    return found if isinstance(found.get("files"), dict) else {}


def _refuse_strangers(
    folder: Path,
    files: Mapping[str, bytes],
    earlier: Mapping[str, Any],
    manifest: Mapping[str, Any],
    replace: bool,
) -> None:
    if folder.exists() and not folder.is_dir():
        raise CannotWrite(f"'{folder}' is a file, not a folder", "name a folder after --out")
    for path in _subfolders(folder, files):
        # A link would lead the writing to a place that nobody named.
        if path.is_symlink() or (path.exists() and not path.is_dir()):
            raise CannotWrite(f"'{path}' is no folder of its own", "move it away")
    if replace:
        return
    if earlier and earlier.get("job") != manifest.get("job"):
        raise CannotWrite(
            f"'{folder}' holds the print of another job ({earlier.get('job')})",
            "choose another folder, or add --replace",
        )
    strangers = [
        name
        for name, data in files.items()
        if (folder / name).exists()
        and not _is_unchanged(folder, name, earlier)
        and not _holds(folder / name, data)  # left by a writing that was cut short
    ]
    if strangers:
        raise CannotWrite(
            f"'{folder / strangers[0]}' was not made by cardgen or has been changed since",
            "move it away, choose another folder, or add --replace",
        )


def _is_unchanged(folder: Path, name: str, earlier: Mapping[str, Any]) -> bool:
    """What an earlier print left, byte for byte."""
    expected = earlier.get("files", {}).get(name)
    try:
        data = (folder / name).read_bytes()
    except OSError:
        return False
    return expected is not None and hashlib.sha256(data).hexdigest() == expected


def _holds(path: Path, data: bytes) -> bool:
    try:
        return not path.is_symlink() and path.read_bytes() == data
    except OSError:
        return False


def _subfolders(folder: Path, names: Iterable[str]) -> list[Path]:
    """Each folder inside that one of the files lies in, outer ones first."""
    inside = {
        folder / parent for name in names for parent in Path(name).parents if parent != Path()
    }
    return sorted(inside)


def _make_subfolders(folder: Path, names: Iterable[str]) -> None:
    """All of them, or (with a full disk) none."""
    made: list[Path] = []
    try:
        for path in _subfolders(folder, names):
            if not path.exists():
                path.mkdir()
                made.append(path)
    except OSError:
        for path in reversed(made):
            with contextlib.suppress(OSError):
                path.rmdir()
        raise


def _part(folder: Path, name: str) -> Path:
    path = folder / name
    return path.with_name(f".{path.name}.part")


def _write_parts(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, data in files.items():
        with _part(folder, name).open("wb") as stream:
            _flush(stream, data)


def _flush(stream: Any, data: bytes) -> None:
    stream.write(data)
    stream.flush()
    os.fsync(stream.fileno())


def _remove_parts(folder: Path, names: Iterable[str]) -> None:
    for name in names:
        with contextlib.suppress(OSError):
            _part(folder, name).unlink()


def sync_folder(folder: Path) -> None:
    """Make the renames last; not every system lets a folder be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def cannot(path: Path, fault: OSError) -> CannotWrite:
    reason = (fault.strerror or str(fault)).lower()
    return CannotWrite(
        f"'{path}' cannot be written: {reason}",
        "look for a full disk, a folder without the right to write, or a file open elsewhere",
    )
