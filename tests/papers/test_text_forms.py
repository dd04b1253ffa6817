"""Papers as Markdown and CSV: what a user wrote stays text."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest

from rigdsl.papers import Paper, Printed, Table
from rigdsl.reports.paper_csv import paper_csv
from rigdsl.reports.paper_md import paper_md
from rigdsl.rig import read

EXAMPLES = Path(__file__).parents[2] / "examples"
HOSTILE = [
    "a | b",
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    " =1",
    "\t=1",
    "＝1",
    'say "hello", twice',
    "<b>bold</b>",
    "*loud* _soft_ `code` [x](y) #1 ~~z~~",
    "back\\slash",
    "&amp;",
    "two\nlines",
]


class TestForms:
    @pytest.mark.parametrize("text", HOSTILE)
    def test_csv_reads_back_and_no_field_is_a_formula(self, text: str) -> None:
        """RFC 4180; a field that a spreadsheet would take for a formula begins with an apostrophe (OWASP)."""
        data = paper_csv(Table(("one", "two"), ((text, "x"), ("y", text))))
        head, first, second = csv.reader(io.StringIO(data.decode("utf-8"), newline=""), strict=True)
        assert head == ["one", "two"]
        assert first[1:] == ["x"]
        assert second == ["y", first[0]]
        assert first[0].removeprefix("'") == text
        assert not first[0].strip().startswith(("=", "+", "-", "@", "＝"))

    @pytest.mark.parametrize("text", HOSTILE)
    def test_markdown_has_one_row_of_as_many_fields(self, text: str) -> None:
        """What Markdown takes for itself is escaped (CommonMark 0.31, backslash escapes)."""
        rig = read('rig "R" { rate 48 kHz }')
        page = paper_md(Printed("l", "List", (Table(("one", "two"), ((text, "x"),), (text,)),)), rig)
        (row,) = [line for line in page.splitlines() if re.search(r"\| x +\|$", line)]
        assert len(re.findall(r"(?<!\\)\|", row)) == 3
        assert not re.search(r"(?<!\\)[<*_`\[]", row.replace("\\\\", ""))
        first = re.sub(r"\\(.)", r"\1", row).removeprefix("|").rpartition("| x")[0]
        assert first.strip() == " ".join(text.split())

    def test_markdown_begins_with_the_facts_of_the_rig(self) -> None:
        rig = read('rig "Barn" { rate 48 kHz; revision "2"; date 2027-03-05 }')
        page = paper_md(Printed("l", "List", (Table(("a",), (("b",),), ("a note",)),)), rig)
        assert page == "# List: Barn\n\nrevision 2, 2027-03-05\n\n| a |\n|---|\n| b |\n\n- a note\n"

    def test_a_row_that_is_no_row_is_refused(self) -> None:
        with pytest.raises(ValueError, match="row 2 has 1 fields, and the table 2 columns"):
            Table(("a", "b"), (("c", "d"), ("e",)))
        with pytest.raises(ValueError, match="row 1 has a field that is neither text nor a number"):
            Table(("a",), ((None,),))  # type: ignore[arg-type]
        assert Paper("a", "A", lambda facts: Table((), ())).name == "a"
