"""What all forms for programs have in common: the exit status, one document and nothing else, schemas that hold."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import jsonschema
import pytest

from rigdsl.cli.forms import FORMS
from tests.cli.club import CLEAN, LOOSE
from tests.cli.club import document as checked
from tests.conftest import Run

GRAMMAR = Path(__file__).parents[2] / "grammar"
EXAMPLES = GRAMMAR.parent / "examples"
SHOWS = sorted(EXAMPLES.glob("*/shows/*.rig"))

ALL = ("text", *FORMS)


@pytest.mark.parametrize("form", ALL)
@pytest.mark.parametrize(
    ("text", "more", "status"),
    [
        (CLEAN, (), 0),
        (LOOSE, (), 1),
        (LOOSE, ("--fail-on", "never"), 0),
        (CLEAN.replace("keep SL.mic 3-4", "# keep SL.mic 3-4"), ("--fail-on", "note"), 1),
        (CLEAN + "sorce hat\n", (), 1),
    ],
)
def test_the_exit_status_is_that_of_the_rig(
    club: Path, run: Run, form: str, text: str, more: Sequence[str], status: int
) -> None:
    (club / "friday.rig").write_text(text)
    ran = run("check", "--as", form, *more)
    assert (ran.status, ran.err) == (status, "")


@pytest.mark.parametrize("form", ALL)
def test_to_a_file(club: Path, run: Run, form: str) -> None:
    (club / "friday.rig").write_text(LOOSE)
    (club / "made").mkdir()
    ran = run("check", "--as", form, "--out", "made/report")
    assert (ran.status, ran.out, ran.err) == (1, "", "")
    assert (club / "made" / "report").read_bytes().decode("utf-8") == run("check", "--as", form).out
    assert [path.name for path in (club / "made").iterdir()] == ["report"], "nothing else is left behind"


@pytest.mark.parametrize("form", FORMS)
def test_words_to_people_go_to_standard_error(club: Path, run: Run, form: str) -> None:
    ran = run("check", "gear.rig", "--as", form)
    assert ran.err.startswith("rigdsl: without a `rig` head")
    assert "rigdsl: without" not in ran.out


def test_a_file_that_cannot_be_written(club: Path, run: Run) -> None:
    ran = run("check", "--as", "sarif", "--out", "friday.rig/report")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("rigdsl: not a directory")


def test_people_do_not_wait_for_what_only_programs_read(club: Path) -> None:
    look = (
        "import sys; from rigdsl.cli.main import main; main(['check', 'friday.rig']);"
        "print([name for name in sys.modules if name.startswith('rigdsl.reports') or name.startswith('xml')])"
    )
    done = subprocess.run([sys.executable, "-c", look], capture_output=True, text=True, check=True, cwd=club)
    loaded = done.stdout.splitlines()[-1]
    assert "rigdsl.reports.text" in loaded
    for name in ("sarif", "junit", "workflow", "check_json", "export", "xml.etree"):
        assert name not in loaded


class TestSchemas:
    def test_they_are_schemas(self) -> None:
        paths = sorted(GRAMMAR.glob("*.schema.json"))
        assert {"check", "export", "rules", "trace"} <= {path.name.removesuffix(".schema.json") for path in paths}
        for path in paths:
            schema = json.loads(path.read_text("utf-8"))
            jsonschema.Draft202012Validator.check_schema(schema)
            assert schema["$id"] == f"urn:rigdsl:{path.name.removesuffix('.schema.json')}"

    @pytest.mark.parametrize("show", SHOWS, ids=lambda path: path.stem)
    def test_check(self, run: Run, show: Path) -> None:
        value = checked(run("check", str(show), "--as", "json", "--accepted").out)
        assert (value["counts"]["error"] > 0) == ("faulty" in show.parts)

    @pytest.mark.parametrize("show", SHOWS, ids=lambda path: path.stem)
    def test_trace(self, run: Run, show: Path) -> None:
        schema = json.loads((GRAMMAR / "trace.schema.json").read_text("utf-8"))
        rig = json.loads(run("export", str(show)).out)
        named = [thing["name"] for kind in ("sources", "outputs", "boxes", "links") for thing in rig[kind][:3]]
        for name in named:
            jsonschema.validate(json.loads(run("trace", str(show), name, "--as", "json").out), schema)
        assert len(named) > 6

    def test_rules(self, run: Run) -> None:
        schema = json.loads((GRAMMAR / "rules.schema.json").read_text("utf-8"))
        jsonschema.validate(json.loads(run("rules", "--as", "json").out), schema)
        show = str(EXAMPLES / "club" / "shows" / "friday.rig")
        jsonschema.validate(json.loads(run("rules", "--as", "json", "--timing", show).out), schema)
