"""`rigdsl.testing` finds what is wrong with a pack: each fault is told, and a good pack has none."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, Rule
from rigdsl.packs import Pack
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from rigdsl.testing import alone, breakdowns, case_faults, findings, page_faults, wording_faults, wrong

PAGE = """\
A box stands in the wings.

## On the night
It is in the way.

## A rig that breaks it
```rig
rig "One box" { rate 48 kHz }
model tie { kind panel; inputs face 1-2; outputs back 1-2 }
zone wing
box WALL is tie in wing
```

## A rig that keeps it
```rig
rig "No box" { rate 48 kHz }
zone wing
```
"""


def in_the_wings(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Says something of every box in the wings."""
    for box in rig.boxes.values():
        if box.zone == "wing":
            yield Finding(
                place=box.place,
                subject=box.name,
                message=f"`{box.name}` is in the wings",
                consequence="it is in the way",
                help="carry it out",
            )


GOOD: Rule[Any] = Rule("house/wings", Level.WARNING, in_the_wings, NoOptions, PAGE)


def house(rule: Rule[Any] = GOOD) -> Pack:
    return Pack("house", rules=(rule,))


def worded(**words: Any) -> Rule[Any]:
    """The same rule, in other words."""

    def check(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
        return (replace(finding, **words) for finding in in_the_wings(rig, paths, options))

    return replace(GOOD, check=check)


def falls(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Breaks down where a box has no zone."""
    for box in rig.boxes.values():
        if not box.zone:
            raise LookupError(box.name)
    yield from in_the_wings(rig, paths, options)


def test_a_good_pack_has_no_fault() -> None:
    assert page_faults(house()) == []
    assert breakdowns(house()) == []


@pytest.mark.parametrize(
    ("doc", "said"),
    [
        (
            PAGE.replace("wings.", "wings"),
            "the first line is no sentence with a full stop: 'A box stands in the wings'",
        ),
        (PAGE.replace("A box", "A" * 110), "the first line has 131 letters, and 120 are the most"),
        (PAGE.replace("It is in the way.", ""), "there is no text under `## On the night`"),
        (
            PAGE.replace("## A rig that keeps it", "## Another"),
            "there is no rig in a block of code under `## A rig that keeps it` (it begins with its head: `rig`)",
        ),
        (PAGE.replace("tie in wing", "tie"), "the rig under `A rig that breaks it` does not break it"),
        (
            PAGE.replace("zone wing\nbox", "zone wing\nsource kick dynamic in wing\nbox"),
            "the rig under `A rig that breaks it` breaks another rule too: line 4: unplugged-source kick:"
            " `kick` is plugged into nothing",
        ),
        (
            PAGE.replace("zone wing\n```\n", "zone wing\nsource kick dynamic in wing\n```\n"),
            "the rig under `A rig that keeps it` breaks a rule: line 3: unplugged-source kick:"
            " `kick` is plugged into nothing",
        ),
    ],
)
def test_what_is_wrong_with_a_page(doc: str, said: str) -> None:
    assert page_faults(house(replace(GOOD, doc=doc))) == [f"house/wings: {said}"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ({"message": "It is here"}, "a finding begins with a capital letter: 'It is here'"),
        ({"message": "it is here."}, "a finding ends in a full stop: 'it is here.'"),
        ({"help": "move it?"}, "a finding asks a question: 'move it?'"),
        ({"help": "move None"}, "a finding says None: 'move None'"),
        ({"help": "move  it"}, "a finding has spaces at an end, two in a row, or a line break: 'move  it'"),
        ({"help": ""}, "a finding has no `help`"),
        ({"consequence": ""}, "a finding has no `consequence`"),
    ],
)
def test_what_is_wrong_with_words(words: dict[str, str], said: str) -> None:
    assert page_faults(house(worded(**words))) == [f"house/wings: {said}"]


def test_the_other_places_are_worded_too() -> None:
    (finding,) = alone(GOOD, PAGE.split("```rig\n")[1].partition("```")[0])
    assert wording_faults(finding) == []
    other = replace(finding, related=(Related(finding.place, "The first is here"),))
    assert wording_faults(other) == ["a finding begins with a capital letter: 'The first is here'"]


@pytest.mark.parametrize(
    ("pack", "said"),
    [
        (Pack("house"), ["the pack has no rules"]),
        (house(replace(GOOD, name="wings")), None),
        (Pack("House"), None),
        (Pack("ports"), ["another pack is called `ports` too"]),
    ],
)
def test_a_pack_that_cannot_be_used(pack: Pack, said: list[str] | None) -> None:
    found = page_faults(pack)
    assert found == said if said else len(found) == 1


RIG = """\
rig "Two walls" { rate 48 kHz }
model tie { kind panel; inputs face 1-2; outputs back 1-2 }
zone wing
zone foh
box A is tie in wing%s
box B is tie in foh%s
source kick dynamic in wing%s
"""


@pytest.mark.parametrize(
    ("marks", "faults"),
    [
        (("#! house/wings A", "", "#! unplugged-source kick"), []),
        (("  #!  house/wings", "", "  # his own #! unplugged-source"), []),
        (
            ("#! house/wings B", "", "#! unplugged-source"),
            [
                "line 5: `house/wings` says nothing of `B`",
                "line 5: house/wings A: `A` is in the wings: this was not expected",
            ],
        ),
        (
            ("#! house/wings A", "#! house/wings B", "#! unplugged-source"),
            ["line 6: `house/wings` says nothing of `B`"],
        ),
        (
            ("#! house/wings A #! port-taken", "", "#! unplugged-source"),
            ["line 5: `port-taken` says nothing"],
        ),
        (
            ("#! house/wings A", "", ""),
            ["line 7: unplugged-source kick: `kick` is plugged into nothing: this was not expected"],
        ),
    ],
)
def test_cases(folder: Path, marks: tuple[str, str, str], faults: list[str]) -> None:
    (folder / "case.rig").write_text(RIG % marks)
    assert case_faults("case.rig", house()) == faults
    assert case_faults(folder / "case.rig", house()) == faults


def test_a_mark_inside_a_label_is_no_remark(folder: Path) -> None:
    (folder / "case.rig").write_text(
        'rig "R" { rate 48 kHz }\nzone wing "Wing #! house/wings X"\nmodel tie { kind panel; inputs face 1-2 }\n'
        "box A is tie in wing #! house/wings A\n"
    )
    assert case_faults("case.rig", house()) == []


def test_a_case_may_use_other_files(folder: Path) -> None:
    (folder / "gear.rig").write_text("model tie { kind panel; inputs face 1-2 }\nbox B is tie in wing\n")
    (folder / "case.rig").write_text(
        'rig "R" { rate 48 kHz }\nuse "gear.rig"\nzone wing\nbox A is tie in wing #! house/wings A\n'
    )
    assert case_faults("case.rig", house()) == [
        "gear.rig, line 2: house/wings B: `B` is in the wings: this was not expected"
    ]


def test_a_rule_that_breaks_down_is_caught_and_the_rig_shown() -> None:
    found = breakdowns(house(replace(GOOD, check=falls)), rigs=400)
    assert "the rule `house/wings` broke down: LookupError: " in found[0]
    assert "box " in found[-1]
    assert found == breakdowns(house(replace(GOOD, check=falls)), rigs=400), "the same rigs in every run"
    assert found != breakdowns(house(replace(GOOD, check=falls)), rigs=400, seed=2)


def test_what_is_said_of_a_rig() -> None:
    text = RIG % ("", "", "")
    assert [finding.rule for finding in findings(text, house()) if finding.level != Level.NOTE] == [
        "house/wings",
        "unplugged-source",
    ]
    assert [finding.rule for finding in wrong(text)] == ["unplugged-source"]
    with pytest.raises(AssertionError, match="there is no model called `tie`"):
        wrong(text.replace("model tie", "model knot"))
