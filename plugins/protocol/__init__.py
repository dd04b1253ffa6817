"""The protocol rules: whether digital boxes understand each other over the cables between them."""

from rigdsl.packs import Pack
from rigdsl_protocol.chain_not_supported import chain_not_supported
from rigdsl_protocol.chain_reversed import chain_reversed
from rigdsl_protocol.chain_too_deep import chain_too_deep
from rigdsl_protocol.clock_leader import clock_leader
from rigdsl_protocol.domain_mismatch import domain_mismatch
from rigdsl_protocol.lost_patch import lost_patch
from rigdsl_protocol.medium_mismatch import medium_mismatch
from rigdsl_protocol.network_crossed import network_crossed
from rigdsl_protocol.network_loop import network_loop
from rigdsl_protocol.not_an_audio_port import not_an_audio_port
from rigdsl_protocol.protocol_mismatch import protocol_mismatch
from rigdsl_protocol.rate_mismatch import rate_mismatch
from rigdsl_protocol.return_missing import return_missing
from rigdsl_protocol.too_many_channels import too_many_channels
from rigdsl_protocol.unroutable_protocol import unroutable_protocol

__all__ = ["pack"]

pack = Pack(
    "protocol",
    rules=(
        chain_not_supported,
        chain_reversed,
        chain_too_deep,
        clock_leader,
        domain_mismatch,
        lost_patch,
        medium_mismatch,
        network_crossed,
        network_loop,
        not_an_audio_port,
        protocol_mismatch,
        rate_mismatch,
        return_missing,
        too_many_channels,
        unroutable_protocol,
    ),
)
