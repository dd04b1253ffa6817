"""How the bytes of a file stand around its text: its mark, its line ends, and whether the last line has one."""

from __future__ import annotations

from typing import NamedTuple

from rigdsl.rig import Unread
from rigdsl.rig.readers import decoded

__all__ = ["Form", "of_three", "taken_apart"]

MARK = b"\xef\xbb\xbf"


class Form(NamedTuple):
    """The byte order mark, CRLF as line ends, an end of the last line: whether they are there."""

    mark: bool
    crlf: bool
    ended: bool

    def put(self, text: str) -> bytes:
        """A text with LF line ends as bytes of this form."""
        text = text if self.ended else text.removesuffix("\n")
        data = (text.replace("\n", "\r\n") if self.crlf else text).encode("utf-8")
        return MARK + data if self.mark else data


def taken_apart(data: bytes) -> tuple[Form, str] | None:
    """The form of some bytes, and their text, with an end of its last line. None where they are no text of one form."""
    text = decoded("", data)
    returns = data.count(b"\r")
    if isinstance(text, Unread) or (returns and not returns == data.count(b"\r\n") == data.count(b"\n")):
        return None
    ended = not text.text or text.text.endswith("\n")
    return Form(data.startswith(MARK), returns > 0, ended), text.text if ended else text.text + "\n"


def of_three(base: Form, ours: Form, theirs: Form) -> Form:
    """The form of a merge: what one side changed is taken."""
    return Form(*(other if mine == was else mine for was, mine, other in zip(base, ours, theirs, strict=True)))
