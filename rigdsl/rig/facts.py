"""How the facts of a block are read: a table from a fact's name to a reader, and the readers.

A reader takes a fact and gives the fields that it fills. It is made here by a
function that says what must follow the name: a word of a list, a quantity, a text.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from rigdsl.finding import Finding, similar
from rigdsl.rig.amounts import as_laid_out, clipped, fault, quantity, whole
from rigdsl.syntax.nodes import Atom, Fact, Range, Word

__all__ = [
    "Reader",
    "Table",
    "choice",
    "choices",
    "count",
    "flag",
    "measure",
    "name",
    "names",
    "read",
    "text",
    "texts",
    "unfit",
    "words_of",
    "yes_or_no",
]

LEFT_OUT = "this fact is left out"

Fields = dict[str, Any]
Reader = Callable[[Fact, list[Finding]], Fields]
Table = dict[str, Reader]


def read(facts: Iterable[Fact], table: Table, owner: str, findings: list[Finding]) -> Fields:
    """The fields that the facts fill. `owner` is what a person calls the thing: "a cable"."""
    fields: Fields = {}
    seen: dict[str, int] = {}
    for fact in facts:
        reader = table.get(fact.name.text)
        if reader is None:
            findings.append(_unknown(fact, table, owner))
            continue
        seen[fact.name.text] = seen.get(fact.name.text, 0) + 1
        if seen[fact.name.text] > 2:
            continue  # told once
        if seen[fact.name.text] == 2:
            message = f"`{fact.name.text}` is said twice of one thing"
            help = "keep one of the two"
            findings.append(
                fault("repeated-name", fact.name.span, message, consequence="only the first one counts", help=help)
            )
            continue
        fields.update(reader(fact, findings))
    return fields


def _unknown(fact: Fact, table: Table, owner: str) -> Finding:
    word = clipped(fact.name.text)
    known = ", ".join(sorted(table))
    return fault(
        "unknown-name",
        fact.name.span,
        f"{owner} has no fact `{word}`",
        subject=word,
        consequence=LEFT_OUT,
        help=similar("fact", fact.name.text, table) or f"its facts are: {known}",
    )


def words_of(fact: Fact) -> list[Word | Range]:
    """All that follows the name, commas left out."""
    return [atom for clause in fact.clauses for atom in clause]


def texts(clauses: Iterable[Iterable[Atom]]) -> list[str]:
    """All words as they are written; a range of numbers is one, and never the word that a fact waits for."""
    return [atom.span.text for clause in clauses for atom in clause]


def unfit(fact: Fact, form: str, findings: list[Finding]) -> Fields:
    """Say that a fact does not read as it must; it fills nothing."""
    subject = as_laid_out(fact.span)
    message = f"`{subject}` does not say what `{clipped(fact.name.text)}` needs"
    if not fact.clauses:
        message = f"`{subject}` needs something behind it"
    findings.append(
        fault("syntax-error", fact.span, message, subject=subject, consequence=LEFT_OUT, help=f"it reads: `{form}`")
    )
    return {}


def flag(field: str, value: object = True) -> Reader:
    """A fact of one word: `preamp`."""

    def reader(fact: Fact, findings: list[Finding]) -> Fields:
        return {field: value} if not fact.clauses else unfit(fact, fact.name.text, findings)

    return reader


def yes_or_no(field: str) -> Reader:
    """`balanced no`; the bare word is a yes."""

    def reader(fact: Fact, findings: list[Finding]) -> Fields:
        said = texts(fact.clauses)
        if said in ([], ["yes"], ["no"]):
            return {field: said != ["no"]}
        return unfit(fact, f"{fact.name.text} no", findings)

    return reader


def choice(field: str, known: Iterable[str], what: str) -> Reader:
    """One word of a list: `kind console`."""
    many = choices(field, known, what)

    def reader(fact: Fact, findings: list[Finding]) -> Fields:
        fields = many(fact, findings)
        got = fields.get(field, ())
        if len(got) > 1:
            return unfit(fact, f"{fact.name.text} {got[0]}", findings)
        return {field: got[0]} if got else {}

    return reader


def choices(field: str, known: Iterable[str], what: str) -> Reader:
    """One or several words of a list: `level mic, line`."""
    words = tuple(known)

    def reader(fact: Fact, findings: list[Finding]) -> Fields:
        got: list[str] = []
        for clause in fact.clauses:
            word = clause[0]
            if len(clause) != 1 or not isinstance(word, Word):
                return unfit(fact, f"{fact.name.text} {words[0]}", findings)
            if word.text in words:
                got.append(word.text)
                continue
            message = f"there is no {what} `{clipped(word.text)}`"
            hint = similar(what, word.text, words) or f"there are: {', '.join(words)}"
            findings.append(fault("unknown-name", word.span, message, consequence="the word is left out", help=hint))
        if not fact.clauses:
            return unfit(fact, f"{fact.name.text} {words[0]}", findings)
        return {field: tuple(got)}

    return reader


def names(field: str, form: str) -> Reader:
    """One or several names that are looked up later: `protocol fernlink, aes50`."""

    def reader(fact: Fact, findings: list[Finding]) -> Fields:
        got = [clause[0] for clause in fact.clauses if len(clause) == 1]
        if not got or len(got) != len(fact.clauses) or not all(isinstance(atom, Word) for atom in got):
            return unfit(fact, form, findings)
        return {field: tuple(atom.text for atom in got if isinstance(atom, Word))}

    return reader


def name(field: str, form: str) -> Reader:
    """One name: `lead xlr`."""
    many = names(field, form)

    def reader(fact: Fact, findings: list[Finding]) -> Fields:
        got = many(fact, findings).get(field, ())
        return {field: got[0]} if len(got) == 1 else {} if not got else unfit(fact, form, findings)

    return reader


def text(field: str) -> Reader:
    """A text in quotes: `note "mind the door"`."""

    def reader(fact: Fact, findings: list[Finding]) -> Fields:
        atoms = words_of(fact)
        if len(atoms) == 1 and isinstance(atoms[0], Word) and atoms[0].kind in ("string", "date", "address"):
            return {field: atoms[0].text}
        return unfit(fact, f'{fact.name.text} "..."', findings)

    return reader


def measure(field: str, dimension: str, form: str, *, zero: bool = False) -> Reader:
    """A quantity: `weight 4.2 kg`."""

    def reader(fact: Fact, findings: list[Finding]) -> Fields:
        atoms = words_of(fact)
        if not 1 <= len(atoms) <= 2 or not is_number(atoms[0]):
            return unfit(fact, form, findings)
        value = amount_at(atoms, 0, dimension, findings, zero=zero)
        return {} if value is None else {field: value}

    return reader


def count(field: str, form: str, *, least: int = 1) -> Reader:
    """A whole number: `bank 8`."""

    def reader(fact: Fact, findings: list[Finding]) -> Fields:
        atoms = words_of(fact)
        if len(atoms) != 1 or not isinstance(number := plain(atoms[0]), Word) or number.kind != "number":
            return unfit(fact, form, findings)
        value = whole(number, findings, least=least)
        return {} if value is None else {field: value}

    return reader


def plain(atom: Atom) -> Word | Range:
    """A range of one number is that number."""
    return atom.first if isinstance(atom, Range) and atom.last is None else atom


def is_number(atom: Atom) -> bool:
    """A number, not a range of several."""
    word = plain(atom)
    return isinstance(word, Word) and word.kind == "number"


def amount_at(
    atoms: list[Atom], at: int, dimension: str, findings: list[Finding], *, zero: bool = False
) -> float | None:
    """The quantity whose number stands at `at`, its unit behind it."""
    number = plain(atoms[at])
    assert isinstance(number, Word)
    unit = atoms[at + 1] if at + 1 < len(atoms) else None
    return quantity(number, unit if isinstance(unit, Word) else None, dimension, findings, zero=zero)
