"""Papers: tables that a crew works from."""

from rigdsl.papers.lists import INPUT_LIST, OUTPUT_LIST
from rigdsl.papers.table import Paper, Table

__all__ = ["INPUT_LIST", "OUTPUT_LIST", "PAPERS", "Paper", "Table"]

# What comes along, by name.
PAPERS = {paper.name: paper for paper in (INPUT_LIST, OUTPUT_LIST)}
