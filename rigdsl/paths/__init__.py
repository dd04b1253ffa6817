"""How sound gets there: sockets, runs, routes, loads, control, clock. All of it is asked of `Paths(rig)`."""

from rigdsl.paths.chains import Misfit
from rigdsl.paths.failure import LOOM, Failures, Lost, Ranked, gone_with
from rigdsl.paths.feeding import CablePower
from rigdsl.paths.left import Gone, Left
from rigdsl.paths.levels import Signal
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
from rigdsl.paths.phantom import Barrier, Feed, Live, Reach
from rigdsl.paths.schedule import Shortage, Wanted, schedule, shortages, unserved
from rigdsl.paths.speakers import Branch, branches, in_parallel_ohm, line_names, loudspeakers, output_sockets
from rigdsl.paths.stretches import Delay, Stretch
from rigdsl.paths.verdict import reach_on

__all__ = [
    "LOOM",
    "Barrier",
    "Branch",
    "BridgeLoad",
    "CablePower",
    "Chain",
    "Delay",
    "Failures",
    "Fault",
    "Feed",
    "Gain",
    "Gone",
    "Hop",
    "Island",
    "Left",
    "Live",
    "Load",
    "Lost",
    "Misfit",
    "Network",
    "Pair",
    "Path",
    "Paths",
    "Piece",
    "Ranked",
    "Reach",
    "Route",
    "Run",
    "Shortage",
    "Signal",
    "Step",
    "Stretch",
    "Wanted",
    "branches",
    "gone_with",
    "in_parallel_ohm",
    "line_names",
    "loudspeakers",
    "output_sockets",
    "parts",
    "reach_on",
    "schedule",
    "shortages",
    "twins",
    "unserved",
]
