"""The resilience rules: what one lost cable or box would silence."""

from rigdsl.packs import Pack
from rigdsl_resilience.shared_fate import shared_fate
from rigdsl_resilience.single_point import single_point

__all__ = ["pack"]

pack = Pack("resilience", rules=(shared_fate, single_point))
