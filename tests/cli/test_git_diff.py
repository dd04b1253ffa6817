"""What `git diff` shows of a rig once a clone is set up."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cli.repository import RIG, Repository, repository
from tests.conftest import Run


@pytest.fixture
def repo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run: Run) -> Repository:
    made = repository(tmp_path, monkeypatch)
    run("git", "setup")
    return made


@pytest.mark.parametrize(
    ("old", "new", "heading"),
    [
        ('serial "A1"', 'serial "A2"', 'box SL "Stage left" is box8 in stage'),
        ("xlr-f }", "xlr-m }", 'model box8 "Stage box"'),
        ("xlr 15 m", "xlr 20 m", 'source kick "Kick" dynamic in stage to SL.mic 1 via xlr 10 m'),
    ],
)
def test_a_stretch_is_headed_by_the_block_it_is_in(repo: Repository, old: str, new: str, heading: str) -> None:
    repo.commit(RIG.replace(old, new))
    heads = re.findall(r"^@@ .* @@ (.*)$", repo.git("diff", "-U1", "HEAD~"), re.MULTILINE)
    assert heads == [heading]


@pytest.mark.parametrize(
    ("old", "new", "shown"),
    [
        ("link A: SL.mic 1-12 -- B", "link A: SL.mic 1-16 -- B", "link A: [-SL.mic 1-12-]{+SL.mic 1-16+} -- B"),
        ("via cat6 60 m", "via cat6 65 m", "via cat6 [-60 m-]{+65 m+}"),
        ("via cat6 60m", "via cat5e 60m", "via [-cat6-]{+cat5e+} 60m"),
        ('"Lead vocal"', '"Back vocal"', '[-"Lead vocal"-]{+"Back vocal"+}'),
        (r'"a \" b"', r'"a \" c"', r'[-"a \" b"-]{+"a \" c"+}'),
        ("SL.mic 1,3 -> DESK.ch 1-2", "SL.mic 1,4 -> DESK.ch 1-2", "[-SL.mic 1,3-]{+SL.mic 1,4+} -> DESK.ch 1-2"),
        ("DR 5 via xlr", "DR 6 via xlr", "DR [-5-]{+6+} via xlr"),
        ("wdg-1 to SR", "wdg-2 to SR", "[-wdg-1-]{+wdg-2+} to SR"),
        ("at (0, -18) m", "at (0, -20) m", "at (0, -[-18-]{+20+}) m"),
        ("date 2026-12-04", "date 2026-12-05", "date [-2026-12-04-]{+2026-12-05+}"),
        ("110 pF/m", "120 pF/m", "[-110 pF/m-]{+120 pF/m+}"),
        ("A -- B", "A -> B", "A [----]{+->+} B"),
        ('# 5" pipe\nbox Ö is m\n', '# 6" pipe\nbox Ü is m\n', '# [-5-]{+6+}" pipe\nbox [-Ö-]{+Ü+} is m'),
        ("# for 2 mics", "# for 3 mics", "# for [-2 mics-]{+3 mics+}"),
    ],
)
def test_words_are_those_of_the_language(repo: Repository, old: str, new: str, shown: str) -> None:
    repo.commit(f"{old}\n", "words.rig")
    repo.commit(f"{new}\n", "words.rig")
    diff = repo.git("diff", "--word-diff", "HEAD~", "--", "words.rig")
    assert "\n".join(diff.splitlines()[5:]).rstrip() == shown


def test_the_meaning_shows_only_what_changes(repo: Repository, run: Run) -> None:
    run("git", "setup", "--meaning")
    lines = RIG.splitlines(keepends=True)
    vocal = 'source vox   "Lead vocal" dynamic in stage to SL.mic 4 via xlr 15 m  # moved\n'
    repo.commit("".join([*lines[:2], vocal, *lines[2:-1]]))
    diff = repo.git("diff", "HEAD~", "--", "night.rig").splitlines()
    assert [line for line in diff[4:] if line[0] in "+-"] == ["-source vox: to SL.mic 3", "+source vox: to SL.mic 4"]


def test_a_file_that_cannot_be_read_is_shown_as_it_is(repo: Repository, run: Run) -> None:
    run("git", "setup", "--meaning")
    repo.commit("box SL is\n")
    assert "+box SL is" in repo.git("diff", "HEAD~", "--", "night.rig").splitlines()


def test_the_meaning_of_a_file(repo: Repository, run: Run) -> None:
    Path("-odd name.rig").write_text("clock DESK\n")
    assert run("git", "meaning", "--", "-odd name.rig").out == "clock DESK\n"
    assert run("git", "meaning", "none.rig").err == "rigdsl: there is no file `none.rig`\n"
    assert run("git", "meaning", ".").status == 2


def test_the_meaning_of_standard_input(repo: Repository, run: Run) -> None:
    assert run("git", "meaning", "-", stdin="clock   DESK\n").out == "clock DESK\n"


def test_why_a_file_is_shown_as_it_is(repo: Repository, run: Run) -> None:
    said = run("git", "meaning", "-", stdin="clock DESK\nbox SL\n")
    assert (said.status, said.out) == (0, "clock DESK\nbox SL\n")
    assert said.err.startswith("rigdsl: `-` is shown as it is: line 2 cannot be read: `is` and the model are missing\n")
    assert said.err.count("\n") == 1
    Path("null.rig").write_bytes(b"zone \0\n")
    assert run("git", "meaning", "null.rig").err == "rigdsl: `null.rig` is shown as it is: `null.rig` is no text file\n"
