"""Which files `rigdsl check` reads."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from rigdsl.reports.text import NO_RIG
from tests.cli.club import CLEAN, GEAR, LOOSE, document, rules
from tests.conftest import Run


class TestWhichFiles:
    def test_standard_input(self, club: Path, run: Run) -> None:
        ran = run("check", "-", "--as", "json", stdin=LOOSE)
        assert ran.status == 1
        value = document(ran.out)
        assert value["rigs"] == ["-"]
        assert value["findings"][0]["file"] == "-"

    def test_the_project_is_found_from_below(self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
        (club / "shows" / "may").mkdir(parents=True)
        (club / "shows" / "may" / "gala.rig").write_text(CLEAN.replace("gear.rig", "../../gear.rig"))
        monkeypatch.chdir(club / "shows")
        value = document(run("check", "--as", "json").out)
        assert value["rigs"] == ["../friday.rig", "may/gala.rig"]

    def test_a_folder(self, club: Path, run: Run) -> None:
        (club / "shows").mkdir()
        (club / "shows" / "gala.rig").write_text(CLEAN.replace("gear.rig", "../gear.rig"))
        assert document(run("check", "shows", "--as", "json").out)["rigs"] == ["shows/gala.rig"]

    def test_a_library_is_not_a_rig(self, club: Path, run: Run) -> None:
        (club / "venue.rig").write_text('zone wing "Wing"\nbox SL is some-box in wing\n')
        value = document(run("check", "--as", "json").out)
        assert value["rigs"] == ["friday.rig"]
        assert value["findings"] == []

    def test_a_library_that_nobody_uses_is_read_all_the_same(self, club: Path, run: Run) -> None:
        (club / "spare.rig").write_text("cable x { weight 3 V }\nmodle y { }\n")
        assert sorted(rules(run("check", "--as", "json").out)) == ["syntax-error", "wrong-unit"]

    def test_what_two_rigs_share_is_told_once(self, club: Path, run: Run) -> None:
        (club / "gear.rig").write_text(GEAR + "cable x { weight 3 V }\n")
        (club / "gala.rig").write_text(CLEAN)
        value = document(run("check", "--as", "json").out)
        assert value["rigs"] == ["friday.rig", "gala.rig"]
        assert [(finding["file"], finding["rule"]) for finding in value["findings"]] == [("gear.rig", "wrong-unit")]

    def test_what_two_rigs_do_differently_to_one_house_is_told_of_both(self, club: Path, run: Run) -> None:
        """The place is the house's cable in both; what goes over it is not."""
        protocol = "protocol tiny { carries 1 at 48 kHz }\n"
        gear = protocol + GEAR.replace("protocol aes50", "protocol tiny")
        (club / "gear.rig").write_text(gear, "utf-8")
        house = CLEAN.partition("source kick")[0]
        (club / "house.rig").write_text(house, "utf-8")
        for name, count in (("friday", 2), ("saturday", 3)):
            plugs = "".join(f"source s{n} dynamic in wing to SL {n} via xlr 6 m\n" for n in range(1, count + 1))
            patch = f"patch SL.mic 1-{count} -> DESK.ch 1-{count}\n"
            (club / f"{name}.rig").write_text(f'rig "{name}" {{ }}\nuse "house.rig"\n{plugs}{patch}', "utf-8")
        said = run("check", "friday.rig", "saturday.rig").out
        assert [count for count in (2, 3) if f"{count} channels go" in said] == [2, 3]

    def test_a_text_without_a_head_is_said_to_be_none(self, club: Path, run: Run) -> None:
        ran = run("check", "gear.rig")
        assert (ran.status, ran.out) == (0, f"{NO_RIG}\n")
        assert NO_RIG.startswith("no rig was checked: nothing here has a `rig` head; to make a rig of it write")
        assert ran.err.startswith("rigdsl: without a `rig` head a file is only complete inside a rig that uses it")
        assert json.loads(run("check", "gear.rig", "--as", "json").out)["rigs"] == []

    def test_what_is_wrong_in_a_text_without_a_head_is_told(self, club: Path, run: Run) -> None:
        (club / "spare.rig").write_text("cable x { weight 3 V }\n")
        ran = run("check", "spare.rig")
        assert ran.status == 1
        assert "[wrong-unit]" in ran.out
        assert ran.out.endswith(f"\n1 error; {NO_RIG}\n")

    def test_many_rigs_show_how_far_it_is_on_a_terminal(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        for number in range(9):
            (club / f"night-{number}.rig").write_text(CLEAN)
        assert run("check").err == ""
        monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
        ran = run("check")
        assert "checking" in ran.err
        assert "100%" in ran.err
        assert ran.out == "nothing to mend in 10 rigs\n"

    def test_hidden_folders_and_virtual_environments_are_left_alone(self, club: Path, run: Run) -> None:
        for name in (".git", "env", "node_modules"):
            (club / name).mkdir()
            (club / name / "x.rig").write_text(LOOSE)
        (club / "env" / "pyvenv.cfg").write_text("")
        assert document(run("check", ".", "--as", "json").out)["rigs"] == ["friday.rig"]

    def test_one_file_is_read_once(self, club: Path, run: Run) -> None:
        paths = ("friday.rig", "./friday.rig", str(club / "friday.rig"), ".")
        assert document(run("check", *paths, "--as", "json").out)["rigs"] == ["friday.rig"]

    def test_paths_are_said_from_the_current_folder(self, club: Path, run: Run) -> None:
        (club / "friday.rig").write_text(LOOSE)
        ran = run("check", str(club / "friday.rig"))
        assert ran.out.startswith("friday.rig:7:8: ")
        assert str(club) not in ran.out
