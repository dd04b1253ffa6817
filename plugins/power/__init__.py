"""The power rules: phantom, levels and connectors, loudspeaker load, and what the gear draws."""

from rigdsl.packs import Pack
from rigdsl_power.amp_overload import amp_overload
from rigdsl_power.connector_mismatch import connector_mismatch
from rigdsl_power.level_mismatch import level_mismatch

__all__ = ["pack"]

pack = Pack(
    "power",
    rules=(
        amp_overload,
        connector_mismatch,
        level_mismatch,
    ),
)
