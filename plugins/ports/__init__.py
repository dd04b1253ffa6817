"""The ports rules: what is plugged in where, what is patched, and what is left over."""

from rigdsl.packs import Pack
from rigdsl_ports.channel_taken import channel_taken
from rigdsl_ports.dead_end_line import dead_end_line
from rigdsl_ports.empty_channel import empty_channel
from rigdsl_ports.lost_source import lost_source
from rigdsl_ports.not_repeated import not_repeated
from rigdsl_ports.overbooked import overbooked
from rigdsl_ports.port_taken import port_taken
from rigdsl_ports.silent_output import silent_output
from rigdsl_ports.split_pair import split_pair
from rigdsl_ports.too_few_spares import too_few_spares
from rigdsl_ports.unplugged_output import unplugged_output
from rigdsl_ports.unplugged_source import unplugged_source
from rigdsl_ports.unused_port import unused_port

__all__ = ["pack"]

pack = Pack(
    "ports",
    rules=(
        channel_taken,
        dead_end_line,
        empty_channel,
        lost_source,
        not_repeated,
        overbooked,
        port_taken,
        silent_output,
        split_pair,
        too_few_spares,
        unplugged_output,
        unplugged_source,
        unused_port,
    ),
)
