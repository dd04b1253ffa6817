"""Characters: the text of a file, and places in it."""

from rigdsl.text.source import Position, Source, Span, normalised

__all__ = ["Position", "Source", "Span", "normalised"]
