"""`python -m tests.bench`: the table of ratios, exit status 1 where one is past its limit; and what each rule costs."""

from __future__ import annotations

import json
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from rigdsl.packs import discover
from tests.bench.measure import Ratio, by_turns, figures
from tests.bench.rigs import lines, rig_text, schema, yaml_text

__all__: list[str] = []

SMALL, MIDDLE, LARGE = 150, 2_000, 20_000
COMPARED = 5_000
EDITED = 50  # leads of another length
ROUNDS = 15
FEW = 3  # of what takes many seconds


def _script(name: str) -> str:
    return str(Path(sys.executable).parent / name)


def commands(folder: Path) -> Iterator[Ratio]:
    """Whole commands against what they stand on."""
    rigdsl, python = _script("rigdsl"), sys.executable
    took, against = by_turns([[rigdsl, "--help"], [python, "-c", "import click"]], ROUNDS, folder)
    yield Ratio("rigdsl --help", "importing click", took, against, 1.5)
    check = [rigdsl, "check", f"{SMALL}.rig"]
    took, against = by_turns([check, [python, "-c", "import click, lark"]], ROUNDS, folder)
    yield Ratio(f"checking {SMALL} lines", "importing click and lark", took, against, 2.5)
    for size, rounds, limit in ((SMALL, ROUNDS, 0.5), (LARGE, FEW, 0.33)):
        shape = [_script("check-jsonschema"), "--schemafile", f"{size}.schema.json", f"{size}.yaml"]
        took, against = by_turns([[rigdsl, "check", f"{size}.rig"], shape], rounds, folder)
        yield Ratio(f"checking {size:,} lines", "the same as YAML, its mere shape", took, against, limit)
    both = [rigdsl, "compare", "edited.rig", f"{COMPARED}.rig"]
    took, against = by_turns([both, [rigdsl, "check", f"{COMPARED}.rig"]], ROUNDS, folder)
    yield Ratio(f"comparing {COMPARED:,} lines with an edited copy", "checking them once", took, against, 2.5)


def inside() -> Iterator[Ratio]:
    """Within one process, without starting it."""
    large, middle = figures("check", str(LARGE)), figures("check", str(MIDDLE))
    tree = figures("tree", str(LARGE))
    yield Ratio(f"checking {LARGE:,} lines", "lark's plain tree of the same text", large["ms"], tree["ms"], 3.0)
    yield Ratio(f"checking {LARGE:,} lines", f"checking {MIDDLE:,} lines", large["ms"], middle["ms"], 11.0)
    drawn = figures("draw", str(SMALL))
    for view in ("flow", "cabling"):
        yield Ratio(f"drawing {view}", "the layout engine alone", drawn[view], drawn[f"{view}_engine"], 1.5)
    much, some = figures("tidied", str(LARGE)), figures("tidied", str(MIDDLE))
    yield Ratio(f"setting {LARGE:,} loose lines", "reading them", much["set"], much["read"], 3.5)
    yield Ratio(f"setting {LARGE:,} loose lines", f"setting {MIDDLE:,}", much["set"], some["set"], 12.0)
    book = figures("workbook", "1000")
    what, alone = "a workbook of 1,000 channels", "its library writing the same cells"
    yield Ratio(what, alone, book["workbook"], book["alone"], 1.5)
    many, few = figures("lose", str(LARGE)), figures("lose", str(MIDDLE))
    yield Ratio("ranking what silences most", "one pass for cut vertices", many["ranking"], many["cuts"], 30.0)
    yield Ratio(f"ranking {LARGE:,} lines", f"ranking {MIDDLE:,} lines", many["ranking"], few["ranking"], 13.0)
    most, least = (figures("memory", str(size), rounds=1)["mb"] for size in (LARGE, MIDDLE))
    yield Ratio(f"memory for {LARGE:,} lines", f"memory for {MIDDLE:,} lines", most, least, 11.0, "MB")


def rule_costs() -> Iterator[str]:
    """What each rule costs, longest first, and its share of a whole check; a rule that is off has none in it."""
    whole_ms = figures("check", str(MIDDLE))["ms"]
    off = {packed.name for packed in discover().rules if not packed.rule.on}
    yield f"| rule, over {MIDDLE:,} lines | took | of a check of {whole_ms:,.0f} ms |"
    yield "|---|---|---|"
    for name, ms in sorted(figures("rules", str(MIDDLE)).items(), key=lambda row: (-row[1], row[0])):
        share = "off" if name in off else f"{ms / whole_ms:.1%}"
        yield f"| {name or '(the paths, once for all rules)'} | {ms:.2f} ms | {share} |"


def main() -> int:
    """Measure everything and print it."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for size in (SMALL, LARGE):
            made = lines(size)
            (folder / f"{size}.rig").write_text(rig_text(size))
            (folder / f"{size}.yaml").write_text(yaml_text(made))
            (folder / f"{size}.schema.json").write_text(json.dumps(schema(made)))
        text = rig_text(COMPARED)
        (folder / f"{COMPARED}.rig").write_text(text)
        (folder / "edited.rig").write_text(text.replace("via xlr 6 m", "via xlr 7 m", EDITED))
        rows = [*commands(folder), *inside()]
    print("| what | against | took | against | times | at most |\n|---|---|---|---|---|---|")
    for row in rows:
        mark = "" if row.kept else " **over**"
        took, other = f"{row.took:,.0f} {row.unit}", f"{row.other:,.0f} {row.unit}"
        print(f"| {row.what} | {row.against} | {took} | {other} | {row.value:.2f}{mark} | {row.limit} |")
    print("", *rule_costs(), sep="\n")
    return int(not all(row.kept for row in rows))


if __name__ == "__main__":
    sys.exit(main())
