"""What the files are about: units, gear, and the rig with every thing resolved."""

from rigdsl.rig.edits import NightEdit
from rigdsl.rig.gear import MULTIMODE, SINGLE_MODE, Bridge, Cable, Group, Model, Pass, Phantom, Protocol, Slot
from rigdsl.rig.load import Loaded, library, load, read
from rigdsl.rig.port import Leg, Port, natural, ports_text
from rigdsl.rig.readers import DictReader, DiskReader, Reader, Unread, project_root, typed
from rigdsl.rig.rig import Head, Rig
from rigdsl.rig.signals import Accept, Clock, Control, Insert, Keep, Output, Patch, Source, Stock
from rigdsl.rig.stage import Box, Lead, Link, Power, Supply, Way, Zone
from rigdsl.rig.units import shown

__all__ = [
    "MULTIMODE",
    "SINGLE_MODE",
    "Accept",
    "Box",
    "Bridge",
    "Cable",
    "Clock",
    "Control",
    "DictReader",
    "DiskReader",
    "Group",
    "Head",
    "Insert",
    "Keep",
    "Lead",
    "Leg",
    "Link",
    "Loaded",
    "Model",
    "NightEdit",
    "Output",
    "Pass",
    "Patch",
    "Phantom",
    "Port",
    "Power",
    "Protocol",
    "Reader",
    "Rig",
    "Slot",
    "Source",
    "Stock",
    "Supply",
    "Unread",
    "Way",
    "Zone",
    "library",
    "load",
    "natural",
    "ports_text",
    "project_root",
    "read",
    "shown",
    "typed",
]
