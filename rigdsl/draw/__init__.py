"""Drawings: a rig and its findings as a view, the view as DOT, the DOT as a picture."""

from rigdsl.draw.dot import dot
from rigdsl.draw.render import ENGINES, DrawError, render
from rigdsl.draw.shapes import View
from rigdsl.draw.view import VIEWS, view

__all__ = ["ENGINES", "VIEWS", "DrawError", "View", "dot", "render", "view"]
