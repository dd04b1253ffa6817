"""`rig.toml` as TOML: its values and places, or the line at which it cannot be read, in a user's words."""

from __future__ import annotations

import re

from rigdsl.config.keys import FILE
from rigdsl.config.said import Said, wrong
from rigdsl.finding import Finding
from rigdsl.text import Source, Span
from rigdsl.text.toml_places import Places, places

__all__ = ["read_toml"]

NOTHING = "nothing in it is followed: every rule is as it is where nothing is set, and packs are not in use"
LINE = re.compile(r"^[ \t]*[^ \t#\n]", re.MULTILINE)
PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
PACK_RULE = re.compile(r"\[[^\]\"'\n]*[A-Za-z0-9-]+/[A-Za-z0-9-]+")

# How the parser of the standard library begins what it says, and what a user is told.
TOLD = (
    ("Expected '=' after a key", "there is no `=` behind the name", 'a line is `name = value`, as in `level = "note"`'),
    ("Invalid value", "there is no value here", 'a text stands in quotation marks, as in `level = "note"`'),
    ("Illegal character", "a character stands here that cannot", "a text ends on its line, with a quotation mark"),
    ("Unterminated string", "the text in quotation marks has no end", "put a quotation mark behind it"),
    ("Expected newline or end", "something stands behind the value", "a line has one name and one value"),
    ("Expected ']'", "the name in square brackets has no end", "a block begins with `[rules.NAME]`"),
    ("Expected ']]'", "the name in square brackets has no end", "a block for some rigs begins with `[[for]]`"),
    ("Unclosed array", "the list has no end", "put `]` behind its last value"),
    ("Unclosed inline table", "the table in braces has no end", "put `}` behind its last value"),
    ("Cannot declare", "this block is here twice", "put the lines of both under one"),
    ("Cannot overwrite", "this is set twice", "take one of the two lines out"),
    ("Cannot mutate", "this is set twice", "take one of the two lines out"),
    ("Cannot redefine", "this is set twice", "take one of the two lines out"),
    ("Duplicate inline table key", "this is set twice", "take one of the two out"),
    ("Unescaped", "`\\` in a text begins a sign that there is not", "write `/` between folders"),
)
OTHER = ("this line cannot be read", "a line is `name = value`, a block begins with `[rules.NAME]` or `[[for]]`")


def read_toml(source: Source) -> Said | Finding:
    """What a file says; a file of comments says nothing, and is not worth loading a parser for."""
    if not LINE.search(source.text):
        return Said({}, Places(source, {}, {}))
    import tomllib

    try:
        values = tomllib.loads(source.text)
    except tomllib.TOMLDecodeError as error:
        return _broken(source, str(error))
    except RecursionError:
        return wrong(Span(source, 0, 0), FILE, "lists lie in lists too deep to read", NOTHING, OTHER[1])
    return Said(values, places(source))


def _broken(source: Source, error: str) -> Finding:
    place = _place(source, error)
    line = source.line(place.from_position.line)
    message, help_ = next((told for begins, *told in TOLD if error.startswith(begins)), OTHER)
    if PACK_RULE.search(line) and line.lstrip().startswith("["):
        message, help_ = "a name with `/` in it stands bare", 'put it in quotation marks: `[rules."pack/rule"]`'
    return wrong(place, FILE, message, NOTHING, help_)


def _place(source: Source, error: str) -> Span:
    """The character that an error is about, on a line that has one: what ends too soon is shown where it does."""
    found = PLACE.search(error)
    at = len(source.text)
    if found and found[1]:
        at = source.line_starts[int(found[1]) - 1] + int(found[2]) - 1
    before = source.text[:at].rstrip()
    if at >= len(source.text) or source.text[at] == "\n":
        at = max(len(before) - 1, 0)
    return Span(source, at, at + 1)
