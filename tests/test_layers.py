"""The house keeps its order: data goes one way, files stay small, and a command loads only what it needs."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
OURS = sorted(
    path
    for folder in ("rigdsl", "plugins", "grammar")
    for path in (ROOT / folder).rglob("*.py")
    if path != ROOT / "grammar" / "table.py"  # made by a program
)

each_file = pytest.mark.parametrize("path", OURS, ids=[str(path.relative_to(ROOT)) for path in OURS])


def test_data_goes_one_way() -> None:
    """The contracts of pyproject.toml, without an exception."""
    done = subprocess.run(
        [sys.executable, "-c", "import sys; from importlinter.cli import lint_imports_command; lint_imports_command()"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "ignore_imports" not in (ROOT / "pyproject.toml").read_text("utf-8")


@each_file
def test_a_file_has_one_idea(path: Path) -> None:
    assert len(path.read_text("utf-8").splitlines()) <= 400


@each_file
def test_a_file_says_what_it_is_and_what_it_offers(path: Path) -> None:
    module = ast.parse(path.read_text("utf-8"))
    assert ast.get_docstring(module)
    offered = [
        node.value
        for node in module.body
        if isinstance(node, ast.Assign) and any(isinstance(to, ast.Name) and to.id == "__all__" for to in node.targets)
    ]
    defined = [node for node in module.body if isinstance(node, ast.FunctionDef | ast.ClassDef)]
    if any(not node.name.startswith("_") for node in defined):
        assert offered, "a file with public names lists them in __all__"
    for names in offered:
        words = ast.literal_eval(names)
        assert len(words) == len(set(words))


@pytest.mark.parametrize("arguments", [["--help"], ["check", "--help"], ["--version"]])
def test_help_waits_for_nothing_heavy(arguments: list[str]) -> None:
    program = (
        "import sys\n"
        "from rigdsl.cli import main\n"
        f"main({arguments!r})\n"
        "print([name for name in ('graphviz', 'jsonschema', 'subprocess') if name in sys.modules])\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_the_help_page_of_all_commands_loads_none_of_them() -> None:
    program = (
        "import sys\n"
        "from rigdsl.cli import main\n"
        "main(['--help'])\n"
        "print([name for name in sys.modules if name.startswith(('lark', 'rigdsl_', 'rigdsl.')) "
        "and not name.startswith('rigdsl.cli')])\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
