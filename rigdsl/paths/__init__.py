"""How sound gets there: sockets, runs, routes, loads, control, clock. All of it is asked of `Paths(rig)`."""

from rigdsl.paths.chains import Misfit
from rigdsl.paths.failure import LOOM, Failures, Lost, Ranked, gone_with
from rigdsl.paths.left import Gone, Left
from rigdsl.paths.load import BridgeLoad, twins
from rigdsl.paths.model import (
    Chain,
    Fault,
    Gain,
    Hop,
    Island,
    Load,
    Network,
    Path,
    Piece,
    Route,
    Run,
    Step,
)
from rigdsl.paths.parts import parts
from rigdsl.paths.patched import Pair
from rigdsl.paths.paths import Paths
from rigdsl.paths.verdict import reach_on

__all__ = [
    "LOOM",
    "BridgeLoad",
    "Chain",
    "Failures",
    "Fault",
    "Gain",
    "Gone",
    "Hop",
    "Island",
    "Left",
    "Load",
    "Lost",
    "Misfit",
    "Network",
    "Pair",
    "Path",
    "Paths",
    "Piece",
    "Ranked",
    "Route",
    "Run",
    "Step",
    "gone_with",
    "parts",
    "reach_on",
    "twins",
]
