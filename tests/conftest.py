"""What every test may use."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import settings

from rigdsl.cli import main

# How long a drawn case takes says more about the machine than about the code: speed is measured by the benchmark.
settings.register_profile("rigdsl", deadline=None)
settings.load_profile("rigdsl")


@dataclass(frozen=True)
class Ran:
    """How a command ended: its exit status, and what it wrote where."""

    status: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty project, and the current folder."""
    (tmp_path / "rig.toml").write_text("# the root of a project\n")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def run(capfdbinary: pytest.CaptureFixture[bytes], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command in this process: `run("check", "friday.rig")`, `run("check", "-", stdin="...")`."""
    for name in ("CI", "NO_COLOR", "FORCE_COLOR", "SOURCE_DATE_EPOCH"):
        monkeypatch.delenv(name, raising=False)

    def ran(*arguments: str, stdin: str = "") -> Ran:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(stdin.encode("utf-8")), "utf-8"))
        status = main(arguments)
        out, err = capfdbinary.readouterr()
        return Ran(status, out.decode("utf-8"), err.decode("utf-8"))

    return ran
