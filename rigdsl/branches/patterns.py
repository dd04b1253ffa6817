"""How git's own comparison reads a rig: which lines head a stretch of it, and what is one word.

Extended regular expressions as POSIX has them; git tries them on one line.
"""

from __future__ import annotations

from rigdsl.rig.units import UNITS
from rigdsl.syntax.forms import FORMS

__all__ = ["HEADING", "WORD"]

# A statement at the margin, without its block.
HEADING = rf"^(({'|'.join(FORMS)})[[:blank:]][^{{#]*)"

_NAME = r"[^][:blank:][:cntrl:][:digit:](){},.:;#\"'-][^][:blank:][:cntrl:](){},.:;#\"'-]*"
_HYPHENED = rf"{_NAME}(-{_NAME.replace('[:digit:]', '', 1)})*"  # `/` is in it: `dB/km`
_NUMBER = r"[0-9]+(\.[0-9]+)*"
_ROW = r"[0-9]+(-[0-9]+)?(,[0-9]+(-[0-9]+)?)*"
_UNIT = "|".join(sorted(UNITS, key=lambda unit: (-len(unit), unit)))

# A label; a date; a number with its unit, or with a word that begins like one (no word is cut in two); sockets with
# their numbers; a name; a row of numbers; a sign of two.
WORD = "|".join(
    (
        r'"([^"\\]|\\.)*"',
        r"[0-9]{4}-[0-9]{2}-[0-9]{2}",
        rf"{_NUMBER} ?({_UNIT})[[:alnum:]_]*",
        rf"{_HYPHENED}\.{_HYPHENED}( {_ROW})?",
        _HYPHENED,
        _ROW,
        _NUMBER,
        "--|->",
        "[^[:space:]]",
    )
)
