"""The help pages of the rules that belong to no pack: what every rig is held to before any pack has its say.

Examples are files called `friday.rig`.
"""

from __future__ import annotations

__all__ = ["CORE_PAGES", "CORE_WARNINGS"]

# All others are errors.
CORE_WARNINGS = frozenset({"expired-accept", "unused-accept"})

_HEAD = 'rig "Lantern Hall" { rate 48 kHz }\n'


def _page(summary: str, night: str, breaks: str = "", keeps: str = "") -> str:
    """A page of the same sections as the packs' pages have."""
    parts = [summary, f"## On the night\n\n{night}"]
    for heading, rig in (("A rig that breaks it", breaks), ("A rig that keeps it", keeps)):
        if rig:
            parts.append(f"## {heading}\n\n```rig\n{_HEAD}{rig}\n```")
    return "\n\n".join(parts)


_BOX = "model sub4 { kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }\n"

CORE_PAGES = {
    "syntax-error": _page(
        "A line cannot be read: a word is missing, misspelt, or stands where another is expected.",
        "What the line says is left out; everything else is read and checked all the same.",
        'zone "Drum riser" drums',
        'zone drums "Drum riser"',
    ),
    "unknown-name": _page(
        "A name is used that no line defines.",
        "What hangs on the name is left out of the check, so nothing is said about it until the name is mended.",
        "zone foh\nzone wing\nway foh -- wnig 65 m",
        "zone foh\nzone wing\nway foh -- wing 65 m",
    ),
    "repeated-name": _page(
        "Two lines define the same name.",
        "Only the first counts. On stage two things with one name are plugged into each other's sockets. Names of"
        " zones, boxes, links, sources and outputs are one set; models, cables and protocols have a set each.",
        'zone wing "Stage left wing"\nzone wing "Stage right wing"',
        'zone wing-l "Stage left wing"\nzone wing-r "Stage right wing"',
    ),
    "no-such-port": _page(
        "A socket is named that the box does not have, or that a line must say more exactly.",
        "The plug is left out of the check; at the load-in there is no socket to put it in.",
        _BOX + "box DR is sub4\nkeep DR.panel 5",
        _BOX + "box DR is sub4\nkeep DR.panel 4",
    ),
    "wrong-unit": _page(
        "A quantity has no unit, an unknown one, or one of another kind of quantity.",
        "The fact is left out: a length in kilograms measures nothing.",
        "zone foh\nzone wing\nway foh -- wing 65 kg",
        "zone foh\nzone wing\nway foh -- wing 65 m",
    ),
    "wrong-number": _page(
        "A number cannot be what it stands for: below nothing, too large, or a date that no calendar has.",
        "The fact is left out.",
        'cable multi0 "No lines at all" { medium analogue; lines 0 }',
        'cable multi8 "Eight lines" { medium analogue; lines 8 }',
    ),
    "range-length": _page(
        "Two rows of sockets to be joined number by number differ in length, or a row falls or repeats a number.",
        "Nobody knows which line goes where: the join is left out.",
        _BOX + "box A is sub4\nbox B is sub4\nlink L1: A.tail 1-4 -- B.panel 1-3",
        _BOX + "box A is sub4\nbox B is sub4\nkeep A.panel 1-4\nkeep B.panel 1-4\nlink L1: A.tail 1-4 -- B.panel 1-4",
    ),
    "file-missing": _page(
        "A `use` line names a file that is not there.",
        "All that the file defines is missing; names that are unknown because of it are not told one by one.",
        'use "gear/hosue.rig"',
        'zone drums "Drum riser"',
    ),
    "file-loop": _page(
        "Files use each other in a circle.",
        "Each file is read once and the line that closes the circle is left out.",
        'use "friday.rig"',
        'zone drums "Drum riser"',
    ),
    "unreadable-file": _page(
        "A file is a folder, no text, not in UTF-8, above 64 MiB, or may not be read.",
        "All that the file defines is missing.",
    ),
    "outside-project": _page(
        "A `use` line leads out of the project: the nearest folder above the file with `rig.toml` or `.git` in it.",
        "The file is not read: a project must be whole where it is checked out.",
        'use "../../elsewhere.rig"',
        'zone drums "Drum riser"',
    ),
    "wrong-config": _page(
        "`rig.toml`, or the list of known findings beside it, says something that cannot be followed.",
        "The line is left out, all else is followed, and the exit status is 2. In `rig.toml` stand `rigs`, `fail-on`,"
        " `edition` and `requires`, then `[packs]`, then a block `[rules.NAME]` for each rule with its `level` and its"
        " options, and blocks `[[for]]` for some of the rigs. `rigdsl explain RULE` shows the lines of a rule.",
    ),
    "unused-accept": _page(
        "An `accept` line matches no finding.",
        "It would hide the next fault of that name. Take it out, or write its subject as the finding has it.",
        'accept unused-port on "SL.mic" because "preamp faulty"',
        'zone drums "Drum riser"',
    ),
    "expired-accept": _page(
        "The last day of an `accept` line is past.",
        "What it is about counts again. Mend it, or agree on a new date.",
    ),
    "rule-crashed": _page(
        "A rule broke down: a fault in its pack, not in the rig.",
        "What the rule would have said is missing; the other rules went on, and the exit status is 2. Tell the maker of"
        " the pack that the finding names.",
    ),
}
