"""The timing rules: how late sound comes, and boxes that run at a clock of their own."""

from rigdsl.packs import Pack

__all__ = ["pack"]

pack = Pack("timing", rules=())
