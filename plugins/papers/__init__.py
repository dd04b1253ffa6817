"""The papers rules: what would make lists, labels and the crew's work go wrong."""

from rigdsl.packs import Pack
from rigdsl_papers.address_taken import address_taken
from rigdsl_papers.firmware_differs import firmware_differs
from rigdsl_papers.frequency_taken import frequency_taken
from rigdsl_papers.label_missing import label_missing
from rigdsl_papers.label_repeated import label_repeated
from rigdsl_papers.over_stock import over_stock
from rigdsl_papers.walkway import walkway

__all__ = ["pack"]

pack = Pack(
    "papers",
    rules=(
        address_taken,
        firmware_differs,
        frequency_taken,
        label_missing,
        label_repeated,
        over_stock,
        walkway,
    ),
)
