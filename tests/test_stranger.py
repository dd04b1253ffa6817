"""A stranger installs rigdsl and a pack into a clean environment, and everything comes in by the one door."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACK = ROOT / "examples" / "pack-road-rules"
RULES = {"road-rules/cable-colour", "road-rules/chained-boxes"}
COLOURLESS = ' { note "red" }'

pytestmark = pytest.mark.xdist_group("packaging")
Done = subprocess.CompletedProcess[str]
Ran = Callable[..., Done]


@pytest.fixture(scope="module")
def copies(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The checkout and the pack, copied: building leaves nothing behind in them."""
    folder = tmp_path_factory.mktemp("stranger")
    unwanted = shutil.ignore_patterns(".*", "__pycache__", "*.egg-info", "build", "dist", "tests", "docs", "examples")
    shutil.copytree(ROOT, folder / "rigdsl", ignore=unwanted)
    shutil.copytree(PACK, folder / "pack", ignore=shutil.ignore_patterns("__pycache__", "*.egg-info", "build"))
    return folder


@pytest.fixture(scope="module")
def python(copies: Path) -> Path:
    """A clean environment with both in it; what they need is taken from here, and nothing else is."""
    home = copies / "venv"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(home)], check=True)
    python = home / ("Scripts" if os.name == "nt" else "bin") / "python"
    options = ["--quiet", "--disable-pip-version-check", "--python", str(python)]
    install = ["install", "--no-deps", str(copies / "rigdsl"), str(copies / "pack")]
    done = subprocess.run([sys.executable, "-m", "pip", *options, *install], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    where = [str(python), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"]
    site = subprocess.run(where, capture_output=True, text=True, check=True).stdout.strip()
    needed = dict.fromkeys([sysconfig.get_path("purelib"), sysconfig.get_path("platlib")])
    Path(site, "needed.pth").write_text("\n".join(needed) + "\n")
    return python


@pytest.fixture
def ran(python: Path, copies: Path, tmp_path: Path) -> Ran:
    """Run a module of that environment in a copy of the tour: `ran("rigdsl", "check")`."""
    shutil.copytree(copies / "pack" / "tour", tmp_path / "tour")

    def run(module: str, *arguments: str) -> Done:
        command = [str(python), "-m", module, *arguments]
        clean = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "PYTEST"))}
        return subprocess.run(command, cwd=tmp_path / "tour", env=clean, capture_output=True, text=True, check=False)

    return run


def test_it_is_checked_by_the_house_rules(ran: Ran, tmp_path: Path) -> None:
    good = ran("rigdsl", "check")
    assert (good.returncode, good.stderr) == (0, "")
    assert "road-rules/" not in good.stdout
    rig = tmp_path / "tour" / "market-hall.rig"
    rig.write_text(rig.read_text("utf-8").replace(COLOURLESS, ""), "utf-8")
    bad = ran("rigdsl", "check")
    assert (bad.returncode, bad.stderr) == (1, "")
    assert "`C01` names no colour, and the house marks 60 m with `red` [road-rules/cable-colour]" in bad.stdout


def test_the_options_of_the_project_hold(ran: Ran, tmp_path: Path) -> None:
    config = tmp_path / "tour" / "rig.toml"
    config.write_text(config.read_text("utf-8").replace("most = 3", "most = 2"), "utf-8")
    assert "and the house chains 2 boxes at most" in ran("rigdsl", "check").stdout


def test_its_rules_are_listed_and_explained(ran: Ran) -> None:
    listed = ran("rigdsl", "rules")
    rows = {line.split()[0]: line.split() for line in listed.stdout.splitlines() if line.startswith("road-rules/")}
    assert rows.keys() == RULES
    assert all("1.2" in row for row in rows.values())
    for rule in RULES:
        page = ran("rigdsl", "explain", rule)
        assert page.returncode == 0
        assert page.stdout.startswith(f"{rule} (warning, pack road-rules 1.2, edition 1)")


def test_its_paper_and_its_drawing_are_made_and_its_gear_drawn(ran: Ran, tmp_path: Path) -> None:
    paper = ran("rigdsl", "papers", "market-hall.rig", "road-rules/cable-list", "--as", "csv")
    assert paper.stdout.splitlines()[:2] == ["tape,cable,kind,m,from,to", "red,C01,cat6,60,SL.A,DESK.stage 1"]
    chains = ran("rigdsl", "draw", "market-hall.rig", "--view", "road-rules/chains", "--out", "chains.gv")
    assert (chains.returncode, chains.stderr) == (0, "")
    assert "box 1 of its chain" in (tmp_path / "tour" / "chains.gv").read_text("utf-8")
    drawn = ran("rigdsl", "draw", "market-hall.rig", "--out", "hall.gv")
    assert drawn.returncode == 0, drawn.stderr
    assert "Touring desk" in (tmp_path / "tour" / "hall.gv").read_text("utf-8")


def test_its_own_tests_pass_there(ran: Ran, copies: Path) -> None:
    done = ran("pytest", "-q", "-p", "no:cacheprovider", str(copies / "pack" / "tests"))
    assert done.returncode == 0, done.stdout + done.stderr


def test_nothing_of_it_is_run_where_no_project_lists_it(ran: Ran, tmp_path: Path, python: Path) -> None:
    (tmp_path / "tour" / "rig.toml").write_text('fail-on = "warning"\n', "utf-8")
    done = ran("rigdsl", "check")
    assert "there is no model called `marsh16`" in done.stdout
    assert "installed and not in use: `road-rules`" in done.stderr
    assert "road-rules/" not in ran("rigdsl", "rules").stdout
    code = "import sys, rigdsl; rigdsl.load('market-hall.rig').findings(); print('rigdsl_road_rules' in sys.modules)"
    seen = subprocess.run([str(python), "-c", code], cwd=tmp_path / "tour", capture_output=True, text=True, check=True)
    assert seen.stdout == "False\n"


def test_a_file_is_enough_where_nothing_is_installed(tmp_path: Path) -> None:
    shutil.copytree(PACK, tmp_path / "pack")
    rig = tmp_path / "one.rig"
    rig.write_text((PACK / "tour" / "market-hall.rig").read_text("utf-8").replace(COLOURLESS, ""), "utf-8")
    code = "import sys; from rigdsl.cli import main; sys.exit(main(sys.argv[1:]))"
    done = subprocess.run(
        [sys.executable, "-c", code, "check", "--pack", "pack/rigdsl_road_rules/__init__.py", "one.rig"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
    )
    assert "[road-rules/cable-colour]" in done.stdout
    assert "[road-rules/chained-boxes]" in done.stdout
    assert (done.returncode, done.stderr) == (0, "")
