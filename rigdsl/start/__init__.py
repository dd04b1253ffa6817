"""A new project, and a band's input list as sources: values in, texts out."""

from rigdsl.start.listed import BandList, band_list
from rigdsl.start.project import BAND, BAND_SHOW, FIRST_SHOW, beside, new_files
from rigdsl.start.sheet import LARGEST_BYTES, ListError, sheet_of
from rigdsl.start.update import Updated, updated
from rigdsl.start.write import HEADER

__all__ = [
    "BAND",
    "BAND_SHOW",
    "FIRST_SHOW",
    "HEADER",
    "LARGEST_BYTES",
    "BandList",
    "ListError",
    "Updated",
    "band_list",
    "beside",
    "new_files",
    "sheet_of",
    "updated",
]
