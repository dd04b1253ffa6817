"""Packs are values: good ones come in, bad ones are named and left out, and nothing else changes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from importlib.metadata import Distribution, EntryPoint
from types import SimpleNamespace
from typing import Any

import pytest

from rigdsl.draw import NamedView, View
from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, Rule
from rigdsl.packs import Installed, Pack, Packs, Refused, asked_for, discover
from rigdsl.papers import Facts, Paper, Table
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from rigdsl.text import Source


def nothing(rig: object, paths: object, options: object) -> tuple[()]:
    return ()


def no_sheet(rig: Rig, paths: Paths, findings: Sequence[Finding]) -> View:
    """A drawing that nobody makes here."""
    raise NotImplementedError


def no_rows(facts: Facts) -> Table:
    """A table of nothing."""
    return Table(("no",), ())


PLAN = NamedView("fest/plan", "plan", no_sheet)
LIST = Paper("fest/list", "List", no_rows)
GOOD: Rule[Any] = Rule("fest/quiet", Level.NOTE, nothing, NoOptions, "Finds nothing.")


@dataclass(frozen=True)
class NoHelp:
    """An option that nobody explains."""

    limit: int = 3


@dataclass(frozen=True)
class Levelled:
    """An option with the name of every rule's level."""

    level: int = field(default=3, metadata={"help": "how high"})


@dataclass(frozen=True)
class Unwritable:
    """An option that no configuration can say."""

    limit: complex = field(default=1j, metadata={"help": "a number off the line"})


@dataclass(frozen=True)
class NoDefault:
    """An option that must be given."""

    limit: int = field(metadata={"help": "how many"})


class Offered(EntryPoint):
    """An entry point of an invented distribution that gives a value, or raises it."""

    def load(self) -> Any:
        value = VALUES[self.value]
        if isinstance(value, BaseException):
            raise value
        return value


VALUES: dict[str, Any] = {}


def offer(name: str, value: object, home: str = "fest") -> EntryPoint:
    key = f"{home}_{name}:pack"
    VALUES[key] = value
    point = Offered(name, key, "rigdsl.packs")
    distribution: Distribution = SimpleNamespace(metadata={"Name": home, "Version": "1.2"})  # type: ignore[assignment]
    vars(point).update(dist=distribution)
    return point


def one(value: object, home: str = "fest") -> Packs:
    """Discovered, and asked for by its name."""
    return both(offer("fest", value, home))


def both(*offers: EntryPoint) -> Packs:
    """Several packs, all of them asked for."""
    return asked_for(discover(offers), [point.name for point in offers])


def test_a_good_pack_comes_in() -> None:
    pack = Pack("fest", rules=(GOOD,))
    found = one(pack)
    assert found.installed == (Installed(pack, "1.2"),)
    assert found.refused == ()
    assert [(packed.name, packed.pack, packed.version) for packed in found.rules] == [("fest/quiet", "fest", "1.2")]


