"""`rigdsl tidy`: what it writes, what it leaves alone, and how it ends."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

from rigdsl.cli import tidy as tidying
from rigdsl.syntax.tidy import Tidied
from tests.cli.club import CLEAN
from tests.conftest import Run

LOOSE = 'rig   "Lantern Hall"\n\n\nzone wing # the left one\nstock xlr 10m x 4'
TIDY = 'rig "Lantern Hall"\n\nzone wing  # the left one\nstock xlr 10 m x 4\n'

TOLD = "not tidy: gear/house.rig\nnot tidy: show.rig\nto mend it: `rigdsl tidy`\n"


@pytest.fixture
def project(folder: Path) -> Path:
    """A show, gear that it does not use, and a file in the layout."""
    (folder / "gear").mkdir()
    (folder / "show.rig").write_text(LOOSE)
    (folder / "gear" / "house.rig").write_text("cable  c {}\n")
    (folder / "good.rig").write_text(TIDY)
    (folder / "notes.txt").write_text("clock   A")
    return folder


def texts(folder: Path) -> list[str]:
    return [path.read_text() for path in sorted(folder.glob("**/*.rig"))]


def test_a_whole_project(project: Path, run: Run) -> None:
    ran = run("tidy")
    assert (ran.status, ran.out, ran.err) == (0, "tidied: gear/house.rig\ntidied: show.rig\n", "")
    assert texts(project) == ["cable c { }\n", TIDY, TIDY]
    assert (project / "notes.txt").read_text() == "clock   A"
    again = run("tidy")
    assert (again.status, again.out) == (0, "nothing to tidy in 3 files\n")


def test_the_whole_project_is_all_of_it_whatever_rig_toml_checks(project: Path, run: Run) -> None:
    (project / "rig.toml").write_text('[project]\nrigs = ["good.rig"]\n')
    assert run("tidy", "--check").out == TOLD


def test_check_names_and_writes_nothing(project: Path, run: Run) -> None:
    before = texts(project)
    ran = run("tidy", "--check")
    assert (ran.status, ran.out, ran.err) == (1, TOLD, "")
    assert texts(project) == before
    good = run("tidy", "--check", "good.rig")
    assert (good.status, good.out) == (0, "nothing to tidy in 1 file\n")


def test_diff_is_a_patch_and_writes_nothing(project: Path, run: Run) -> None:
    ran = run("tidy", "--diff")
    assert ran.status == 1
    assert texts(project)[2] == LOOSE
    subprocess.run(["git", "apply", "-p0", "-"], input=ran.out.encode(), check=True, cwd=project)
    assert texts(project) == ["cable c { }\n", TIDY, TIDY]
    good = run("tidy", "--diff")
    assert (good.status, good.out, good.err) == (0, "", "")


def test_diff(project: Path, run: Run) -> None:
    assert run("tidy", "show.rig", "--diff").out == (
        "--- show.rig\n+++ show.rig\n@@ -1,5 +1,4 @@\n"
        '-rig   "Lantern Hall"\n+rig "Lantern Hall"\n \n-\n'
        "-zone wing # the left one\n-stock xlr 10m x 4\n\\ No newline at end of file\n"
        "+zone wing  # the left one\n+stock xlr 10 m x 4\n"
    )


def test_standard_input_to_standard_output(folder: Path, run: Run) -> None:
    ran = run("tidy", "-", stdin=LOOSE)
    assert (ran.status, ran.out, ran.err) == (0, TIDY, "")
    good = run("tidy", "-", stdin=TIDY)
    assert (good.status, good.out) == (0, TIDY)
    told = run("tidy", "-", "--check", stdin=LOOSE)
    assert (told.status, told.out) == (1, "not tidy: -\n")
    shown = run("tidy", "-", "--diff", stdin=LOOSE)
    assert shown.status == 1
    assert shown.out.startswith("--- -\n+++ -\n")


def test_some_lines(project: Path, run: Run) -> None:
    assert run("tidy", "show.rig", "--lines", "2-4").status == 0
    assert (project / "show.rig").read_text() == LOOSE.replace("\n\n\n", "\n\n").replace(" #", "  #")
    assert run("tidy", "show.rig", "--lines", "1").status == 0
    assert (project / "show.rig").read_text() == TIDY.replace("10 m", "10m").rstrip("\n")
    assert run("tidy", "-", "--lines", "5-9", stdin=LOOSE).out == LOOSE.replace("10m", "10 m") + "\n"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["nowhere.rig"], "there is no file `nowhere.rig`"),
        (["show.rig", "notes.txt"], "`notes.txt` is no rig file and stays as it is: their names end in `.rig`"),
        (["rig.toml"], "`rig.toml` is no rig file and stays as it is: their names end in `.rig`"),
        (["-", "show.rig"], "`-` is standard input, and goes to standard output: it stands alone"),
        (["--lines", "1-2"], "`--lines` is for one file: name it"),
        (["show.rig", "good.rig", "--lines", "1-2"], "`--lines` is for one file: name it"),
        (["gear", "--lines", "1-2"], "`--lines` is for one file: name it"),
        (["show.rig", "--lines", "6-9"], "`show.rig` has 5 lines, and `--lines` begins at 6"),
        *(
            (
                ["show.rig", "--lines", lines],
                f"`--lines` takes the first and the last line, as `--lines 10-25`; `{lines}` is not that",
            )
            for lines in ("0", "3-2", "a", "1,2", "-4", "")
        ),
    ],
)
def test_what_cannot_be_done(project: Path, run: Run, arguments: list[str], said: str) -> None:
    before = texts(project)
    ran = run("tidy", *arguments)
    assert (ran.status, ran.out, ran.err) == (2, "", f"rigdsl: {said}\n")
    assert texts(project) == before


def test_what_cannot_be_read_stays_and_is_told(project: Path, run: Run) -> None:
    (project / "show.rig").write_text("clock   A\nbox  B\n")
    ran = run("tidy", "show.rig")
    assert (ran.status, ran.out) == (0, "tidied: show.rig\n")
    assert ran.err == ("rigdsl: show.rig: 1 statement that cannot be read stays as it is; `rigdsl check` says why\n")
    assert (project / "show.rig").read_text() == "clock A\nbox  B\n"


def test_a_file_that_is_no_text_is_told_and_the_others_are_set(project: Path, run: Run) -> None:
    (project / "gear" / "house.rig").write_bytes(b"cable c\xff {}\n")
    ran = run("tidy")
    assert (ran.status, ran.out) == (2, "tidied: show.rig\n")
    assert ran.err == (
        "rigdsl: `gear/house.rig` is not in UTF-8: line 1 has a character in another encoding;"
        " save it as UTF-8 in your text editor\n"
    )


@pytest.mark.skipif(os.name == "nt", reason="links are those of Unix")
def test_a_link_to_nothing_is_told_and_the_others_are_set(project: Path, run: Run) -> None:
    (project / "gear" / "late.rig").symlink_to("nothing.rig")
    ran = run("tidy", "gear")
    assert (ran.status, ran.out) == (2, "tidied: gear/house.rig\n")
    assert ran.err == "rigdsl: `gear/late.rig` leads to a file that is not there; take the link away\n"


def test_a_file_that_cannot_be_written_is_told_and_the_others_are_set(
    project: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuses(path: Path, data: bytes) -> None:
        if path.name == "house.rig":
            raise PermissionError(13, "Permission denied", str(path))
        path.write_bytes(data)

    monkeypatch.setattr(tidying, "write", refuses)
    ran = run("tidy")
    assert (ran.status, ran.out) == (2, "tidied: show.rig\n")
    assert ran.err == "rigdsl: `gear/house.rig` stays as it is: permission denied\n"


def test_a_file_with_an_unsettled_merge_is_left_alone(project: Path, run: Run) -> None:
    text = "<<<<<<< ours\nclock   A\n=======\nclock  B\n>>>>>>> theirs\n"
    (project / "show.rig").write_text(text)
    ran = run("tidy", "show.rig")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == (
        "rigdsl: `show.rig` stays as it is: the merge is not settled in it;"
        " mend first what cannot be read in it, as `rigdsl check` tells\n"
    )
    assert (project / "show.rig").read_text() == text


def test_a_layout_that_goes_wrong_is_not_written(project: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tidying, "tidy", lambda text, lines: Tidied("clock X\n", 0, "it would not say the same"))
    for arguments in (["show.rig"], ["show.rig", "--check"], ["show.rig", "--diff"]):
        ran = run("tidy", *arguments)
        assert (ran.status, ran.out) == (2, "")
        assert ran.err == (
            "rigdsl: `show.rig` stays as it is: it would not say the same; that is a fault in rigdsl itself\n"
        )
    assert (project / "show.rig").read_text() == LOOSE


def test_line_ends_and_byte_order_mark(folder: Path, run: Run) -> None:
    """The one layout has neither a mark nor carriage returns; where only some lines are set, the file keeps both."""
    form = b"\xef\xbb\xbf" + LOOSE.replace("\n", "\r\n").encode()
    (folder / "a.rig").write_bytes(form)
    assert run("tidy", "a.rig", "--lines", "4").status == 0
    assert (folder / "a.rig").read_bytes() == form.replace(b" #", b"  #")
    assert run("tidy", "a.rig").status == 0
    assert (folder / "a.rig").read_bytes() == TIDY.encode()
    (folder / "a.rig").write_bytes(TIDY.replace("\n", "\r\n").encode())
    assert run("tidy", "--check").status == 1


@pytest.mark.skipif(os.name == "nt", reason="permissions and links are those of Unix")
def test_permissions_and_links_stay(project: Path, run: Run) -> None:
    (project / "show.rig").chmod(0o640)
    (project / "link.rig").symlink_to(project / "show.rig")
    assert run("tidy", "link.rig").out == "tidied: link.rig\n"
    assert (project / "link.rig").is_symlink()
    assert (project / "show.rig").read_text() == TIDY
    assert (project / "show.rig").stat().st_mode & 0o777 == 0o640


@pytest.mark.skipif(os.name == "nt", reason="links are those of Unix")
def test_a_link_that_leads_out_of_the_project_is_followed_only_by_name(
    project: Path, run: Run, tmp_path_factory: pytest.TempPathFactory
) -> None:
    other = tmp_path_factory.mktemp("other") / "other.rig"
    other.write_text(LOOSE)
    (project / "other.rig").symlink_to(other)
    run("tidy")
    run("tidy", ".")
    assert other.read_text() == LOOSE
    run("tidy", "other.rig")
    assert other.read_text() == TIDY


def test_a_file_that_stays_is_not_touched(project: Path, run: Run) -> None:
    os.utime(project / "good.rig", (1, 1))
    run("tidy")
    assert (project / "good.rig").stat().st_mtime == 1


def test_the_rig_is_the_same_before_and_after(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(CLEAN.replace(" via ", "   via  "))
    before = run("export", "friday.rig").out
    assert run("tidy").out == "tidied: friday.rig\n"
    assert run("export", "friday.rig").out == before
    assert (club / "friday.rig").read_text() == CLEAN


def test_a_lost_quote_whose_end_depends_on_blank_lines(folder: Path, run: Run) -> None:
    """A label is looked for over five lines at most: with fewer blank lines another quote would end it."""
    text = 'cable c "x {\n a\n }\n\n\n\n# "y\nclock   D\n'
    ran = run("tidy", "-", stdin=text)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err == (
        "rigdsl: `-` stays as it is: laid out anew it would not say the same;"
        " mend first what cannot be read in it, as `rigdsl check` tells\n"
    )
