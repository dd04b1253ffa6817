"""The page of a rig: its drawings, findings and traces in one file that needs no server and no network."""

from rigdsl.page.page import Drawn, Page, page

__all__ = ["Drawn", "Page", "page"]
