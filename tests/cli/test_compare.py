"""`rigdsl compare`: files, folders and commits, in every form."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from tests.cli.club import CLEAN, GEAR
from tests.cli.repository import commit, git, start
from tests.conftest import Run

SCHEMA = json.loads((Path(__file__).parents[2] / "grammar" / "compare.schema.json").read_text("utf-8"))
MOVED = CLEAN.replace("to SL 1 via", "to SL 3 via")


@pytest.fixture
def repository(club: Path) -> Path:
    """Three commits: the rig; kick on another socket; the gear file changed, and nothing else."""
    (club / "rig.toml").write_text("")
    start(club)
    for text, gear in ((CLEAN, GEAR), (MOVED, GEAR), (MOVED, GEAR.replace("phantom 48 V 10 mA", "phantom 48 V 2 mA"))):
        commit(club, "a night", friday=text, gear=gear)
    return club


class TestFilesAndFolders:
    def test_two_files(self, club: Path, run: Run) -> None:
        (club / "moved.rig").write_text(MOVED)
        ran = run("compare", "friday.rig", "moved.rig")
        assert (ran.status, ran.err) == (0, "")
        first, second = ran.out.splitlines()[:2]
        assert first.startswith("1 source moved; 2 new findings")
        assert second == "  source kick moved: plugged into SL.mic 3, was SL.mic 1"

    def test_the_same_twice(self, club: Path, run: Run) -> None:
        assert run("compare", "friday.rig", "friday.rig").out == "nothing changes on stage\n"

    def test_text_that_only_moves_is_no_change(self, club: Path, run: Run) -> None:
        lines = CLEAN.splitlines()
        (club / "other.rig").write_text("\n".join([lines[0], "# a remark", *reversed(lines[1:])]) + "\n")
        assert run("compare", "friday.rig", "other.rig").out == "nothing changes on stage\n"

    def test_two_folders(self, club: Path, run: Run) -> None:
        for name, text in (("a", CLEAN), ("b", MOVED)):
            (club / name).mkdir()
            (club / name / "rig.toml").write_text("")
            (club / name / "gear.rig").write_text(GEAR)
            (club / name / "friday.rig").write_text(text)
        (club / "b" / "sunday.rig").write_text(CLEAN)
        ran = run("compare", "a", "b")
        assert "friday.rig\n1 source moved" in ran.out
        assert "sunday.rig (a new rig)\n" in ran.out

    def test_what_is_newly_found_can_fail(self, club: Path, run: Run) -> None:
        (club / "bad.rig").write_text(CLEAN + "source hat dynamic in wing\n")
        assert run("compare", "friday.rig", "bad.rig").status == 0
        ran = run("compare", "friday.rig", "bad.rig", "--fail-on", "error")
        assert ran.status == 1
        assert "`hat` is plugged into nothing" in ran.out
        assert run("compare", "bad.rig", "friday.rig", "--fail-on", "error").status == 0


class TestCommits:
    def test_a_commit_against_the_files_as_they_are(self, repository: Path, run: Run) -> None:
        (repository / "friday.rig").write_text(CLEAN.replace("Kick in", "Kick"))
        ran = run("compare", "HEAD", "friday.rig")
        assert "1 source moved" not in ran.out
        assert "label Kick, was Kick in" in ran.out

    def test_two_commits_and_a_rig(self, repository: Path, run: Run) -> None:
        ran = run("compare", "HEAD~2", "HEAD~1", "friday.rig")
        assert ran.out.startswith("1 source moved")
        assert git(repository, "status", "--porcelain") == "", "the checkout is not touched"

    def test_a_gear_file_is_read_from_each_side(self, repository: Path, run: Run) -> None:
        """The rig's own file is the same: what its gear can give is not."""
        ran = run("compare", "HEAD~1", "HEAD", "friday.rig")
        assert "1 model changed" in ran.out
        assert "[phantom-overload]" in ran.out

    def test_every_rig_of_the_project(self, repository: Path, run: Run) -> None:
        (repository / "sunday.rig").write_text(CLEAN)
        ran = run("compare", "HEAD")
        assert "sunday.rig (a new rig)" in ran.out

    def test_from_a_folder_below(self, repository: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
        (repository / "below").mkdir()
        monkeypatch.chdir(repository / "below")
        assert run("compare", "HEAD~2", "HEAD~1", "../friday.rig").out.startswith("1 source moved")

    @pytest.mark.parametrize(
        ("arguments", "said"),
        [
            (["nowhere"], "there is no file, folder or commit called `nowhere`"),
            (["HEAD", "nowhere", "friday.rig"], "there is no file, folder or commit called `nowhere`"),
            (
                ["HEAD", "HEAD~1", "friday.rig", "gear.rig"],
                "name two files, two folders, or one or two commits and then one rig",
            ),
            (["--output=x"], "there is no option `--output`"),
        ],
    )
    def test_trouble(self, repository: Path, run: Run, arguments: list[str], said: str) -> None:
        ran = run("compare", *arguments)
        assert ran.status == 2
        assert said in ran.err
        assert len(ran.err.splitlines()) == 1


class TestForms:
    def test_json_keeps_to_its_schema(self, repository: Path, run: Run) -> None:
        document = json.loads(run("compare", "HEAD~2", "HEAD", "friday.rig", "--as", "json").out)
        jsonschema.Draft202012Validator(SCHEMA).validate(document)
        (moved,) = (change for change in document["changes"] if change["kind"] == "moved")
        assert (moved["what"], moved["name"], moved["fields"]) == (
            "source",
            "kick",
            {"ports": [["SL.mic 1"], ["SL.mic 3"]]},
        )

    def test_json_of_several_rigs(self, repository: Path, run: Run) -> None:
        (repository / "sunday.rig").write_text(CLEAN)
        document = json.loads(run("compare", "HEAD~2", "--as", "json").out)
        jsonschema.Draft202012Validator(SCHEMA).validate(document)
        assert [rig["rig"] for rig in document["rigs"]] == ["friday.rig", "sunday.rig"]

    def test_a_comment_begins_with_what_hands_must_do(self, repository: Path, run: Run) -> None:
        comment = run("compare", "HEAD~2", "HEAD", "friday.rig", "--as", "md").out
        lines = comment.splitlines()
        assert lines[1].startswith("**friday.rig**: 1 source moved, 1 model changed")
        at = lines.index("To do otherwise on stage:")
        assert lines[at + 2] == "**Stage left wing**"
        assert lines[at + 4] == "- [ ] replug Kick in from SL.mic 1 into SL.mic 3 (xlr 6 m)"
        assert comment.count("<details") == comment.count("</details>")
        assert "```mermaid\nflowchart" in comment or "```mermaid\n---" in comment or "```mermaid\n%%" in comment
        assert "SL, Stage left rack" in comment.split("```mermaid")[1]

    def test_a_comment_has_room_on_its_host(self, club: Path, run: Run) -> None:
        """Hosts take 65,536 characters (their own documentation, from memory)."""
        many = "".join(
            f'source s{n} "A source with a rather long label, number {n}" dynamic in wing\n' for n in range(999)
        )
        (club / "many.rig").write_text(CLEAN + many)
        comment = run("compare", "friday.rig", "many.rig", "--as", "md").out
        assert len(comment) < 65_536
        assert "more lines have no room here" in comment

    def test_hostile_labels_stay_text(self, club: Path, run: Run) -> None:
        label = "<script>alert(1)</script> | *b* </details> @crew #1"
        (club / "bad.rig").write_text(CLEAN.replace('"Kick in"', f'"{label}"'))
        comment = run("compare", "friday.rig", "bad.rig", "--as", "md").out
        assert "<script>" not in comment
        assert comment.count("</details>") == comment.count("<details")

    def test_into_a_file(self, club: Path, run: Run) -> None:
        (club / "moved.rig").write_text(MOVED)
        assert run("compare", "friday.rig", "moved.rig", "--out", "said.md", "--as", "md").out == ""
        assert "source kick" in (club / "said.md").read_text("utf-8")
