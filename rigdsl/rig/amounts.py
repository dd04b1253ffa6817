"""Numbers and quantities as they are written, read into SI values; what is wrong with one becomes a finding."""

from __future__ import annotations

from collections.abc import Mapping

from rigdsl.finding import Finding, Level, near, similar
from rigdsl.rig.units import DIMENSIONS, UNITS
from rigdsl.syntax.nodes import Amount, Word
from rigdsl.text import Span

__all__ = ["FIGURE", "a", "alike", "amount", "as_laid_out", "clipped", "day", "factor", "fault", "quantity", "whole"]

LONGEST_NUMBER = 15
MOST = 1e15  # of any unit; nothing on a stage has so much
FIGURE = "the figure is left out"


def fault(rule: str, place: Span, message: str, *, subject: str = "", consequence: str = "", help: str = "") -> Finding:
    """A core finding: an error whose subject is the text as written unless another is given."""
    return Finding(
        rule=rule,
        level=Level.ERROR,
        place=place,
        subject=subject or as_laid_out(place),
        message=message,
        consequence=consequence,
        help=help,
    )


def clipped(text: str, most: int = 60) -> str:
    """Text for a message: whole where it is short, cut where somebody pasted a book."""
    line = " ".join(text.split())
    return line if len(line) <= most else line[: most - 3] + "..."


def as_laid_out(place: Span) -> str:
    """What stands at a place, cut like `clipped`, in the one layout: a file that is set anew has the same findings."""
    from rigdsl.syntax.layout import laid_out  # only where something is wrong

    return clipped(laid_out(place.text))


def a(what: str) -> str:
    """A noun with its article: "an output"."""
    return f"{'an' if what[:1] in 'aeiou' else 'a'} {what}"


def alike(word: str, kinds: Mapping[str, str]) -> str:
    """The fact about the nearest name of several kinds, as help: "there is a source with a similar name: `kick`"."""
    found = near(word, kinds)
    return similar(kinds[found], word, (found,)) if found else ""


def amount(said: Amount, dimension: str, findings: list[Finding], *, zero: bool = False) -> float | None:
    """The SI value of a number with its unit; None, and a finding, where it is none of that dimension."""
    return quantity(said.number, said.unit, dimension, findings, zero=zero)


def quantity(
    number: Word, unit: Word | None, dimension: str, findings: list[Finding], *, zero: bool = False
) -> float | None:
    """As `amount`, from two words; no unit at all is `wrong-unit` too."""
    what = DIMENSIONS[dimension][0]
    if unit is None:
        findings.append(
            fault(
                "wrong-unit",
                number.span,
                f"`{clipped(number.text)}` has no unit",
                consequence=FIGURE,
                help=f"{what} is needed here, in {DIMENSIONS[dimension][1]}",
            )
        )
        return None
    place = Span(number.source, number.start, unit.end)
    si = factor(unit, place, dimension, findings)
    if si is None:
        return None
    value = float(number.text) * si
    if not value < MOST or (value == 0 and not zero):
        message = f"`{clipped(place.text)}` cannot be {what} of anything real"
        help = "give the figure from the data sheet or the tape measure"
        findings.append(fault("wrong-number", place, message, consequence=FIGURE, help=help))
        return None
    return value


def factor(unit: Word, place: Span, dimension: str, findings: list[Finding], consequence: str = FIGURE) -> float | None:
    """What turns a unit into SI; None, and a finding at `place`, where it is no unit of that dimension."""
    known = UNITS.get(unit.text)
    if known is not None and known[0] == dimension:
        return known[1]
    what, units = DIMENSIONS[dimension]
    if known is None:
        message, help = f"`{clipped(unit.text)}` is no unit", _unit_help(unit, dimension)
    else:
        message = f"`{clipped(place.text)}` is {DIMENSIONS[known[0]][0]}, and {what} is needed here"
        help = f"give it in {units}"
    findings.append(fault("wrong-unit", place, message, consequence=consequence, help=help))
    return None


def _unit_help(unit: Word, dimension: str) -> str:
    what, units = DIMENSIONS[dimension]
    found = near(unit.text, [name for name, (of, _) in UNITS.items() if of == dimension])
    said = f"there is a unit with a similar name: `{found}`; " if found else ""
    return f"{said}{what} is given in {units}"


def day(said: Word, findings: list[Finding]) -> bool:
    """Whether a date is one that the calendar has; a finding where it is not."""
    from datetime import date  # only where a rig says a date

    try:
        date.fromisoformat(said.text)
    except ValueError:
        message = f"no calendar has a day `{clipped(said.text)}`"
        help = "a date is year, month, day: `2026-12-04`"
        findings.append(fault("wrong-number", said.span, message, consequence="the date is left out", help=help))
        return False
    return True


def whole(
    number: Word, findings: list[Finding], *, least: int = 1, most: int = 99_999, what: str = "a number"
) -> int | None:
    """A whole number between two bounds, or None and a `wrong-number` finding."""
    text = number.text
    if number.kind == "number" and text.isdigit() and len(text) <= LONGEST_NUMBER and least <= int(text) <= most:
        return int(text)
    message = f"`{clipped(text)}` is not {what} from {least} to {most}"
    help = f"write {what} between {least} and {most}"
    findings.append(fault("wrong-number", number.span, message, consequence=FIGURE, help=help))
    return None
