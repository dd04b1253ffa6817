"""The house rules of Marsh Lantern Touring, an invented company: two rules, its gear, two lists, a drawing."""

from rigdsl.packs import Pack, gear
from rigdsl_road_rules.cable_colour import cable_colour
from rigdsl_road_rules.cable_list import CABLE_LIST
from rigdsl_road_rules.chained_boxes import chained_boxes
from rigdsl_road_rules.chains import CHAINS
from rigdsl_road_rules.input_list import TAPED_INPUTS

__all__ = ["pack"]

pack = Pack(
    "road-rules",
    rules=(cable_colour, chained_boxes),
    libraries=gear("rigdsl_road_rules"),
    views=(CHAINS,),
    papers=(CABLE_LIST, TAPED_INPUTS),
)
