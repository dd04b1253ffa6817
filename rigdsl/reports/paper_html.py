"""Papers as one HTML file that needs no server and no network: contents, tables, strips; it prints cleanly."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from importlib.resources import files

from rigdsl.papers import Cell, Printed, Table, cell_text
from rigdsl.reports.look import clean
from rigdsl.rig import Rig

__all__ = ["papers_html"]

# Nothing is fetched and nothing runs, whatever a label says.
POLICY = "default-src 'none'; style-src 'unsafe-inline'"


def papers_html(papers: Sequence[Printed], rig: Rig, language: str, paper_size: str) -> bytes:
    """The file, in UTF-8."""
    head = rig.head
    title = _text(head.title or "a rig without a name")
    facts = [f"revision {head.revision}" if head.revision else "", head.date, "demo data" if head.demo else ""]
    style = files("rigdsl.reports").joinpath("papers.css").read_text("utf-8")
    lines = [
        "<!DOCTYPE html>",
        f'<html lang="{escape(language)}">',
        '<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">',
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}"><meta name="generator" content="rigdsl">',
        f"<title>{title}</title>",
        f"<style>@page {{ size: {paper_size} landscape; margin: 10mm; }}\n{style}</style></head>",
        f'<body><h1 dir="auto">{title}</h1><p>{_text(", ".join(filter(None, facts)))}</p>',
        f"<nav><ul>{''.join(_entry(paper) for paper in papers)}</ul></nav>",
        *(line for number, paper in enumerate(papers) for line in _section(paper, first=not number)),
        "</body></html>",
    ]
    return ("\n".join(lines) + "\n").encode("utf-8", "replace")


def _entry(paper: Printed) -> str:
    return f'<li><a href="#{_id(paper)}">{_text(paper.title)}</a></li>'


def _id(paper: Printed) -> str:
    return escape(paper.name.replace("/", "-"))


def _section(paper: Printed, *, first: bool) -> Iterator[str]:
    yield f'<section id="{_id(paper)}"{" class=first" if first else ""}><h2>{_text(paper.title)}</h2>'
    for table in paper.tables:
        if table.title:
            yield f'<h3 dir="auto">{_text(table.title)}</h3>'
        yield from _strip(table) if table.strip else _table(table)
        if table.notes:
            yield f'<ul class="notes">{"".join(f"<li>{_text(note)}</li>" for note in table.notes)}</ul>'
    yield "</section>"


def _table(table: Table) -> Iterator[str]:
    heads = "".join(f'<th scope="col">{_text(name)}</th>' for name in table.columns)
    yield f'<div class="scroll"><table><thead><tr>{heads}</tr></thead><tbody>'
    yield from (f"<tr>{''.join(map(_field, row))}</tr>" for row in table.rows)
    yield "</tbody></table></div>"


def _field(cell: Cell) -> str:
    if isinstance(cell, str):
        return f'<td dir="auto">{_text(cell)}</td>'
    return f'<td class="number">{cell_text(cell)}</td>'


def _strip(table: Table) -> Iterator[str]:
    yield '<div class="strip">'
    for number, name, *colour in table.rows:
        small = f"<small>{_text(cell_text(colour[0]))}</small>" if colour else ""
        yield f'<div><b>{_text(cell_text(number))}</b><span dir="auto">{_text(cell_text(name))}</span>{small}</div>'
    yield "</div>"


def _text(text: str) -> str:
    """What a user wrote, as text."""
    return escape(clean(text))
