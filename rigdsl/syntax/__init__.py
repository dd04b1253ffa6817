"""What a file says: its tokens, and its statements as nodes."""

from rigdsl.syntax.parse import Parsed, parse
from rigdsl.syntax.tokens import Token, tokens

__all__ = ["Parsed", "Token", "parse", "tokens"]