@pytest.mark.parametrize(
    ("value", "reason"),
    [
        (ImportError("no module called moss"), "it cannot be loaded: ImportError: no module called moss"),
        (SystemExit(3), "it cannot be loaded: SystemExit: 3"),
        ("fest", "`fest_fest:pack` is not a pack"),
        (Pack("fest", api=2), "it is made for packs of edition 2, and this rigdsl takes edition 1"),
        (Pack("Fest"), "`Fest` is no name for a pack: small letters, digits and single hyphens"),
        (
            Pack("fest", rules=(replace(GOOD, name="quiet"),)),
            "the rule `quiet` should be called `fest/` and a name of small letters, digits, hyphens",
        ),
        (
            Pack("fest", rules=(replace(GOOD, name="fest/Very Quiet"),)),
            "the rule `fest/Very Quiet` should be called `fest/` and a name of small letters, digits, hyphens",
        ),
        (Pack("fest", rules=(GOOD, GOOD)), "there are two rules called `fest/quiet`"),
        (Pack("fest", rules=(replace(GOOD, doc=" "),)), "the rule `fest/quiet` has no help page"),
        (
            Pack("fest", rules=(replace(GOOD, options=dict),)),
            "the options of `fest/quiet` are not a dataclass",
        ),
        (
            Pack("fest", rules=(replace(GOOD, options=NoHelp),)),
            "the options of `fest/quiet` cannot be used: the option `limit` has no help",
        ),
        (
            Pack("fest", rules=(replace(GOOD, options=Levelled),)),
            "`fest/quiet` has an option called `level`, which is how a project sets the level of a rule",
        ),
        (
            Pack("fest", rules=(replace(GOOD, options=NoDefault),)),
            "the options of `fest/quiet` cannot be used: the option `limit` has no default",
        ),
        (
            Pack("fest", rules=(replace(GOOD, options=Unwritable),)),
            "the options of `fest/quiet` cannot be used: the option `limit` is of a kind that no configuration can say",
        ),
        (Pack("fest", rules=(nothing,)), "`nothing` is not a rule"),  # type: ignore[arg-type]
        (
            Pack("fest", rules=(replace(GOOD, level="loud"),)),  # type: ignore[arg-type]
            "the level of `fest/quiet` is none of error, warning and note",
        ),
        (Pack("moss"), "its entry point is called `fest` and the pack `moss`"),
        (Pack("fest", libraries=("gear",)), "`str` is no text of gear: `rigdsl.packs.gear` reads those of a package"),  # type: ignore[arg-type]
        (
            Pack("fest", libraries=(Source("moss.rig", "model a { kind panel }\nbox A is a"),)),
            "`moss.rig`, line 2: a pack's gear has models, cables and protocols, and nothing else",
        ),
        (Pack("fest", views=(nothing,)), "`nothing` is not a view"),  # type: ignore[arg-type]
        (
            Pack("fest", views=(NamedView("flow", "signal flow", nothing),)),  # type: ignore[arg-type]
            "the view `flow` should be called `fest/` and a name of small letters, digits, hyphens",
        ),
        (Pack("fest", views=(PLAN, PLAN)), "there are two views called `fest/plan`"),
        (Pack("fest", papers=(PLAN,)), "`NamedView` is not a paper"),  # type: ignore[arg-type]
        (
            Pack("fest", papers=(replace(LIST, name="input-list"),)),
            "the paper `input-list` should be called `fest/` and a name of small letters, digits, hyphens",
        ),
        (Pack("fest", papers=(LIST, LIST)), "there are two papers called `fest/list`"),
        (Pack("fest", rules=3), "it cannot be loaded: TypeError: 'int' object is not iterable"),  # type: ignore[arg-type]
    ],
)
def test_a_bad_pack_is_named_and_left_out(value: object, reason: str) -> None:
    assert one(value) == Packs(refused=(Refused("fest", "1.2", reason),))


def test_a_bad_pack_does_not_keep_the_others_out() -> None:
    found = both(offer("bad", OSError("gone")), offer("good", Pack("good")))
    assert [item.pack.name for item in found.installed] == ["good"]
    assert [item.name for item in found.refused] == ["bad"]


def test_all_that_is_wrong_is_said_at_once() -> None:
    rules = (replace(GOOD, doc=""), replace(GOOD, name="fest/other", options=NoHelp))
    (refused,) = one(Pack("fest", rules=rules)).refused
    assert refused.reason.count("; ") == 1


def test_our_own_rules_have_bare_names() -> None:
    assert one(Pack("fest", rules=(replace(GOOD, name="quiet"),)), home="rigdsl").refused == ()
    assert one(Pack("fest", rules=(GOOD,)), home="rigdsl").installed == ()


def test_the_second_pack_of_a_name_is_refused_whatever_the_order() -> None:
    ours, theirs = offer("fest", Pack("fest"), home="rigdsl"), offer("fest", Pack("fest"))
    assert both(ours, theirs) == both(theirs, ours)
    assert [item.reason for item in both(theirs, ours).refused] == ["another pack is called `fest` too"]


def test_a_rule_name_is_taken_once() -> None:
    found = both(offer("fest", Pack("fest", rules=(GOOD,))), offer("other", Pack("other", rules=(GOOD,))))
    assert [item.name for item in found.refused] == ["other"]


def test_what_is_installed_here() -> None:
    found = discover()
    assert found.refused == ()
    names = [packed.name for packed in found.rules]
    assert len(names) == len(set(names))
    assert "protocol-mismatch" in names


@pytest.mark.parametrize("asked", [(), ("other",), ("FEST",)])
def test_what_nobody_asked_for_is_not_run(asked: tuple[str, ...]) -> None:
    """Not even looked at: a pack that would end the process is not noticed."""
    found = asked_for(discover([offer("fest", KeyboardInterrupt())]), asked)
    assert (found.installed, found.refused) == ((), ())
    assert [waiting.name for waiting in found.waiting] == ["fest"]
