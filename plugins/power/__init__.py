"""The power rules: phantom, levels and connectors, loudspeaker load, and what the gear draws."""

from rigdsl.packs import Pack

__all__ = ["pack"]

pack = Pack("power", rules=())
