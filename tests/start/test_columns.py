"""Which column is what: headings as people write them. Common practice, no source."""

from __future__ import annotations

import pytest

from rigdsl.start.columns import columns_of


def fields(*titles: str, below: list[list[str]] | None = None) -> list[str]:
    columns = columns_of([list(titles), *(below or [])])
    return list(columns.fields) if columns else []


@pytest.mark.parametrize(
    ("title", "field"),
    [
        *((title, "channel") for title in ("Ch", "CH.", "ch no.", "Channel", "CHANNEL #", "#", "Nr.", "Input No.")),
        *((title, "mic") for title in ("Mic", "MIC / DI", "mic/di", "Microphone", "Mic or DI", "Mikrofon", "micro")),
        *((title, "stand") for title in ("Stand", "Mic Stand", "stands", "Stativ")),
        *((title, "phantom") for title in ("48V", "+48", "+48 V", "48 v", "Phantom", "PHANTOM POWER", "P48")),
        *((title, "note") for title in ("Note", "Notes:", "Comments", "comment", "REMARKS", "Bemerkung")),
        *((title, "monitor") for title in ("Monitor", "Mon", "monitor mix", "Wedge")),
        *((title, "position") for title in ("Position", "Stage", "stage position", "Pos.", "Where")),
        *((title, "type") for title in ("Type", "Kind", "source type")),
        *((title, "") for title in ("Colour", "Gate", "Who brings it", "", "Comp")),
    ],
)
def test_usual_spellings(title: str, field: str) -> None:
    assert fields("Source", title) == ["name", field]


@pytest.mark.parametrize("title", ["Name", "SOURCE", "source ", "Instrument", "Description", "What", "Quelle"])
def test_what_a_row_is_about(title: str) -> None:
    assert fields("Ch", title) == ["channel", "name"]


@pytest.mark.parametrize(
    ("titles", "below", "expected"),
    [
        (["Input", "Source"], [], ["channel", "name"]),
        (["Ch", "Input"], [], ["channel", "name"]),
        (["Input", "Mic"], [["1", "kick"], ["2", "sn"]], []),  # numbers and microphones: nothing says what they are of
        (["Input", "Mic"], [["Kick", "dynamic"], ["", ""], ["Snare", "x"]], ["name", "mic"]),
        (["#", "INPUTS", "mic"], [], ["channel", "name", "mic"]),
    ],
)
def test_a_column_called_input_is_what_the_others_are_not(
    titles: list[str], below: list[list[str]], expected: list[str]
) -> None:
    assert fields(*titles, below=below) == expected


def test_two_columns_of_one_kind() -> None:
    """Of names and channels the first counts; notes may stand in several."""
    assert fields("No", "Ch", "Name", "Instrument", "Notes", "Comments") == ["channel", "", "name", "", "note", "note"]


def test_the_headings_may_stand_below_a_title() -> None:
    columns = columns_of([["Peat Choir, input list"], ["Name of the boss", "0123"], ["Ch", "Name", "Mic"], ["1"]])
    assert columns is not None
    assert (columns.at, columns.fields) == (2, ("channel", "name", "mic"))


def test_of_two_rows_that_may_be_it_the_first() -> None:
    columns = columns_of([["Ch", "Name"], ["Ch", "Name"]])
    assert columns is not None
    assert columns.at == 0


@pytest.mark.parametrize("rows", [[], [["1", "Kick"], ["2", "Snare"]], [["Ch", "Mic"]], [[""]]])
def test_without_headings_nothing_is_made_up(rows: list[list[str]]) -> None:
    assert columns_of(rows) is None


def test_names_alone_are_a_list_too() -> None:
    assert fields("Instrument") == ["name"]
