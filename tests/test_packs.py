"""Packs are values: good ones come in, bad ones are named and left out, and nothing else changes."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from importlib.metadata import Distribution, EntryPoint
from types import SimpleNamespace
from typing import Any

import pytest

from rigdsl.finding import Level
from rigdsl.lint.rule import NoOptions, Rule
from rigdsl.packs import Installed, Pack, Packs, Refused, discover


def nothing(rig: object, paths: object, options: object) -> tuple[()]:
    return ()


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
    return discover([offer("fest", value, home)])


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
            "the option `level` of `fest/quiet` cannot be set: in `rig.toml` that is the rule's level",
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
    ],
)
def test_a_bad_pack_is_named_and_left_out(value: object, reason: str) -> None:
    assert one(value) == Packs(refused=(Refused("fest", "1.2", reason),))


def test_a_bad_pack_does_not_keep_the_others_out() -> None:
    found = discover([offer("bad", OSError("gone")), offer("good", Pack("good"))])
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
    ours, theirs = offer("one", Pack("fest"), home="rigdsl"), offer("fest", Pack("fest"))
    assert discover([ours, theirs]) == discover([theirs, ours])
    assert [item.reason for item in discover([theirs, ours]).refused] == ["another pack is called `fest` too"]


def test_a_rule_name_is_taken_once() -> None:
    found = discover([offer("fest", Pack("fest", rules=(GOOD,))), offer("other", Pack("other", rules=(GOOD,)))])
    assert [item.name for item in found.refused] == ["other"]


def test_what_is_installed_here() -> None:
    found = discover()
    assert found.refused == ()
    names = [packed.name for packed in found.rules]
    assert len(names) == len(set(names))
    assert "protocol-mismatch" in names
