"""What a file says: its tokens, and its statements as nodes."""

from rigdsl.syntax.parse import Parsed, parse
from rigdsl.syntax.tokens import Token, headed, tokens

__all__ = ["Parsed", "Token", "headed", "parse", "tokens"]
