"""SARIF 2.1.0: the schema of OASIS, a model by somebody else, and what code-scanning services ask for beyond both.

The services' limits and wishes are those of GitHub's page "SARIF support for code scanning" and its table of limits.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import jsonschema
import pydantic
import pytest
import sarif_pydantic

from rigdsl.finding import Level, Related
from rigdsl.lint.accept import CORE
from rigdsl.packs import discover
from rigdsl.reports.report import Item, Report
from rigdsl.reports.sarif import MOST_RESULTS, sarif
from rigdsl.reports.sarif_results import results
from rigdsl.text import Source, Span
from tests.cli.club import CLEAN, LOOSE
from tests.conftest import Run
from tests.reports.told import FILE, HOSTILE, REFUSED, RULES, accepted, finding, full, mark, report, same

ROOT = Path(__file__).parents[2]
OASIS = ROOT.parent / "shared" / "reference" / "sarif-schema-2.1.0.json"
EXAMPLES = sorted(path.parent.parent.name for path in ROOT.glob("examples/*/shows/*.rig"))
# Keys of the standard that the model leaves out (OASIS, sarif-v2.1.0: 3.14.17, 3.20.21, 3.27.23).
NOT_IN_THE_MODEL = {"columnKind", "toolExecutionNotifications", "suppressions"}


def log(made: Report, **more: Any) -> dict[str, Any]:
    """The log of a report, checked by both judges."""
    return judged(sarif(made, RULES, more.get("refused", ()), more.get("where", same)))


def judged(data: bytes | str) -> dict[str, Any]:
    value: dict[str, Any] = json.loads(data)
    model = sarif_pydantic.Sarif.model_validate(value)
    unknown = set(_extras(model))
    assert unknown <= NOT_IN_THE_MODEL, f"keys that the standard does not have: {unknown}"
    _services(value)
    if OASIS.exists():
        jsonschema.Draft7Validator(json.loads(OASIS.read_text("utf-8"))).validate(value)
    return value


def _extras(value: object) -> Iterator[str]:
    if isinstance(value, pydantic.BaseModel):
        yield from value.model_extra or ()
        for name in type(value).model_fields:
            if name != "properties":
                yield from _extras(getattr(value, name))
    elif isinstance(value, list):
        for item in value:
            yield from _extras(item)


def _services(value: dict[str, Any]) -> None:
    """What makes a service refuse a whole log, or drop parts of it."""
    (run,) = value["runs"]
    assert "originalUriBaseIds" not in run
    assert len(run["results"]) <= 25_000
    components = [run["tool"]["driver"], *run["tool"]["extensions"]]
    assert len(components) <= 100
    for rule in (rule for component in components for rule in component["rules"]):
        assert 0 < len(rule["fullDescription"]["text"]) <= 1024
        assert len(rule["properties"]["tags"]) <= 10
        assert all(rule[key]["text"].strip() for key in ("shortDescription", "fullDescription", "help"))
    for result in run["results"]:
        assert len(result["relatedLocations"]) <= 100
        (place,) = result["locations"]
        for location in (place, *result["relatedLocations"]):
            physical = location["physicalLocation"]
            uri = physical["artifactLocation"]["uri"]
            assert uri, "an empty uri refuses the log"
            assert re.fullmatch(r"[A-Za-z0-9._~%/-]+", uri), "relative, and escaped as RFC 3986 has it"
            assert not uri.startswith("/")
            region = physical["region"]
            assert region["startLine"] == region["endLine"]
            assert 1 <= region["startColumn"] <= region["endColumn"]
        assert result["message"]["text"]
        numbers = [location["id"] for location in result["relatedLocations"]]
        links = re.findall(r"(?<!\\)\]\((.*?)\)", result["message"]["text"])
        assert {int(number) for number in links} <= set(numbers), "a link goes to a place of this result"


@pytest.mark.skipif(
    not OASIS.exists(),
    reason=f"the OASIS schema is not beside the checkout ({OASIS.relative_to(ROOT.parent)}): judged by the model alone",
)
def test_the_schema_of_oasis_is_at_hand() -> None:
    schema = json.loads(OASIS.read_text("utf-8"))
    assert "2.1.0" in schema["title"]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft7Validator(schema).validate({"version": "2.1.0"})


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_examples(run: Run, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    monkeypatch.chdir(ROOT / "examples" / name)
    ran = run("check", ".", "--as", "sarif")
    (one,) = judged(ran.out)["runs"]
    errors = sum(result["level"] == "error" for result in one["results"])
    assert (ran.status, ran.err) == (int(errors > 0), "")
    assert (errors > 0) == (name == "faulty")


class TestRules:
    def test_all_are_declared_also_in_a_clean_run(self) -> None:
        (run,) = log(report())["runs"]
        assert run["results"] == []
        assert run["columnKind"] == "unicodeCodePoints"
        assert {rule["id"] for rule in run["tool"]["driver"]["rules"]} == CORE
        found = {component["name"]: component for component in run["tool"]["extensions"]}
        for item in discover().installed:
            declared = [rule["id"] for rule in found[item.pack.name]["rules"]]
            assert declared == sorted(rule.name for rule in item.pack.rules)
            assert found[item.pack.name]["version"] == item.version

    def test_one_rule(self) -> None:
        (run,) = log(report())["runs"]
        rules = {rule["id"]: rule for component in run["tool"]["extensions"] for rule in component["rules"]}
        off, on = rules["not-repeated"], rules["protocol-mismatch"]
        assert off["defaultConfiguration"] == {"enabled": False, "level": "note"}
        assert on["defaultConfiguration"] == {"enabled": True, "level": "error"}
        assert on["properties"]["tags"] == ["live-sound", "protocol"]
        assert on["properties"]["problem.severity"] == "error"
        assert "## A rig that breaks it\n```rig\n" in on["help"]["markdown"]
        assert "```" not in on["help"]["text"]

    @pytest.mark.parametrize("name", ["unplugged-source", "syntax-error", "run-too-long"])
    def test_a_result_finds_its_rule(self, name: str) -> None:
        (run,) = log(report(finding(rule=name)))["runs"]
        (result,) = run["results"]
        component, index = run["tool"]["driver"], result.get("ruleIndex")
        if index is None:
            named = result["rule"]["toolComponent"]
            component, index = run["tool"]["extensions"][named["index"]], result["rule"]["index"]
            assert component["name"] == named["name"]
        assert component["rules"][index]["id"] == result["ruleId"] == name


class TestPlace:
    def place(self, span: Span, **more: Any) -> dict[str, Any]:
        (result,) = log(report(finding(span)), **more)["runs"][0]["results"]
        physical: dict[str, Any] = result["locations"][0]["physicalLocation"]
        return {"uri": physical["artifactLocation"]["uri"], **physical["region"]}

    def test_ends_are_exclusive(self) -> None:
        said = {"uri": "friday.rig", "startLine": 4, "startColumn": 5, "endLine": 4, "endColumn": 7}
        assert self.place(mark("SL")) == said

    def test_columns_count_characters(self) -> None:
        source = Source("friday.rig", '"🎤é日本" here\n')
        assert self.place(mark("here", source))["startColumn"] == 8

    def test_over_several_lines_the_first_one(self) -> None:
        source = Source("friday.rig", "box SL is nw4 {  \n  note x\n}\n")
        where = self.place(Span(source, 0, len(source.text)))
        assert (where["startLine"], where["endLine"], where["endColumn"]) == (1, 1, 16)

    @pytest.mark.parametrize(("at", "columns"), [(0, (1, 2)), (3, (3, 4)), (4, (1, 1))])
    def test_where_a_word_is_missing_its_neighbour_is_marked(self, at: int, columns: tuple[int, int]) -> None:
        where = self.place(Span(Source("friday.rig", "abc\n\n"), at, at))
        assert (where["startColumn"], where["endColumn"]) == columns

    @pytest.mark.parametrize("path", ["", "rigdsl/library/standards.rig"])
    def test_without_a_file_the_first_line_of_the_rig(self, path: str) -> None:
        where = self.place(Span(Source(path, "abc"), 1, 2), where=lambda path: path if path == "friday.rig" else "")
        assert where == {"uri": "friday.rig", "startLine": 1, "startColumn": 1, "endLine": 1, "endColumn": 2}

    def test_names_of_files_are_escaped(self) -> None:
        path = "shows/50% of Åse's: night #2 [new].rig"
        uri = self.place(Span(Source(path, "abc"), 0, 1))["uri"]
        assert unquote(uri) == path


@pytest.mark.parametrize("text", HOSTILE)
def test_any_text_at_all(text: str) -> None:
    (result,) = log(report(full(text), accepted=(accepted(finding(mark("SR")), because=text),)))["runs"][0]["results"][
        :1
    ]
    assert result["properties"]["subject"] == text
    assert result["fixes"][0]["artifactChanges"][0]["replacements"][0]["insertedContent"]["text"] == text


class TestMessage:
    def text(self, **more: Any) -> str:
        (result,) = log(report(finding(**more)))["runs"][0]["results"]
        return str(result["message"]["text"])

    def test_the_first_sentence_is_the_message(self) -> None:
        said = self.text(
            message="two plugs for `SL.mic 1`",
            consequence="only one fits",
            help="use another",
            related=(Related(mark("SR"), "the first one is here"),),
        )
        assert said == (
            "Two plugs for `SL.mic 1`. On the night: only one fits. To mend it: use another."
            " See [the first one is here](1)."
        )

    def test_a_link_of_a_users_is_none(self) -> None:
        """Link syntax and escapes: sarif-v2.1.0 (OASIS), 3.11.6."""
        said = self.text(message="`[x](7)` is odd", related=(Related(mark("SR"), "a [b] \\ c"),))
        assert said == "`[x\\](7)` is odd. See [a \\[b\\] \\\\ c](1)."

    def test_braces_are_no_placeholders(self) -> None:
        """Doubled, as sarif-v2.1.0 (OASIS), 3.11.5 has it."""
        assert self.text(message="write `{ kind }`") == "Write `{{ kind }}`."

    def test_no_more_than_eight_links(self) -> None:
        assert self.text(related=(Related(mark("SR"), "here"),) * 200).endswith("[here](8) and 92 more.")


class TestFingerprints:
    def prints(self, *findings: Any, rig: str = "friday.rig") -> list[str]:
        made = report(*findings)
        found = results(
            [(made.files[0], Item(one)) for one in findings], {}, lambda path: path.replace("friday.rig", rig)
        )
        return [result["partialFingerprints"]["primaryLocationLineHash"] for result in found]

    def test_lines_and_words_may_change(self) -> None:
        one = finding(mark("SL"), "said so", subject="kick")
        other = finding(Span(Source("gear/house.rig", "\n\n\nkick"), 3, 7), "said otherwise", subject="kick")
        assert self.prints(one) == self.prints(other)

    def test_rule_subject_and_rig_may_not(self) -> None:
        one = finding(subject="kick")
        found = {
            *self.prints(one),
            *self.prints(finding(subject="snare")),
            *self.prints(finding(subject="kick", rule="run-too-long")),
            *self.prints(one, rig="saturday.rig"),
        }
        assert len(found) == 4

    def test_no_two_of_one_run_are_alike(self) -> None:
        first, second = self.prints(finding(subject="kick"), finding(mark("SR"), subject="kick"))
        assert first.removesuffix(":1") == second.removesuffix(":2")

    def test_a_rig_whose_lines_move(self, club: Path, run: Run) -> None:
        def found(text: str) -> list[Any]:
            (club / "friday.rig").write_text(text)
            made = json.loads(run("check", "--as", "sarif").out)["runs"][0]["results"]
            return sorted([one["ruleId"], one["partialFingerprints"]["rigdsl/v1"]] for one in made)

        head, *rest = LOOSE.splitlines(keepends=True)
        assert found(LOOSE) == found("".join([head, "# moved\n\n\n", *reversed(rest)])) != []


class TestSuppressed:
    def test_accepted_in_the_rig(self) -> None:
        made = report(accepted=(accepted(finding(), "the drummer brings a box", "2026-12-31"),))
        (result,) = log(made)["runs"][0]["results"]
        (one,) = result["suppressions"]
        assert (one["kind"], one["justification"]) == ("inSource", "the drummer brings a box (until 2026-12-31)")
        assert one["location"]["physicalLocation"]["region"]["startLine"] == 6

    def test_known_from_before(self) -> None:
        made = report(finding())
        (result,) = results([(made.files[0], Item(finding(), known=True))], {}, same)
        assert [one["kind"] for one in result["suppressions"]] == ["external"]

    def test_an_open_one(self) -> None:
        assert log(report(finding()))["runs"][0]["results"][0]["suppressions"] == []


class TestRun:
    def test_a_rule_that_broke_down_and_a_pack_that_was_left_out(self) -> None:
        crash = finding(Span(Source("", ""), 0, 0), "the rule `run-too-long` broke down", rule="rule-crashed",
                        subject="run-too-long", help="tell the makers of the pack `distance`")  # fmt: skip
        made = log(report(crash, crashed=True), refused=(REFUSED,), where=lambda path: path)
        (invocation,) = made["runs"][0]["invocations"]
        assert not invocation["executionSuccessful"]
        refused, crashed = invocation["toolExecutionNotifications"]
        assert "`bad` 1.2 is left out" in refused["message"]["text"]
        assert crashed["associatedRule"]["id"] == "run-too-long"

    def test_a_whole_one(self) -> None:
        (invocation,) = log(report(finding()))["runs"][0]["invocations"]
        assert invocation == {"executionSuccessful": True, "toolExecutionNotifications": []}

    def test_the_worst_rank_first(self) -> None:
        made = report(
            finding(subject="a", level=Level.NOTE, silent=("x",) * 90),
            finding(subject="b", level=Level.WARNING),
            finding(subject="c", silent=("x",)),
            finding(subject="d", silent=("x", "y")),
        )
        ranks = {one["properties"]["subject"]: one["rank"] for one in log(made)["runs"][0]["results"]}
        assert sorted(ranks, key=lambda name: -ranks[name]) == ["d", "c", "b", "a"]
        assert all(0 <= rank <= 100 for rank in ranks.values())

    def test_more_than_a_service_takes(self) -> None:
        many = [finding(subject=f"n{number}", level=Level.NOTE) for number in range(MOST_RESULTS)]
        made = report(*many, finding(mark("SR"), subject="the worst"))
        (run,) = json.loads(sarif(made, RULES, (), same))["runs"]
        assert len(run["results"]) == MOST_RESULTS
        assert run["results"][-1]["level"] == "error"
        assert "1 more" in run["invocations"][0]["toolExecutionNotifications"][0]["message"]["text"]


class TestRepository:
    """Services know a file by its path from the repository's root."""

    def uris(self, run: Run, *arguments: str) -> set[str]:
        made = judged(run("check", *arguments, "--as", "sarif").out)
        places = [one["locations"][0]["physicalLocation"] for one in made["runs"][0]["results"]]
        return {place["artifactLocation"]["uri"] for place in places}

    def test_from_a_folder_inside(self, club: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
        (club / "shows").mkdir()
        (club / "shows" / "1.rig").write_text(LOOSE.replace('"gear', '"../gear'))
        monkeypatch.chdir(club / "shows")
        assert self.uris(run, ".") == {"shows/1.rig"}  # no repository: from the root of the project
        (club / ".git").mkdir()
        assert self.uris(run, ".") == {"shows/1.rig"}

    def test_links_are_followed(self, club: Path, run: Run) -> None:
        (club / "shows").mkdir()
        (club / "shows" / "1.rig").write_text(LOOSE.replace('"gear', '"../gear'))
        (club / "friday.rig").unlink()
        (club / "tonight.rig").symlink_to("shows/1.rig")
        assert self.uris(run, "tonight.rig") == {"shows/1.rig"}

    def test_standard_input(self, club: Path, run: Run) -> None:
        made = judged(run("check", "-", "--as", "sarif", stdin=CLEAN + "sorce\n").out)
        (result,) = made["runs"][0]["results"]
        assert result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == "-"


def test_the_same_bytes(club: Path, run: Run) -> None:
    (club / "friday.rig").write_text(LOOSE)
    once, again = (run("check", "--as", "sarif").out for _ in range(2))
    assert once == again
    assert str(club) not in once
    assert FILE.path in once
