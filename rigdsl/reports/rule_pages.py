"""The rules' pages as Markdown: one file a rule, and an index by pack."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from rigdsl.reports.rule_list import Entry
from rigdsl.reports.rule_settings import default, snippet, takes

__all__ = ["index_md", "page_md", "page_name"]


def page_name(entry: Entry) -> str:
    """The file of a rule's page, relative to the index: a stranger's rule lies in the folder of its pack."""
    return f"{entry.name}.md"


def index_md(entries: Sequence[Entry]) -> str:
    """All rules by pack, each with its level and what it is about."""
    parts = [
        "# The rules",
        "Made by `rigdsl explain --all --as md --out docs/rules`; `rigdsl explain RULE` says the same.",
    ]
    for pack, rules in groupby(entries, key=lambda entry: entry.pack):
        rows = [
            f"| [`{one.name}`]({page_name(one)}) | {one.level}{'' if one.on else ', off'} | {one.edition} "
            f"| {_field(one.summary)} |"
            for one in rules
        ]
        parts += [
            f"## {pack}",
            "\n".join(["| rule | level | edition | what it is about |", "|---|---|---|---|", *rows]),
        ]
    return "\n\n".join(parts) + "\n"


def page_md(entry: Entry) -> str:
    """One rule's page: what it checks, its examples, its options, what to write in `rig.toml`."""
    origin = (
        f"{entry.level} · pack {entry.pack} · edition {entry.edition}{'' if entry.on else ' · off unless asked for'}"
    )
    summary, _, rest = entry.doc.partition("\n")
    parts = [f"# {entry.name}", f"*{origin}*", summary, rest.strip(), *_options(entry)]
    return "\n\n".join(part for part in parts if part) + "\n"


def _options(entry: Entry) -> Iterator[str]:
    if not entry.settable:
        return
    if entry.options:
        yield "## Options"
        rows = [
            f"| `{name}` | {takes(words)} | {default(words)} | {_field(words.get('description', ''))} |"
            for name, words in entry.options.items()
        ]
        yield "\n".join(["| option | takes | default | what it does |", "|---|---|---|---|", *rows])
    yield "## In rig.toml"
    yield f"```toml\n{snippet(entry.name, entry.options, on=entry.on)}```"


def _field(text: str) -> str:
    """Running text in a field of a table."""
    return " ".join(text.split()).replace("|", "\\|")
