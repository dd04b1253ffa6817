"""The one layout on whole rigs: examples, those of rule pages, made ones, with blanks and remarks strewn in."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest

from rigdsl.lint.pages import page
from rigdsl.packs import discover
from rigdsl.reports.export import export
from rigdsl.rig import DictReader, load
from rigdsl.syntax import tokens
from rigdsl.text import Source
from tests.bench.festival import festival_text
from tests.bench.rigs import list_text, rig_text
from tests.syntax.test_tidy import FILES, ROOT, set_anew


def loosened(text: str, seed: str) -> str:
    """A text with blanks, blank lines and remarks strewn into it."""
    chance = Random(seed)
    made = []
    for token in tokens(Source("test.rig", text)):
        if token.kind == "BLANK":
            made.append(token.text + chance.choice(["", " ", "\t", "   "]))
        elif token.text == "\n":
            made.append(chance.choice(["", "", "  ", ";"]) + chance.choice(["\n", "\n", "\n\n\n", "\n# by the way\n"]))
        else:
            made.append(token.text)
    return "".join(made)


def exported(files: dict[str, str], entry: str) -> bytes:
    loaded = load(entry, DictReader(files))
    return export(loaded.rig, loaded.sources)


@pytest.mark.parametrize("folder", sorted({path.parts[-3] for path in FILES if "shows" in path.parts}))
def test_examples_are_the_same_rigs(folder: str) -> None:
    there = ROOT / "examples" / folder
    files = {path.relative_to(there).as_posix(): path.read_text("utf-8") for path in there.glob("**/*.rig")}
    loose = {path: loosened(text, path) for path, text in files.items()}
    done = {path: set_anew(text) for path, text in loose.items()}
    for entry in sorted(path for path in files if path.startswith("shows/")):
        assert exported(done, entry) == exported(loose, entry) == exported(files, entry)


RULES = {packed.rule.name: packed.rule for packed in discover().rules}


@pytest.mark.parametrize("name", sorted(RULES))
def test_rigs_of_rule_pages_are_in_the_layout_and_stay_the_same_rigs(name: str) -> None:
    rule: Any = RULES[name]
    for text in (page(rule).breaks, page(rule).keeps):
        assert set_anew(text) == text.rstrip("\n") + "\n"
        loose = loosened(text, text)
        assert exported({"a.rig": set_anew(loose)}, "a.rig") == exported({"a.rig": loose}, "a.rig")


@pytest.mark.parametrize("text", [rig_text(300), list_text(64), festival_text()], ids=["stages", "list", "festival"])
def test_made_rigs_are_the_same_rigs(text: str) -> None:
    loose = loosened(text, "x")
    assert exported({"a.rig": set_anew(loose)}, "a.rig") == exported({"a.rig": text}, "a.rig")
