"""docs/git.md, the hooks, the action: what they tell to type is taken by the command line, and hosts take the rest."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import click
import pytest
from ruamel.yaml import YAML

from rigdsl.cli.main import COMMANDS, rigdsl
from rigdsl.start import new_files
from tests.cli.repository import RIG, Repository, repository

ROOT = Path(__file__).parent.parent
PAGE = (ROOT / "docs" / "git.md").read_text("utf-8")
BLOCK = re.compile(r"<!-- ([^\n]+?) -->\n```(\w+)\n(.*?)```\n", re.DOTALL)
TAKEN_BY = {
    ".pre-commit-config.yaml": ("pre_commit", "validate-config"),
    "workflow": ("check_jsonschema", "--builtin-schema", "vendor.github-workflows"),
}


def blocks(what: str) -> list[str]:
    return [found[3] for found in BLOCK.finditer(PAGE) if found[1] == what]


def lines() -> list[str]:
    """Every line that calls rigdsl: in the page, the hooks, the action, a new project."""
    project = new_files(band=True)
    code = [found[0] for found in re.findall(r"```\w+\n(.*?)()```", PAGE, re.DOTALL)]
    code += re.findall(r"`(rigdsl [^`]+)`", PAGE + project["README.md"] + project[".gitattributes"])
    code += re.findall(r"^ {4}(rigdsl .*)$", project["README.md"], re.MULTILINE)
    code += [project[".ci/check.sh"], (ROOT / "action.yml").read_text("utf-8").replace("python -P -m ", "")]
    found = [line for text in code for line in re.findall(r"(?:^|&&) *rigdsl ([a-z][^\n|&]*)", text, re.MULTILINE)]
    return [line.strip() for line in found] + [hook["entry"].removeprefix("rigdsl ") for hook in hooks()]


def hooks() -> list[dict[str, str]]:
    loaded: list[dict[str, str]] = YAML(typ="safe").load(ROOT / ".pre-commit-hooks.yaml")
    return loaded


def taken(line: str) -> None:
    """Raises what the command line would say."""
    words = shlex.split(line.replace("<<", ""), comments=True)
    command: click.Command = rigdsl
    with click.Context(rigdsl) as context:
        while isinstance(command, click.Group):
            name, found, words = command.resolve_command(context, words)
            assert name is not None
            assert found is not None
            command = found
        command.make_context(name, list(words))


@pytest.mark.parametrize("line", sorted(set(lines())))
def test_what_is_told_to_type_is_taken(line: str) -> None:
    if line in COMMANDS:
        return  # a command that is only named
    taken(line)


def test_what_is_not_there_is_not_taken() -> None:
    for line in ("git set", "check --as pdf", "tidy --chek"):
        with pytest.raises(click.UsageError):
            taken(line)


@pytest.mark.parametrize("what", TAKEN_BY)
def test_what_is_told_to_copy_is_taken_by_hosts(what: str, tmp_path: Path) -> None:
    texts = blocks(what)
    assert texts
    for number, text in enumerate(texts):
        path = tmp_path / f"{number}.yaml"
        path.write_text(text, "utf-8")
        command = [sys.executable, "-m", *TAKEN_BY[what], str(path)]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout + done.stderr


def test_the_hooks_and_inputs_that_it_names_are_there() -> None:
    names = {hook["id"] for hook in hooks()}
    assert set(re.findall(r"^\| `(rigdsl-[a-z-]+)`", PAGE, re.MULTILINE)) == names
    assert set(re.findall(r"- id: ([a-z-]+)", PAGE)) <= names
    table = PAGE[PAGE.index("| input |") :]
    inputs = YAML(typ="safe").load(ROOT / "action.yml")["inputs"]
    told = re.findall(r"`([a-z-]+)`", "".join(re.findall(r"^\| (`.*?) \|", table, re.MULTILINE)))
    assert set(told) == set(inputs)


def test_the_script_for_any_host(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    repo: Repository = repository(tmp_path, monkeypatch)
    repo.commit(RIG.replace("xlr 15 m", "xlr 20 m"))
    (script,) = blocks("script")
    (tmp_path / "check-rigs.sh").write_text(script, "utf-8")
    (tmp_path / "rigdsl").write_text(f'#!/bin/sh\nexec "{sys.executable}" -P -m rigdsl "$@"\n')
    (tmp_path / "rigdsl").chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path), prepend=":")
    done = subprocess.run(
        ["bash", str(tmp_path / "check-rigs.sh"), "HEAD~"], cwd=repo.top, capture_output=True, text=True, check=False
    )
    assert done.returncode == 1, done.stderr
    assert sorted(path.name for path in (repo.top / "made").iterdir()) == [
        "change.md",
        "findings.sarif",
        "findings.xml",
    ]
    assert "20 m" in (repo.top / "made" / "change.md").read_text("utf-8")
