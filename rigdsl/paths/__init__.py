"""How sound gets there: sockets, runs, routes, loads, control, clock. All of it is asked of `Paths(rig)`."""

from rigdsl.paths.chains import Misfit
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
from rigdsl.paths.stretches import Delay, Stretch
from rigdsl.paths.verdict import reach_on

__all__ = [
    "BridgeLoad",
    "Chain",
    "Delay",
    "Fault",
    "Gain",
    "Hop",
    "Island",
    "Load",
    "Misfit",
    "Network",
    "Pair",
    "Path",
    "Paths",
    "Piece",
    "Route",
    "Run",
    "Step",
    "Stretch",
    "parts",
    "reach_on",
    "twins",
]
