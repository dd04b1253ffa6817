"""A history of thirty commits over eight shows: each says exactly what was done, of the nights that it was done to."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.cli.repository import commit, git, start
from tests.conftest import Run
from tests.review.tour import COMMITS, FILES, Commit


@pytest.fixture(scope="module")
def tour(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The repository with its whole history; commit `HEAD~0` is the last one."""
    folder = tmp_path_factory.mktemp("tour")
    (folder / "shows").mkdir()
    start(folder)
    for name, text in FILES.items():
        (folder / name).write_text(text, "utf-8")
    commit(folder, "the tour")
    for one in COMMITS:
        for name, old, new in one.edits:
            path = folder / name
            if new is None:
                path.unlink()
                continue
            text = path.read_text("utf-8")
            assert text.count(old) == 1, (one.message, name, old)
            path.write_text(text.replace(old, new), "utf-8")
        commit(folder, one.message)
    return folder


def test_thirty_commits_over_eight_shows() -> None:
    assert len(COMMITS) == 30
    assert len([name for name in FILES if name.startswith("shows/")]) == 8


def told(document: Mapping[str, Any]) -> Iterator[str]:
    """A rig's part of the document in short."""
    changes = document["changes"]
    if any(one["what"] == "rig" and one["kind"] == "removed" for one in changes):
        assert all(one["kind"] == "removed" for one in changes)
        yield "the rig is no longer there"
        return
    for one in changes:
        yield " > ".join([f"{one['kind']} {one['what']} {one['name']}".rstrip(), *one["effects"]])
    yield from (f"> {words}" for words in document["effects"])
    quiet = {"unused-port"} if not any(one["what"] == "box" for one in changes) else set()
    for sign, some in (("+", document["findings"]["new"]), ("-", document["findings"]["gone"])):
        yield from (f"{sign} {one['rule']} {one['subject']}" for one in some if one["rule"] not in quiet)


@pytest.mark.parametrize("at", range(len(COMMITS)), ids=[one.message for one in COMMITS])
def test_what_a_commit_says(tour: Path, run: Run, monkeypatch: pytest.MonkeyPatch, at: int) -> None:
    monkeypatch.chdir(tour)
    back = len(COMMITS) - 1 - at
    assert git(tour, "log", "-1", "--format=%s", f"HEAD~{back}") == COMMITS[at].message
    ran = run("compare", f"HEAD~{back + 1}", f"HEAD~{back}", "--as", "json")
    assert (ran.status, ran.err) == (0, "")
    found = {rig["rig"]: tuple(told(rig)) for rig in json.loads(ran.out)["rigs"]}
    assert found == wanted(COMMITS[at])


def wanted(one: Commit) -> dict[str, tuple[str, ...]]:
    return {f"shows/{night}.rig": lines for nights, lines in one.said.items() for night in nights}


def test_the_whole_tour_in_one(tour: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the first commit to the last: what came and went in between is not told."""
    monkeypatch.chdir(tour)
    ran = run("compare", f"HEAD~{len(COMMITS)}", "HEAD", "shows/3.rig", "--as", "json")
    lines = list(told(json.loads(ran.out)))
    assert not any("hat" in line or "DESK.ch 4" in line for line in lines)
    assert "renamed source lead > SR.mic 1: phantom off" in lines
    assert "changed source kick" in lines
