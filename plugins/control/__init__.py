"""The control rules: whether somebody can set gain and phantom, and steer what mixes."""

from rigdsl.packs import Pack
from rigdsl_control.control_mismatch import control_mismatch
from rigdsl_control.no_controller import no_controller
from rigdsl_control.surface_alone import surface_alone
from rigdsl_control.two_controllers import two_controllers

__all__ = ["pack"]

pack = Pack("control", rules=(control_mismatch, no_controller, surface_alone, two_controllers))
