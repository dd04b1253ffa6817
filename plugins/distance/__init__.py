"""The distance rules: reach, length, and what cables take of the sound."""

from rigdsl.packs import Pack
from rigdsl_distance.fibre_budget import fibre_budget
from rigdsl_distance.hi_z_run import hi_z_run
from rigdsl_distance.length_missing import length_missing
from rigdsl_distance.link_too_short import link_too_short
from rigdsl_distance.run_near_limit import run_near_limit
from rigdsl_distance.run_too_long import run_too_long
from rigdsl_distance.shield_missing import shield_missing
from rigdsl_distance.speaker_loss import speaker_loss
from rigdsl_distance.treble_loss import treble_loss
from rigdsl_distance.unbalanced_run import unbalanced_run

__all__ = ["pack"]

pack = Pack(
    "distance",
    rules=(
        fibre_budget,
        hi_z_run,
        length_missing,
        link_too_short,
        run_near_limit,
        run_too_long,
        shield_missing,
        speaker_loss,
        treble_loss,
        unbalanced_run,
    ),
)
