"""The power rules: phantom, levels and connectors, loudspeaker load, and what the gear draws."""

from rigdsl.packs import Pack
from rigdsl_power.amp_overload import amp_overload
from rigdsl_power.circuit_load import circuit_load
from rigdsl_power.connector_mismatch import connector_mismatch
from rigdsl_power.level_mismatch import level_mismatch
from rigdsl_power.phantom_blocked import phantom_blocked
from rigdsl_power.phantom_into_output import phantom_into_output
from rigdsl_power.phantom_missing import phantom_missing
from rigdsl_power.phantom_on_ribbon import phantom_on_ribbon
from rigdsl_power.phantom_overload import phantom_overload
from rigdsl_power.phantom_shared import phantom_shared
from rigdsl_power.poe_missing import poe_missing

__all__ = ["pack"]

pack = Pack(
    "power",
    rules=(
        amp_overload,
        circuit_load,
        connector_mismatch,
        level_mismatch,
        phantom_blocked,
        phantom_into_output,
        phantom_missing,
        phantom_on_ribbon,
        phantom_overload,
        phantom_shared,
        poe_missing,
    ),
)
