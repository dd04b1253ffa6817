"""How sound gets there: sockets, runs, routes, loads, control, clock. All of it is asked of `Paths(rig)`.

What falls silent when something fails is asked of `rigdsl.paths.failure`, which a plain check does not wait for.
"""

from rigdsl.paths.chains import Misfit
from rigdsl.paths.connectors import PlugMisfit, WrongPlug, misfits
from rigdsl.paths.copper import Copper, longest_copper, treble_loss_db
from rigdsl.paths.feeding import CablePower
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
from rigdsl.paths.owners import gain_owners
from rigdsl.paths.parts import parts
from rigdsl.paths.patched import Pair
from rigdsl.paths.paths import Paths
from rigdsl.paths.phantom import Barrier, Feed, Live, Reach, keep_off
from rigdsl.paths.plug_fit import turned
from rigdsl.paths.schedule import Shortage, Wanted, schedule, shortages, unserved
from rigdsl.paths.speakers import Branch, branches, in_parallel_ohm, line_names, loudspeakers, output_sockets
from rigdsl.paths.stretches import Delay, Stretch
from rigdsl.paths.verdict import reach_on

__all__ = [
    "Barrier",
    "Branch",
    "BridgeLoad",
    "CablePower",
    "Chain",
    "Copper",
    "Delay",
    "Fault",
    "Feed",
    "Gain",
    "Hop",
    "Island",
    "Live",
    "Load",
    "Misfit",
    "Network",
    "Pair",
    "Path",
    "Paths",
    "Piece",
    "PlugMisfit",
    "Reach",
    "Route",
    "Run",
    "Shortage",
    "Signal",
    "Step",
    "Stretch",
    "Wanted",
    "WrongPlug",
    "branches",
    "gain_owners",
    "in_parallel_ohm",
    "keep_off",
    "line_names",
    "longest_copper",
    "loudspeakers",
    "misfits",
    "output_sockets",
    "parts",
    "reach_on",
    "schedule",
    "shortages",
    "treble_loss_db",
    "turned",
    "twins",
    "unserved",
]
