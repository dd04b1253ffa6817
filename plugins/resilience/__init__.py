"""The resilience rules: what one lost cable or box would silence."""

from rigdsl.packs import Pack

__all__ = ["pack"]

pack = Pack("resilience", rules=())
