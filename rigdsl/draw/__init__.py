"""Drawings: a rig and its findings as a view, the view as DOT, the DOT as a picture.

A pack that brings a view of its own makes it of the values here: nodes with rows of cells, lines between cells.
"""

from rigdsl.draw.choice import EmptyPartError, around_changes
from rigdsl.draw.dot import dot
from rigdsl.draw.marks import marked
from rigdsl.draw.named import NamedView, faults, sheet
from rigdsl.draw.paper import PAPERS, Page
from rigdsl.draw.picture import FORMATS, PDF_PAPER, Layouts, Plates, draw, drawn, laid_out
from rigdsl.draw.render import ENGINES, DrawError, render
from rigdsl.draw.segments import slug
from rigdsl.draw.shapes import Cell, Edge, End, Group, Mark, Node, Row, View
from rigdsl.draw.sheets import sheets
from rigdsl.draw.theme import css
from rigdsl.draw.twin import twin
from rigdsl.draw.typeset import pdf
from rigdsl.draw.view import VIEWS, named_view, view
from rigdsl.draw.wanted import Choice, Wanted

__all__ = [
    "ENGINES",
    "FORMATS",
    "PAPERS",
    "PDF_PAPER",
    "VIEWS",
    "Cell",
    "Choice",
    "DrawError",
    "Edge",
    "EmptyPartError",
    "End",
    "Group",
    "Layouts",
    "Mark",
    "NamedView",
    "Node",
    "Page",
    "Plates",
    "Row",
    "View",
    "Wanted",
    "around_changes",
    "css",
    "dot",
    "draw",
    "drawn",
    "faults",
    "laid_out",
    "marked",
    "named_view",
    "pdf",
    "render",
    "sheet",
    "sheets",
    "slug",
    "twin",
    "view",
]
