"""What is said about each mistake: the place, the message, the help. The table is `messages.txt`."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rigdsl.finding import Finding, Level
from rigdsl.syntax import parse
from rigdsl.text import Source
from rigdsl_grammar.table import PATTERNS, ROWS

TABLE = Path(__file__).with_name("messages.txt").read_text("utf-8")


def cases() -> list[tuple[str, str, str]]:
    """Text with the place marked, message, help."""
    rows = []
    for block in TABLE.rstrip("\n").split("\n\n"):
        *text, message, help = block.split("\n")
        assert message.startswith("! ")
        assert help.startswith("> ")
        rows.append(("\n".join(text).replace(r"\xa0", "\xa0").replace(r"\0", "\0"), message[2:], help[2:]))
    return rows


def only(text: str) -> Finding:
    """The one finding of a text."""
    (finding,) = parse(Source("test.rig", text)).findings
    return finding


@pytest.mark.parametrize(("marked", "message", "help"), cases())
def test_message(marked: str, message: str, help: str) -> None:
    text = marked.replace("⟦", "").replace("⟧", "")
    finding = only(text)
    start, end = finding.place.start, finding.place.end
    assert f"{text[:start]}⟦{text[start:end]}⟧{text[end:]}" == marked
    assert finding.message == message
    assert finding.help == help


@pytest.mark.parametrize(("marked", "message", "help"), cases())
def test_form_of_a_message(marked: str, message: str, help: str) -> None:
    finding = only(marked.replace("⟦", "").replace("⟧", ""))
    assert finding.rule in ("syntax-error", "wrong-unit", "wrong-number")
    assert finding.level is Level.ERROR
    assert finding.subject == "".join(char for char in finding.subject if char.isprintable())
    assert help
    for text in (message, finding.consequence, help):
        assert not text.endswith(".")
        assert not text[:1].isupper()
    said = re.sub("`[^`]*`", "", f"{message} {finding.consequence} {help}")
    terminals = {name for name, _ in PATTERNS} | {name for row in ROWS for name in row}
    assert not set(re.findall(r"[A-Z_]{2,}|__\w+", said)) & terminals
    assert not re.search(r"\b(token|identifier|expected|unexpected|parser?|syntax|None|list|EOF)\b", said)


@pytest.mark.parametrize(
    ("text", "subject"),
    [
        ("source kick", "source kick"),
        ("patch SL.mic 1-3", "patch SL.mic"),
        ("link C01: A ->  B", "link C01"),
        ("box A is b { rate = 3 }", "box A rate"),
        ("\n\n  box A is b { rate = 3 }", "box A rate"),
        ("model m {\n kind x", "model m"),
        ("}", "}"),
    ],
)
def test_subject_names_the_statement_and_no_line(text: str, subject: str) -> None:
    assert only(text).subject == subject


@pytest.mark.parametrize(
    ("text", "consequence"),
    [
        ("source kick", "this statement is left out: nothing that it says is checked, drawn or printed"),
        ("box A is b { rate = 3 }", "this line is left out: nothing that it says is checked, drawn or printed"),
        (
            "model m { inputs }",
            "without this line the whole statement is left out: nothing of it is checked, drawn or printed",
        ),
        ("box A is b\n{ rate 3 kHz }", ""),
    ],
)
def test_consequence_says_what_the_mistake_costs(text: str, consequence: str) -> None:
    assert only(text).consequence == consequence


@pytest.mark.parametrize(
    ("text", "rule", "subject"),
    [
        ("source k dynamic to SL 1 via xlr 3", "wrong-unit", "3"),
        ("way foh -- wing 65", "wrong-unit", "65"),
        ("source k dynamic to SL 1 via xlr -3 m", "wrong-number", "-3 m"),
        ("source k dynamic to SL -3", "wrong-number", "-3"),
        ("source k dynamic to SL 1 via xlr 1,5 m", "wrong-number", "1,5 m"),
        ("source k dynamic to SL 1 via 3 m", "syntax-error", "source k"),
    ],
)
def test_a_wrong_quantity_is_called_as_in_a_fact(text: str, rule: str, subject: str) -> None:
    finding = only(text)
    assert (finding.rule, finding.subject) == (rule, subject)


def test_what_is_missing_at_a_line_s_end_is_told_there() -> None:
    finding = only("# first\nbox SL is   # which?\nbox DR is sub12\n")
    assert finding.place.from_position == (2, 10)
    assert finding.place.to_position == (2, 10)


def test_long_nonsense_makes_short_messages() -> None:
    for text in ("a" * 5000, "%" * 5000, '"' * 5001, "9" * 5000, "box " + "x-" * 5000, "use " + "a b " * 5000):
        finding = only(text)
        assert len(finding.message) + len(finding.help) + len(finding.subject) < 600
