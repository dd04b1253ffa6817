"""What is installed is whole: from a wheel, and as an editable checkout."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SHIPPED = {".py", ".rig", ".lark", ".json", ".typed", ".css", ".html", ".js", ".txt", ".typ"}
RIG = 'rig "Packaging" { rate 48 kHz }\nzone drums "Drum riser"\nsource kick "Kick" dynamic in drums\n'

pytestmark = pytest.mark.xdist_group("packaging")


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the tree, so that building leaves nothing behind in it."""
    copy = tmp_path_factory.mktemp("checkout") / "rigdsl"
    unwanted = shutil.ignore_patterns(".*", "__pycache__", "*.egg-info", "build", "dist", "drawings", "tests")
    shutil.copytree(ROOT, copy, ignore=unwanted)
    return copy


@pytest.fixture(scope="module")
def wheel(checkout: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel that is built from it."""
    out = tmp_path_factory.mktemp("wheel")
    _pip("wheel", "--no-deps", "--wheel-dir", str(out), str(checkout))
    (built,) = out.glob("*.whl")
    return built


def _pip(*arguments: str) -> None:
    command = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check", *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def _environment(folder: Path, *install: str) -> Path:
    """A new virtual environment with rigdsl installed in it, and the dependencies that are installed here."""
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(folder)], check=True)
    scripts = folder / ("Scripts" if os.name == "nt" else "bin")
    python = scripts / "python"
    _pip("--python", str(python), "install", "--no-deps", *install)
    where = subprocess.run(
        [str(python), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"],
        capture_output=True,
        text=True,
        check=True,
    )
    dependencies = dict.fromkeys([sysconfig.get_path("purelib"), sysconfig.get_path("platlib")])
    Path(where.stdout.strip(), "dependencies.pth").write_text("\n".join(dependencies) + "\n")
    engine = shutil.which("graphviz-pure", path=str(Path(sys.executable).parent))
    if engine is not None:
        shutil.copy2(engine, scripts)
    return scripts / "rigdsl"


def _works(rigdsl: Path, folder: Path) -> None:
    """The installed command checks, draws and knows its rules, away from the tree."""
    (folder / "friday.rig").write_text(RIG)

    def run(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run([str(rigdsl), *arguments], cwd=folder, capture_output=True, text=True, check=False)

    checked = run("check", "friday.rig")
    assert (checked.returncode, checked.stderr) == (1, "")
    assert "error: " in checked.stdout
    assert "[unplugged-source]" in checked.stdout
    listed = run("rules")
    for rule in ("syntax-error", "protocol-mismatch", "control-mismatch", "run-too-long", "unused-port"):
        assert rule in listed.stdout
    drawn = run("draw", "friday.rig", "--out", "flow.svg")
    assert drawn.returncode == 0, drawn.stderr
    assert (folder / "flow.svg").read_text("utf-8").rstrip().endswith("</svg>")


def test_the_wheel_has_every_file_of_every_package(wheel: Path) -> None:
    with open(ROOT / "pyproject.toml", "rb") as file:
        homes = tomllib.load(file)["tool"]["setuptools"]["package-dir"]
    expected = {
        f"{package}/{path.relative_to(ROOT / home).as_posix()}"
        for package, home in homes.items()
        for path in (ROOT / home).rglob("*")
        if path.suffix in SHIPPED or path.name == "py.typed"
        if "__pycache__" not in path.parts
    }
    names = set(zipfile.ZipFile(wheel).namelist())
    assert {name for name in names if ".dist-info/" not in name} == expected


def test_every_package_says_that_it_is_typed(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    packages = {name.partition("/")[0] for name in names if ".dist-info/" not in name}
    assert {f"{package}/py.typed" for package in packages} <= set(names)


def test_a_wheel_install_works(wheel: Path, tmp_path: Path) -> None:
    _works(_environment(tmp_path / "venv", str(wheel)), tmp_path)


def test_an_editable_install_works(checkout: Path, tmp_path: Path) -> None:
    _works(_environment(tmp_path / "venv", "--editable", str(checkout)), tmp_path)
