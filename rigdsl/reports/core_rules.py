"""The help pages of the rules that belong to no pack: what every rig is held to before any pack has its say.

Examples are files called `friday.rig`, in a project with a folder `gear` and in it a file `house.rig`; a `rig.toml`
is shown by itself.
"""

from __future__ import annotations

__all__ = ["CORE_PAGES", "CORE_WARNINGS"]

# All others are errors.
CORE_WARNINGS = frozenset({"expired-accept", "unused-accept"})

_HEAD = 'rig "Lantern Hall" { rate 48 kHz }\n'


def _page(summary: str, night: str, breaks: str = "", keeps: str = "", *, language: str = "rig") -> str:
    """A page of the same sections as the packs' pages have."""
    parts = [summary, f"## On the night\n\n{night}"]
    shown, head = ("rig", _HEAD) if language == "rig" else ("rig.toml", "")
    for heading, text in ((f"A {shown} that breaks it", breaks), (f"A {shown} that keeps it", keeps)):
        if text:
            parts.append(f"## {heading}\n\n```{language}\n{head}{text}\n```")
    return "\n\n".join(parts)


_BOX = "model sub4 { kind sub-box; inputs panel 1-4; outputs tail 1-4; pass panel -> tail }\n"
_SHOW = """\
model nw4 { kind stage-box; inputs mic 1-4 { preamp }; digital A }
model desk4 { kind console; channels ch 1-4; digital stage }
box SL is nw4
box DESK is desk4
link C01: SL.A -- DESK.stage via cat6 60 m
source kick dynamic to SL 1
patch SL.mic 1 -> DESK.ch 1
"""

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
        'use "gear/house.rig"',
    ),
    "file-loop": _page(
        "Files use each other in a circle.",
        "Each file is read once and the line that closes the circle is left out.",
        'use "friday.rig"',
        'use "gear/house.rig"',
    ),
    "unreadable-file": _page(
        "A file is a folder, no text, not in UTF-8, above 64 MiB, or may not be read.",
        "All that the file defines is missing. Here a folder is named where a file in it is meant.",
        'use "gear"',
        'use "gear/house.rig"',
    ),
    "outside-project": _page(
        "A `use` line leads out of the project: the nearest folder above the file with `rig.toml` or `.git` in it.",
        "The file is not read: a project must be whole where it is checked out.",
        'use "../elsewhere.rig"',
        'use "gear/house.rig"',
    ),
    "wrong-config": _page(
        "`rig.toml`, or the list of known findings beside it, says something that cannot be followed.",
        "The line is left out, all else is followed, and the exit status is 2: a check that runs by itself says so"
        " before it says anything of the rigs.\n\n"
        "- `rigs`, a list of patterns: what `rigdsl check` without a path looks at\n"
        "- `fail-on`, `error`, `warning`, `note` or `never`: the mildest finding that makes the exit status 1\n"
        "- `edition`, a whole number: later rules are announced and not run\n"
        "- `requires`, as in `>=0.1`: the version of rigdsl that is needed\n"
        "- `[packs]`: other people's packs that are used, each with its version\n"
        "- `[papers]`: `paper`, `language`, `joins`, `spares-percent`, `colours` of what is printed, and in"
        " `[papers.columns]` the columns of each paper\n"
        "- `[rules.NAME]`: the `level` of a rule and its options; `rigdsl explain RULE` shows its lines\n"
        "- `[[for]]`: the same for the rigs of its own `rigs`, later ones win",
        'fail-on = "warn"\n\n[rules.run-near-limt]\nshare = 0.8',
        'rigs = ["shows/*.rig"]\nfail-on = "warning"\nedition = 2\nrequires = ">=0.1"\n\n'
        '[rules.run-near-limit]\nlevel = "warning"\nshare = 0.8\n\n'
        '[[for]]\nrigs = ["shows/*-outdoor.rig"]\n\n[for.rules.walkway]\nlevel = "error"',
        language="toml",
    ),
    "unused-accept": _page(
        "An `accept` line matches no finding.",
        "It would hide the next fault of that name. Take it out, or write its subject as the finding has it.",
        _SHOW + 'accept unused-port on "SR.mic" because "two preamps are faulty"',
        _SHOW + 'accept unused-port on "SL.mic" because "two preamps are faulty"',
    ),
    "expired-accept": _page(
        "The last day of an `accept` line is past.",
        "What it is about counts again. Mend it, or agree on a new date. `SOURCE_DATE_EPOCH` sets what today is.",
        _SHOW + 'accept unused-port on "SL.mic" because "two preamps are faulty" until 2025-05-31',
        _SHOW + 'accept unused-port on "SL.mic" because "two preamps are faulty" until 2099-05-31',
    ),
    "rule-crashed": _page(
        "A rule broke down: a fault in its pack, not in the rig.",
        "What the rule would have said is missing; the other rules went on, and the exit status is 2. Tell the maker of"
        " the pack that the finding names.",
    ),
}
