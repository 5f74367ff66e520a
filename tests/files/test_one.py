"""One file whole or not at all, also on a disk that knows no links (simulated)."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from cardgen.files.one import put


def fill(path: Path, text: str) -> None:
    with put(path, replace=False) as part:
        part.write_text(text, encoding="utf-8")


@pytest.mark.parametrize("fault", [errno.EPERM, errno.ENOTSUP, errno.ENOSYS, errno.EINVAL, None])
def test_a_disk_without_links(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fault: int | None
) -> None:
    """As FAT, some network shares and phones are: a link is refused in one way or another."""

    def refuse(*_: object) -> None:
        raise OSError(fault, "no links here")

    if fault is None:
        monkeypatch.delattr(os, "link")
    else:
        monkeypatch.setattr(os, "link", refuse)
    job = tmp_path / "job.yaml"
    fill(job, "one")
    assert job.read_text(encoding="utf-8") == "one"
    with pytest.raises(FileExistsError):
        fill(job, "two")
    assert job.read_text(encoding="utf-8") == "one"
    assert [path.name for path in tmp_path.iterdir()] == ["job.yaml"]


def test_a_folder_that_takes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where neither link nor rename works, nothing stays behind."""

    def refuse(*_: object) -> None:
        raise OSError(errno.EPERM, "not permitted")

    monkeypatch.setattr(os, "link", refuse)
    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(OSError, match="not permitted"):
        fill(tmp_path / "job.yaml", "one")
    assert not list(tmp_path.iterdir())
