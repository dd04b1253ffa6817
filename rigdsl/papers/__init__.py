"""Papers: tables that a crew works from."""

from rigdsl.papers.boxes import BOX_SHEETS
from rigdsl.papers.cables import CABLE_SCHEDULE
from rigdsl.papers.cautions import CAUTIONS
from rigdsl.papers.control import CONTROL_SHEET
from rigdsl.papers.found import FINDINGS
from rigdsl.papers.guest import GUEST_SHEET
from rigdsl.papers.inputs import INPUT_LIST
from rigdsl.papers.kit import KIT_LIST
from rigdsl.papers.labels import LABEL_STRIPS
from rigdsl.papers.outputs import OUTPUT_LIST
from rigdsl.papers.printed import Printed, Sheet, printed, sheets_of, unknown_columns
from rigdsl.papers.settings import PaperSettings
from rigdsl.papers.table import Cell, Facts, Paper, Table, cell_text
from rigdsl.papers.tonight import TONIGHT

__all__ = [
    "INPUT_LIST",
    "OUTPUT_LIST",
    "PAPERS",
    "Cell",
    "Facts",
    "Paper",
    "PaperSettings",
    "Printed",
    "Sheet",
    "Table",
    "cell_text",
    "printed",
    "sheets_of",
    "unknown_columns",
]

# What comes along, by name, in the order of the show book.
PAPERS = {
    paper.name: paper
    for paper in (
        CAUTIONS,
        FINDINGS,
        INPUT_LIST,
        OUTPUT_LIST,
        BOX_SHEETS,
        CABLE_SCHEDULE,
        KIT_LIST,
        CONTROL_SHEET,
        TONIGHT,
        GUEST_SHEET,
        LABEL_STRIPS,
    )
}
