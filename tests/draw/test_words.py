"""The words on drawings: sockets in short."""

from __future__ import annotations

import pytest

from rigdsl.draw.words import by_numbers, socket_words
from rigdsl.rig import Port


def of(group: str, *numbers: int) -> list[Port]:
    """Sockets of one box."""
    return [Port("SL", group, number) for number in numbers]


@pytest.mark.parametrize(
    ("ports", "expected"),
    [
        (of("mic", 7), "7"),
        (of("mic", 7, 8, 9), "7-9"),
        (of("mic", 1, 2, 5, 7, 8), "1-2,5,7-8"),
        (of("mic", 3, 2, 1), "3,2,1"),  # as they are plugged, not as they are counted
        (of("mic", 1, 1, 2), "1-2"),
        (of("A", 0), "A"),
    ],
)
def test_by_numbers(ports: list[Port], expected: str) -> None:
    """Sockets of one group: its name stands beside them, or is all that there is."""
    assert by_numbers(ports) == expected


@pytest.mark.parametrize(
    ("ports", "expected"),
    [
        (of("mic", 7), "mic 7"),
        (of("A", 0), "A"),
        (of("A", 0) + of("B", 0), "A, B"),
        (of("tail", *range(1, 17)) + of("return", 1, 2, 3, 4), "tail 1-16, return 1-4"),
        (of("tail", 1) + of("A", 0) + of("tail", 2, 4), "tail 1, A, tail 2,4"),
        (of("mic", 1, 1, 2), "mic 1-2"),
    ],
)
def test_socket_words(ports: list[Port], expected: str) -> None:
    """Sockets of one box: the box's name is over them."""
    assert socket_words(ports) == expected
