"""The timing rules: how late sound comes, and boxes that run at a clock of their own."""

from rigdsl.packs import Pack
from rigdsl_timing.latency_over_budget import latency_over_budget
from rigdsl_timing.unlocked_source import unlocked_source

__all__ = ["pack"]

pack = Pack("timing", rules=(latency_over_budget, unlocked_source))
