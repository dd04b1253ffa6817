"""The papers rules: what would make lists, labels and the crew's work go wrong."""

from rigdsl.packs import Pack

__all__ = ["pack"]

pack = Pack("papers", rules=())
