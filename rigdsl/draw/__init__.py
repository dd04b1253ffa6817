"""Drawings: a rig and its findings as a view, the view as DOT, the DOT as a picture."""

from rigdsl.draw.dot import dot
from rigdsl.draw.picture import FORMATS, draw
from rigdsl.draw.render import ENGINES, DrawError, render
from rigdsl.draw.shapes import View
from rigdsl.draw.view import VIEWS, view

__all__ = ["ENGINES", "FORMATS", "VIEWS", "DrawError", "View", "dot", "draw", "render", "view"]
