"""`rigdsl start`: what it writes, what it leaves alone, and what it says."""

from __future__ import annotations

import builtins
import csv
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import Run
from tests.start.made import HEAD, as_csv, as_xlsx

EXAMPLE = Path(__file__).parents[2] / "examples" / "club" / "band-list.csv"
NEW = [".ci/check.sh", ".gitattributes", "README.md", "gear/gear.rig", "rig.toml", "venue/house.rig"]
LIST = [HEAD, (1, "Kick", "dynamic", "short boom"), (2, "OH", "", "", "x"), (4, "Vox"), (3, "Bass", "DI")]


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder, and the current one."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "list.csv").write_bytes(as_csv(LIST))
    return tmp_path


def files(folder: Path) -> dict[str, bytes]:
    """All files below a folder."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


class TestNewProject:
    def test_it_is_whole_and_says_what_to_do_next(self, place: Path, run: Run) -> None:
        ran = run("start", "barn")
        assert (ran.status, ran.err) == (0, "")
        there = sorted([*NEW, "shows/first-show.rig"])
        assert sorted(files(place / "barn")) == there
        assert ran.out.splitlines() == [
            *(f"written: barn/{name}" for name in there),
            "next: rigdsl check barn",
            "      rigdsl draw barn/shows/first-show.rig --out made",
            "      rigdsl papers barn/shows/first-show.rig --out made",
        ]

    def test_nothing_at_all_is_found_in_it_and_what_it_says_next_works(self, place: Path, run: Run) -> None:
        for line in run("start", "barn").out.splitlines()[-3:]:
            ran = run(*line.removeprefix("next:").split()[1:])
            assert (ran.status, ran.err) == (0, "")
        assert run("check", "barn").out == "nothing to mend in 1 rig\n"
        assert {"index.html", "first-show-flow.svg", "first-show-input-list.md"} <= set(files(place / "made"))

    def test_its_data_are_marked_as_invented(self, place: Path, run: Run) -> None:
        run("start", "barn")
        run("start", "mill", "--from", "list.csv")
        for name in ("barn/shows/first-show.rig", "mill/shows/band-show.rig"):
            assert "- demo data\n" in run("papers", name, "input-list").out
        for name, data in {**files(place / "barn"), **files(place / "mill")}.items():
            if name.endswith((".rig", ".md")) and "shows/band.rig" not in name:
                assert b"emo data" in data, name

    def test_the_same_bytes_every_time(self, place: Path, run: Run) -> None:
        for name in ("a", "b"):
            run("start", name, "--from", "list.csv")
        assert files(place / "a") == files(place / "b")

    def test_into_the_current_folder(self, place: Path, run: Run) -> None:
        ran = run("start", ".")
        assert "written: rig.toml" in ran.out
        assert "next: rigdsl check .\n" in ran.out

    @pytest.mark.skipif(os.name == "nt", reason="needs bash")
    def test_the_example_for_a_server_works(self, place: Path, run: Run) -> None:
        run("start", "barn")
        programs = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
        done = subprocess.run(
            ["bash", "barn/.ci/check.sh"], env={**os.environ, "PATH": programs}, capture_output=True, check=False
        )
        assert (done.returncode, done.stderr) == (0, b"")
        assert (place / "barn" / "made" / "first-show-input-list.md").is_file()

    def test_what_the_settings_offer_can_be_set(self, place: Path, run: Run) -> None:
        run("start", "barn")
        path = place / "barn" / "rig.toml"
        text = path.read_text()
        for line in ("fail-on =", "edition =", "[rules.", "level ="):
            assert text.count(f"\n# {line}") == 1
            text = text.replace(f"\n# {line}", f"\n{line}")
        path.write_text(text)
        assert run("check", "barn").out == "nothing to mend in 1 rig\n"


class TestWhatIsThereStays:
    def test_each_file_is_left_and_named(self, place: Path, run: Run) -> None:
        (place / "barn" / "venue").mkdir(parents=True)
        (place / "barn" / "venue" / "house.rig").write_text("# mine\n")
        (place / "barn" / "README.md").symlink_to("nowhere")
        ran = run("start", "barn")
        assert "left as it is: barn/venue/house.rig\n" in ran.out
        assert "left as it is: barn/README.md\n" in ran.out
        assert (place / "barn" / "venue" / "house.rig").read_text() == "# mine\n"
        assert os.readlink(place / "barn" / "README.md") == "nowhere"

    def test_a_second_start_writes_nothing(self, place: Path, run: Run) -> None:
        run("start", "barn")
        before = files(place / "barn")
        ran = run("start", "barn")
        assert (ran.status, files(place / "barn")) == (0, before)
        assert "written" not in ran.out

    def test_a_list_for_a_project_that_is_there(self, place: Path, run: Run) -> None:
        run("start", "barn")
        before = files(place / "barn")
        run("start", "barn", "--from", "list.csv")
        after = files(place / "barn")
        assert {name: after[name] for name in before} == before
        assert set(after) - set(before) == {"shows/band.rig", "shows/band-show.rig"}

    def test_a_newer_list_touches_the_one_file(self, place: Path, run: Run) -> None:
        run("start", "barn", "--from", "list.csv")
        (place / "barn" / "README.md").unlink()
        before = files(place / "barn")
        (place / "newer.csv").write_bytes(as_csv([*LIST[:-1], (5, "Bass", "DI"), (6, "Banjo")]))
        ran = run("start", "barn", "--from", "newer.csv")
        after = files(place / "barn")
        assert [name for name in after if after[name] != before.get(name)] == ["shows/band.rig"]
        assert "1 new, 1 changed, 0 gone, 3 unchanged\n" in ran.out

    def test_no_source_takes_a_name_that_the_house_has(self, place: Path, run: Run) -> None:
        rows = [HEAD, (1, "SL"), (2, "stage"), (3, "main"), (4, "foh"), (5, "C01"), (6, "reel6")]
        (place / "list.csv").write_bytes(as_csv(rows))
        run("start", "barn", "--from", "list.csv")
        assert "repeated-name" not in run("check", "barn").out
        said = (place / "barn" / "shows" / "band.rig").read_text()
        names = [line.split()[1] for line in said.splitlines() if line.startswith("source ")]
        assert names == ["sl-2", "stage-2", "main-2", "foh-2", "c01-2", "reel6"]


class TestList:
    def test_the_show_has_the_sources_in_the_order_of_the_band(self, place: Path, run: Run) -> None:
        ran = run("start", "barn", "--from", "list.csv")
        assert ran.status == 0
        assert "barn/shows/band.rig: 4 sources in the list, the types of 2 guessed" in ran.out
        assert "4 new, 0 changed, 0 gone, 0 unchanged\n" in ran.out
        table = run("papers", "barn/shows/band-show.rig", "input-list", "--as", "csv").out
        rows = [line[1:4:2] for line in csv.reader(table.splitlines()[1:])]
        assert rows == [[f"DESK.ch {at}", name] for at, name in enumerate(["Kick", "OH", "Bass", "Vox"], 1)]

    def test_only_what_is_missing_is_found(self, place: Path, run: Run) -> None:
        run("start", "barn", "--from", "list.csv")
        found = run("check", "barn").out
        assert found.count("[unplugged-source]") == 4
        assert found.endswith("4 errors, 1 note in 1 rig\n")
        assert "`SL.mic 1-32` are free" in found

    def test_plugged_in_all_is_well(self, place: Path, run: Run) -> None:
        run("start", "barn", "--from", "list.csv")
        path = place / "barn" / "shows" / "band.rig"
        lines = path.read_text().splitlines()
        types = (" dynamic", " condenser", " di")
        at = iter(range(1, 5))
        for number, line in enumerate(lines):
            if line.startswith("source "):
                type_ = next(word for word in types if f'"{word}' in line)
                plug = f"{type_} in stage to SL.mic {next(at)} via xlr 10 m"
                lines[number] = line.replace(type_, plug, 1)
        path.write_text("\n".join([*lines, 'keep SL.mic 5-32 for "more"', ""]))
        assert run("check", "barn").out == "nothing to mend in 1 rig\n"
        again = run("start", "barn", "--from", "list.csv")
        assert "0 new, 0 changed, 0 gone, 4 unchanged\n" in again.out
        assert run("check", "barn").out == "nothing to mend in 1 rig\n"

    def test_a_workbook_and_standard_input_say_the_same(self, place: Path, run: Run) -> None:
        (place / "list.xlsx").write_bytes(as_xlsx(LIST))
        run("start", "a", "--from", "list.csv")
        run("start", "b", "--from", "list.xlsx")
        run("start", "c", "--from", "-", stdin=as_csv(LIST).decode())
        assert files(place / "a") == files(place / "b") == files(place / "c")

    def test_what_is_not_understood_is_told_in_a_line_each(self, place: Path, run: Run) -> None:
        (place / "list.csv").write_bytes(as_csv([(*HEAD, "Colour"), ("TB", "Talk"), ("7",), (8, "Gtr", "ribbon")]))
        ran = run("start", "barn", "--from", "list.csv")
        assert ran.status == 0
        assert ran.err.splitlines() == [
            'rigdsl: list.csv: the column "Colour" is not known: it is kept in the remarks',
            'rigdsl: list.csv: row 2: channel "TB" is not understood, and kept as a remark',
            "rigdsl: list.csv: row 3 has no name: it is kept as a remark",
            "rigdsl: phantom can damage a ribbon microphone that needs none: be sure that it is off before one is"
            " plugged in",
        ]

    def test_the_file_keeps_its_line_ends(self, place: Path, run: Run) -> None:
        run("start", "barn", "--from", "list.csv")
        path = place / "barn" / "shows" / "band.rig"
        data = b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n")
        path.write_bytes(data)
        run("start", "barn", "--from", "list.csv")
        assert path.read_bytes() == data
        (place / "list.csv").write_bytes(as_csv([*LIST, (9, "Banjo")]))
        run("start", "barn", "--from", "list.csv")
        assert path.read_bytes().startswith(data)
        assert path.read_bytes().count(b"\n") == path.read_bytes().count(b"\r\n")

    def test_a_show_that_does_not_use_it_is_told(self, place: Path, run: Run) -> None:
        run("start", "barn", "--from", "list.csv")
        show = place / "barn" / "shows" / "band-show.rig"
        show.write_text(show.read_text().replace('use "band.rig"', '# use "band.rig"'))
        assert "no show uses `shows/band.rig` yet" in run("start", "barn", "--from", "list.csv").err

    def test_the_example(self, place: Path, run: Run) -> None:
        ran = run("start", "barn", "--from", str(EXAMPLE))
        assert ran.status == 0
        assert "18 new, 0 changed, 0 gone, 0 unchanged\n" in ran.out
        assert [line.rpartition("band-list.csv: ")[2] for line in ran.err.splitlines()][:-1] == [
            'the column "Colour" is not known: it is kept in the remarks',
            "row 19 is spare: it is kept as a remark",
            'row 22: channel "TB" is not understood, and kept as a remark',
        ]
        found = run("check", "barn").out
        rules = {line.rpartition("[")[2] for line in found.splitlines() if line.endswith("]")}
        assert rules == {"unplugged-source]", "unused-port]"}


def test_a_missing_reader_of_workbooks_is_told(place: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    (place / "list.xlsx").write_bytes(as_xlsx(LIST))
    whole = builtins.__import__

    def without(name: str, *arguments: Any, **more: Any) -> Any:
        if name == "openpyxl":
            raise ModuleNotFoundError("no such thing", name="openpyxl")
        return whole(name, *arguments, **more)

    monkeypatch.setattr(builtins, "__import__", without)
    ran = run("start", "barn", "--from", "list.xlsx")
    said = "rigdsl: a workbook needs `openpyxl`, which is not installed: `pip install 'rigdsl[papers]'`\n"
    assert (ran.status, ran.out, ran.err) == (2, "", said)
    assert not (place / "barn").exists()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["list.csv"], "`list.csv` is a file, and a folder is needed there"),
        (["list.csv/barn"], "`list.csv` is a file, and a folder is needed there"),
        ([""], "FOLDER is empty: name the folder of the project"),
        (["half"], "`half/shows` is a file, and a folder is needed there"),
        (["barn", "--from", "nowhere.csv"], "there is no file `nowhere.csv`"),
        (["barn", "--from", "half"], "`half` is a folder: --from takes a file"),
        (["barn", "--from", "empty.csv"], "`empty.csv` cannot be read as a list: there is nothing in it"),
        (
            ["barn", "--from", "plain.csv"],
            "`plain.csv` cannot be read as a list: no row of headings is in it: one column must be headed `name`,"
            " `source` or `instrument`",
        ),
        (
            ["broken", "--from", "list.csv"],
            "`broken/shows/band.rig` cannot be read whole: `rigdsl check broken/shows/band.rig` says what is wrong;"
            " nothing was changed",
        ),
        (
            ["latin", "--from", "list.csv"],
            "`latin/shows/band.rig` is not in UTF-8: line 1 has a character in another encoding; save it as UTF-8 in"
            " your text editor",
        ),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line_and_nothing_is_written(
    place: Path, run: Run, arguments: list[str], said: str
) -> None:
    (place / "half").mkdir()
    (place / "half" / "shows").write_text("")
    (place / "empty.csv").write_text("")
    (place / "plain.csv").write_text("1,Kick\n2,Snare\n")
    for name, data in (("broken", b"source { } {\n"), ("latin", b"# caf\xe9\n")):
        (place / name / "shows").mkdir(parents=True)
        (place / name / "shows" / "band.rig").write_bytes(data)
    before = files(place)
    ran = run("start", *arguments)
    assert (ran.status, ran.out, ran.err) == (2, "", f"rigdsl: {said}\n")
    assert files(place) == before


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="whoever may do everything is refused nothing")
def test_a_folder_that_may_not_be_written_to(place: Path, run: Run) -> None:
    (place / "locked").mkdir(mode=0o500)
    ran = run("start", "locked")
    assert (ran.status, ran.out, ran.err) == (2, "", "rigdsl: `locked` cannot be written to\n")


def test_in_a_git_repository_the_set_up_for_git_is_told_once(place: Path, run: Run) -> None:
    (place / ".git").mkdir()
    assert "`rigdsl git setup`, once in each clone" in run("start", "barn").err
    assert run("start", "barn").err == ""
