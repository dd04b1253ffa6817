"""Files are written whole or not at all; what is no file is left what it is."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from rigdsl.cli.streams import write


def test_a_new_file_and_its_folders(tmp_path: Path) -> None:
    write(tmp_path / "a" / "b" / "flow.svg", b"<svg/>")
    assert (tmp_path / "a" / "b" / "flow.svg").read_bytes() == b"<svg/>"
    assert [path.name for path in (tmp_path / "a" / "b").iterdir()] == ["flow.svg"]


def test_a_file_keeps_its_permissions_and_a_link_stays_a_link(tmp_path: Path) -> None:
    real, link = tmp_path / "real.svg", tmp_path / "link.svg"
    real.write_bytes(b"old")
    real.chmod(0o640)
    link.symlink_to(real)
    write(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"
    assert real.stat().st_mode & 0o777 == 0o640


def test_a_disk_that_is_full_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "flow.svg"
    target.write_bytes(b"old")

    def full(*names: str) -> None:
        raise OSError(28, "No space left on device", names[0])

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space left") as trouble:
        write(target, b"new")
    assert trouble.value.filename == str(target)
    assert target.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["flow.svg"]


def test_a_pipe_is_written_to_and_not_replaced(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write(pipe, b"drawing")
        assert os.read(reader, 100) == b"drawing"
    finally:
        os.close(reader)
    assert not pipe.is_file()


def test_a_folder_in_the_way(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="directory") as trouble:
        write(tmp_path, b"drawing")
    assert trouble.value.filename == str(tmp_path)
