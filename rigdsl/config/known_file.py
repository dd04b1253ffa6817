"""The list of known findings as a file: one entry a line, sorted, so that two people's changes to it meet seldom."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from rigdsl.config.said import wrong
from rigdsl.finding import Finding
from rigdsl.lint.known import Known, known_order
from rigdsl.rig import natural
from rigdsl.text import Source, Span

__all__ = ["known_text", "read_known"]

NOTHING = "no finding counts as known, and the list is left as it is"
ANEW = "mend the line; or take the file away, and let `rigdsl check --remember` write the list anew"
MERGE = ("<<<<<<<", "=======", ">>>>>>>")

ByRig = Mapping[str, tuple[Known, ...]]


def read_known(source: Source) -> tuple[ByRig | None, tuple[Finding, ...]]:
    """The entries by rig; None where the file is not as it should be, and what is wrong with it."""
    import json  # late: most projects have no list

    try:
        return _entries(json.loads(source.text)), ()
    except json.JSONDecodeError as error:
        line = source.line(error.lineno)
        message = "the list of known findings cannot be read from here on"
        if line.startswith(MERGE):
            message = "two versions of the list stand here side by side: they were not brought together"
        place = Span(source, min(error.pos, len(source.text)), min(error.pos + 1, len(source.text)))
    except RecursionError:
        message, place = "lists lie in lists too deep to read", Span(source, 0, 1)
    except (ValueError, TypeError, KeyError) as error:
        message, place = str(error.args[0]), Span(source, 0, 1)
    return None, (wrong(place, source.path.rpartition("/")[2], message, NOTHING, ANEW),)


def _entries(value: Any) -> ByRig:
    if not isinstance(value, dict) or value.keys() != {"rigs"} or not isinstance(value["rigs"], dict):
        raise ValueError("this is no list of known findings: it has `rigs`, and under it a list for each rig")
    return {rig: _of_rig(rig, listed) for rig, listed in value["rigs"].items()}


def _of_rig(rig: str, listed: Any) -> tuple[Known, ...]:
    if not isinstance(listed, list):
        raise ValueError(f"what is known of `{rig}` is no list")
    found: dict[tuple[str, str], Known] = {}
    for number, one in enumerate(listed, 1):
        entry = _entry(one)
        if entry is None:
            raise ValueError(f"number {number} of what is known of `{rig}` is not a rule, a subject and sockets")
        before = found.get(entry.key)
        if before is not None:  # two people put it in, each with sockets of his own
            both = before.ports and entry.ports and (*before.ports, *entry.ports)
            entry = Known(entry.rule, entry.subject, tuple(sorted(set(both or ()), key=natural)))
        found[entry.key] = entry
    return tuple(sorted(found.values(), key=known_order))


def _entry(one: Any) -> Known | None:
    if not isinstance(one, dict) or not {"rule", "subject"} <= one.keys() <= {"rule", "subject", "ports"}:
        return None
    ports = one.get("ports", [])
    texts = [one["rule"], one["subject"], *(ports if isinstance(ports, list) else [None])]
    return Known(texts[0], texts[1], tuple(texts[2:])) if all(isinstance(text, str) for text in texts) else None


def known_text(by_rig: ByRig) -> str:
    """The file of these entries; a rig of which nothing is known is not in it."""
    rigs = []
    for rig in sorted(by_rig):
        lines = [f"      {_line(entry)}" for entry in sorted(by_rig[rig], key=known_order)]
        if lines:
            rigs.append(f"    {_json(rig)}: [\n" + ",\n".join(lines) + "\n    ]")
    inside = "{\n" + ",\n".join(rigs) + "\n  }" if rigs else "{}"
    return f'{{\n  "rigs": {inside}\n}}\n'


def _line(entry: Known) -> str:
    ports: dict[str, Iterable[str]] = {"ports": list(entry.ports)} if entry.ports else {}
    return _json({"rule": entry.rule, "subject": entry.subject, **ports})


def _json(value: object) -> str:
    import json

    return json.dumps(value, ensure_ascii=False)
