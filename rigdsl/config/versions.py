"""Versions and what is asked of them: `>=1.2, <2`."""

from __future__ import annotations

import re

__all__ = ["ASKED", "meets"]

VERSION = r"\d+(?:\.\d+)*[0-9A-Za-z.+-]*"
ONE = rf"\s*(?:>=|<=|==|!=|>|<)\s*{VERSION}\s*"
ASKED = rf"^{ONE}(?:,{ONE})*$"  # as JSON Schema has patterns too

PARTS = re.compile(rf"\s*(>=|<=|==|!=|>|<)\s*({VERSION})\s*")
RELEASE = re.compile(r"\d+(?:\.\d+)*")
STAGES = {"dev": 0, "a": 1, "alpha": 1, "b": 2, "beta": 2, "c": 3, "rc": 3, "": 4, "post": 5}
STAGE = re.compile(r"[._-]?(dev|alpha|beta|post|rc|a|b|c)?[._-]?(\d*)", re.IGNORECASE)


def meets(version: str, asked: str) -> bool:
    """Whether a version is as asked: all of the comparisons hold."""
    here = _key(version)
    for sign, wanted in PARTS.findall(asked):
        there = _key(wanted)
        holds = {
            ">=": here >= there,
            "<=": here <= there,
            ">": here > there,
            "<": here < there,
            "==": here == there,
            "!=": here != there,
        }
        if not holds[sign]:
            return False
    return True


def _key(version: str) -> tuple[tuple[int, ...], int, int]:
    """What versions sort by: the numbers, then a version before the release, the release, one after it."""
    text = version.strip().partition("+")[0]
    found = RELEASE.match(text)
    if found is None:
        return (), 0, 0
    numbers = [int(part) for part in found[0].split(".")]
    while numbers and not numbers[-1]:
        numbers.pop()
    stage = STAGE.match(text, found.end())
    name = (stage[1] or "").lower() if stage else ""
    return tuple(numbers), STAGES[name], int(stage[2] or 0) if stage and name else 0
