"""Rigs that two people change, drawn: what each did to the lines of one file."""

from __future__ import annotations

import re
import subprocess
import tempfile
from collections.abc import Callable
from pathlib import Path

from hypothesis import strategies as st

from rigdsl.branches import meaning
from rigdsl.text import Source

__all__ = ["BASE", "changed", "git_merge", "said", "sides"]

BASE = """\
rig "Demo night" { rate 48 kHz; demo }
use "gear.rig"

# ---- The room
zone stage "Stage" at (0, 0) m
zone foh "Front of house" at (0, -18) m  # by the bar
way foh -- stage 30 m "along the wall"

# ---- The boxes
box DESK "Desk" is desk64 in foh
box SL "Stage left box" is box32 in stage {
  rate 48 kHz
  note "on the riser"  # out of the rain
  weight 4.2 kg
}
link C01: SL.A -- DESK.stage via reel6 35 m

# ---- What makes sound
source kick "Kick" dynamic in stage to SL.mic 1 via xlr 10 m { stand "short boom" }
source oh "Overheads" condenser in stage to SL.mic 2-3 via xlr 15 m { stand "two tall booms"; pad 10 dB }
source bass "Bass" active-di in stage to SL.mic 4

model desk64 "64-channel desk" {
  kind console
  channels ch 1-64; mixes mix 1-16
  outputs local-out 1-4 { connector xlr-m }
  digital stage {
    protocol aes50
    connector rj45
  }
}
# ---- What feeds what
patch kick, oh, bass -> DESK.ch 1-4
patch DESK.mix 1 -> SL.line 1
keep SL.mic 8-32 for "more of the band"
"""

NEW = (
    'source tpt "Trumpet" dynamic in stage to SL.mic 5',
    'source vl "Violin" condenser in stage to SL.mic 6 { stand "tall boom" }',
    "patch tpt -> DESK.ch 5",
    "keep DESK.ch 60-64",
    "# ---- Strings",
    "",
    "clock DESK",
)
Edit = Callable[[list[str], int, int], list[str]]
NUMBER = re.compile(r"(?<=[ ,])[0-9]+(?=[ ,\n-])")


def said(text: str) -> str:
    """What a text says, as one string; the test fails where it cannot be read."""
    found = meaning(Source("demo.rig", text))
    assert found is not None, text
    return found


def _add(lines: list[str], at: int, new: int) -> list[str]:
    place = _outside(lines, at)
    return [*lines[:place], NEW[new % len(NEW)] + "\n", *lines[place:]]


def _remove(lines: list[str], at: int, new: int) -> list[str]:
    number = at % len(lines)
    if "{" in re.sub(r"\{.*\}", "", lines[number]) or lines[number].strip() == "}":
        return lines  # only whole blocks can go
    return lines[:number] + lines[number + 1 :]


def _renumber(lines: list[str], at: int, new: int) -> list[str]:
    number = at % len(lines)
    return [*lines[:number], NUMBER.sub(str(40 + new), lines[number], count=1), *lines[number + 1 :]]


def _word(lines: list[str], at: int, new: int) -> list[str]:
    """Another label, another stand, another remark."""
    number = at % len(lines)
    mended = re.sub(r'"[^"]*"', f'"other {new % 3}"', lines[number], count=1)
    mended = re.sub(r"# .*", f"# other {new % 3}", mended) if mended == lines[number] else mended
    return [*lines[:number], mended, *lines[number + 1 :]]


def _fact(lines: list[str], at: int, new: int) -> list[str]:
    """One fact more in a block of one line."""
    number = at % len(lines)
    more = ('mic "clip-on"', "mono", "impedance 150 ohm")[new % 3]
    return [*lines[:number], re.sub(r" \}$", f"; {more} }}", lines[number].rstrip("\n")) + "\n", *lines[number + 1 :]]


def _move(lines: list[str], at: int, new: int) -> list[str]:
    number = at % len(lines)
    if not re.match(r"(zone|way|box DESK|link|source|patch|keep)", lines[number]):
        return lines
    rest = lines[:number] + lines[number + 1 :]
    place = _outside(rest, at * 7 + new)
    return [*rest[:place], lines[number], *rest[place:]]


def _outside(lines: list[str], at: int) -> int:
    """A place in front of a line that stands in no block."""
    places = [0]
    depth = 0
    for number, line in enumerate(lines, 1):
        depth += line.count("{") - line.count("}")
        if depth == 0:
            places.append(number)
    return places[at % len(places)]


KINDS: tuple[Edit, ...] = (_add, _remove, _renumber, _word, _fact, _move)
edits = st.tuples(st.sampled_from(KINDS), st.integers(0, 60), st.integers(0, 9))


def changed(done: list[tuple[Edit, int, int]]) -> str:
    """The base with some edits."""
    lines = BASE.splitlines(keepends=True)
    for edit, at, new in done:
        lines = edit(lines, at, new)
    return "".join(lines)


sides = st.lists(edits, max_size=5).map(changed)


def git_merge(base: str, ours: str, theirs: str) -> str | None:
    """What git makes of three texts line by line; None where lines clash."""
    with tempfile.TemporaryDirectory() as folder:
        names = []
        for name, text in (("ours", ours), ("base", base), ("theirs", theirs)):
            Path(folder, name).write_text(text, "utf-8")
            names.append(str(Path(folder, name)))
        done = subprocess.run(["git", "merge-file", "-p", *names], capture_output=True, check=False)
    return done.stdout.decode("utf-8") if done.returncode == 0 else None
