"""Other people's packs from the command line: run only where somebody asks for them, and named where they fail."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from tests.cli.club import LOOSE, rules
from tests.conftest import Run

RULE = '''
from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule

@rule("{pack}/loud", Level.WARNING, NoOptions)
def loud(rig, paths, options):
    """Says something of every box.

    ## On the night
    Nothing.
    """
    for box in rig.boxes.values():
        yield Finding(place=box.place, subject=box.name, message="it is loud", consequence="ears ring", help="{help}")
'''
PACK = "from rigdsl.packs import Pack\n" + RULE + '\npack = Pack("{pack}", rules=(loud,))\n'
SHEETS = """
from rigdsl.draw import NamedView, sheet
from rigdsl.packs import Pack
from rigdsl.papers import Paper, Table

def good_view(rig, paths, findings):
    return sheet(rig, findings, "road/plain", "plain sheet", ((), ()))

def bad_view(rig, paths, findings):
    raise KeyError("no such\\nbox")

def bad_paper(facts):
    return Table(("a", "b"), (("one",),))

def list_of_boxes(facts):
    return Table(("box",), tuple((name,) for name in facts.rig.boxes))

def no_table(facts):
    return "moss"

pack = Pack(
    "road",
    views=(NamedView("road/bad", "bad", bad_view), NamedView("road/plain", "plain sheet", good_view)),
    papers=(
        Paper("road/bad", "Bad", bad_paper),
        Paper("road/boxes", "Boxes", list_of_boxes),
        Paper("road/moss", "Moss", no_table),
    ),
)
"""


def pack_text(name: str, help: str = "turn it down") -> str:
    return PACK.replace("{pack}", name).replace("{help}", help)


@pytest.fixture
def road(club: Path) -> Path:
    """A project with a pack in a file beside it."""
    (club / "road.py").write_text(pack_text("road"))
    return club


def put(monkeypatch: pytest.MonkeyPatch, site: Path, text: str, name: str) -> None:
    """Install a pack as a distribution of one module, version 1.2, into a folder of its own."""
    module, title = f"stranger_{name}", f"rigdsl_{name}"
    (site / f"{module}.py").write_text(text)
    home = site / f"{title}-1.2.dist-info"
    home.mkdir()
    (home / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {title}\nVersion: 1.2\n")
    (home / "entry_points.txt").write_text(f"[rigdsl.packs]\n{name} = {module}:pack\n")
    monkeypatch.syspath_prepend(str(site))
    monkeypatch.delitem(sys.modules, module, raising=False)


class TestNamedByItsFile:
    def test_its_rules_are_run_and_listed(self, road: Path, run: Run) -> None:
        ran = run("check", "--pack", "road.py", "--as", "json")
        assert rules(ran.out).count("road/loud") == 2
        assert "road/loud" not in rules(run("check", "--as", "json").out)
        assert run("explain", "road/loud", "--pack", "road.py").out.startswith("road/loud (warning, pack road, ")
        listed = json.loads(run("rules", "--pack", "road.py", "--as", "json").out)["rules"]
        assert [one["version"] for one in listed if one["name"] == "road/loud"] == [""]

    @pytest.mark.parametrize("form", ["text", "sarif", "github", "junit"])
    def test_every_form_has_them(self, road: Path, run: Run, form: str) -> None:
        assert "road/loud" in run("check", "--pack", "road.py", "--as", form).out

    def test_a_package_may_import_its_own_parts(self, club: Path, run: Run) -> None:
        home = club / "house_rules_of_ours"
        home.mkdir()
        (home / "loud.py").write_text(RULE.replace("{pack}", "house").replace("{help}", "turn it down"))
        (home / "__init__.py").write_text(
            "from rigdsl.packs import Pack\n"
            "from . import loud as first\n"
            "from house_rules_of_ours.loud import loud\n"
            "assert first.loud is loud\n"
            'pack = Pack("house", rules=(loud,))\n'
        )
        ran = run("check", "--pack", "house_rules_of_ours/__init__.py", "--as", "json")
        assert "house/loud" in rules(ran.out)
        assert (ran.err, ran.status) == ("", 0)

    def test_its_folder_may_be_called_as_something_else_is(self, club: Path, run: Run) -> None:
        (club / "json").mkdir()
        (club / "json" / "loud.py").write_text(RULE.replace("{pack}", "house").replace("{help}", "turn it down"))
        text = 'from rigdsl.packs import Pack\nfrom .loud import loud\npack = Pack("house", rules=(loud,))\n'
        (club / "json" / "__init__.py").write_text(text)
        assert "house/loud" in rules(run("check", "--pack", "json/__init__.py", "--as", "json").out)
        assert sys.modules["json"] is json

    @pytest.mark.parametrize(
        ("name", "text", "said"),
        [
            ("gone.py", None, "there is no file `gone.py` to take a pack from"),
            ("empty.py", "", "AttributeError: module 'rigdsl_file_empty' has no attribute 'pack'"),
            ("odd.py", "pack = 3", "`odd.py:pack` is not a pack"),
            ("broken.py", "pack = (", "it cannot be loaded: SyntaxError: '(' was never closed"),
            ("leaves.py", "raise SystemExit(0)", "it cannot be loaded: SystemExit: 0"),
            ("pack.txt", "moss", "it cannot be loaded: ImportError: no Python file"),
            ("bare.py", pack_text("bare").replace('"bare/', '"'), "the rule `loud` should be called `bare/`"),
            ("ours.py", pack_text("ports"), "another pack is called `ports` too"),
        ],
    )
    def test_what_cannot_be_used_is_named(self, club: Path, run: Run, name: str, text: str | None, said: str) -> None:
        if text is not None:
            (club / name).write_text(text)
        ran = run("check", "--pack", name)
        assert ran.status == 2
        assert said in ran.err
        assert ran.err.count("\n") == 1
        assert (ran.out == "nothing to mend in 1 rig\n") == (text is not None), "the rig is checked all the same"

    def test_it_takes_the_place_of_an_installed_one(
        self, road: Path, run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory
    ) -> None:
        put(monkeypatch, tmp_path_factory.mktemp("site"), pack_text("road", "the installed one"), "road")
        (road / "rig.toml").write_text('[packs]\nroad = ">=1"\n')
        assert "the installed one" in run("check").out
        ran = run("check", "--pack", "road.py")
        assert "turn it down" in ran.out
        assert "the installed one" not in ran.out
        assert (ran.err, ran.status) == ("", 0)


class TestInstalled:
    @pytest.fixture
    def site(self, tmp_path_factory: pytest.TempPathFactory) -> Path:
        return tmp_path_factory.mktemp("site")

    def test_nothing_of_it_is_run_where_it_is_not_listed(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch, site: Path
    ) -> None:
        """It would leave a file, and end the process."""
        text = "open('was-here', 'w').close(); raise KeyboardInterrupt"
        put(monkeypatch, site, text, "road")
        for command in (["check"], ["rules"], ["draw", "friday.rig"], ["papers", "friday.rig"], ["explain", "--all"]):
            assert run(*command).status == 0
        assert run("check").err == (
            "rigdsl: installed and not in use: `road`; a project lists the packs that it uses under `[packs]`"
            " in rig.toml\n"
        )
        assert not (club / "was-here").exists()

    def test_it_is_in_use_where_it_is_listed(
        self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch, site: Path
    ) -> None:
        put(monkeypatch, site, pack_text("road"), "road")
        (club / "rig.toml").write_text('[packs]\nroad = ">=1"\n')
        assert "road/loud" in run("rules").out
        assert run("explain", "road/loud").out.startswith("road/loud (warning, pack road 1.2, edition 1)")
        assert "road/loud" in run("rules", "--timing", "friday.rig").out
        for form in ("text", "json", "sarif", "github", "junit"):
            ran = run("check", "--as", form)
            assert "road/loud" in ran.out
            assert (ran.err, ran.status) == ("", 0)

    def test_listed_and_broken(self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch, site: Path) -> None:
        put(monkeypatch, site, "import no_such_thing_anywhere", "road")
        (club / "rig.toml").write_text('[packs]\nroad = ">=1"\n')
        (club / "friday.rig").write_text(LOOSE)
        why = "it cannot be loaded: ModuleNotFoundError: No module named 'no_such_thing_anywhere'"
        ran = run("check", "--as", "json", "--fail-on", "never")
        assert {"wrong-config", "unplugged-source"} <= set(rules(ran.out))
        assert (f"the pack `road` 1.2 is installed and cannot be used: {why}" in ran.out, ran.status) == (True, 2)
        for command in (
            ["rules"],
            ["explain", "hi-z-run"],
            ["trace", "friday.rig", "oh"],
            ["papers", "friday.rig"],
            ["lose", "friday.rig"],
            ["export", "friday.rig"],
            ["match"],
        ):
            ran = run(*command)
            assert ran.status == 2
            assert f"rigdsl: the pack `road` 1.2 is left out: {why}\n" in ran.err
            assert ran.out


class TestSheetsThatBreakDown:
    @pytest.fixture
    def sheets(self, club: Path, monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> Path:
        put(monkeypatch, tmp_path_factory.mktemp("site"), SHEETS, "road")
        (club / "rig.toml").write_text('[packs]\nroad = ">=1"\n')
        return club

    def test_views(self, sheets: Path, run: Run) -> None:
        ran = run("draw", "friday.rig", "--view", "all", "--out", "made")
        assert ran.status == 2
        assert ran.err == (
            "rigdsl: the view `road/bad` broke down: KeyError: 'no such\\\\nbox'; tell the makers of the pack"
            " `road` 1.2, with this rig\n"
        ).replace("\\\\n", "\\n")
        made = sorted(path.name for path in (sheets / "made").iterdir())
        assert made == ["friday-cabling.svg", "friday-flow.svg", "friday-plan.svg", "friday-road-plain.svg"]

    def test_papers(self, sheets: Path, run: Run) -> None:
        ran = run("papers", "friday.rig", "--out", "made", "--as", "csv")
        assert ran.status == 2
        tell = "tell the makers of the pack `road` 1.2, with this rig"
        assert ran.err.splitlines() == [
            "rigdsl: the paper `road/bad` broke down: ValueError: row 1 has 1 fields, and the table 2 columns; " + tell,
            "rigdsl: the paper `road/moss` broke down: TypeError: it gave str and no table; " + tell,
        ]
        made = sorted(path.name for path in (sheets / "made").iterdir())
        assert {"friday-input-list.csv", "friday-output-list.csv", "friday-road-boxes.csv"} <= set(made)
        assert not any("road-bad" in name or "road-moss" in name for name in made)
        assert (sheets / "made" / "friday-road-boxes.csv").read_bytes() == b"box\r\nSL\r\nDESK\r\n"

    def test_a_good_one_alone(self, sheets: Path, run: Run) -> None:
        ran = run("papers", "friday.rig", "road/boxes")
        assert (ran.status, ran.err) == (0, "")
        assert "| SL   |" in ran.out
