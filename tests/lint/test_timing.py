"""What rules cost: each is timed by itself, once what they share is worked out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import partial

import pytest

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, PackedRule, Rule, Sockets
from rigdsl.lint.timing import ROUNDS, costs
from rigdsl.paths import Paths
from rigdsl.rig import Port, Rig, read

from .made import HALL, about, made


@dataclass
class Clock:
    """A clock that goes on only where a rule says so."""

    now_s: float = 0.0

    def __call__(self) -> float:
        return self.now_s

    def takes(self, name: str, *seconds: float) -> PackedRule:
        """A rule that takes these seconds, run by run, and the last of them ever after."""
        left = list(seconds)

        def check(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
            self.now_s += left.pop(0) if len(left) > 1 else left[0]
            yield from ()

        return PackedRule(Rule(name, Level.NOTE, check, NoOptions, "Made for a test."), "made", "1.0")


def test_the_first_run_is_shared_and_the_best_of_the_others_counts() -> None:
    clock = Clock()
    rules = [clock.takes("first", 10.0, 3.0, 2.0, 4.0), clock.takes("second", 1.0)]
    found = costs(read(HALL), rules, clock=clock)
    assert found.by_rule == {"first": 2.0, "second": 1.0}
    assert found.total_s == 3.0
    assert found.shared_s == 8.0, "11 seconds at first, and 3 of them are the rules' own"


def test_what_is_shared_is_never_below_nothing() -> None:
    clock = Clock()
    assert costs(read(HALL), [clock.takes("slower", 1.0, 5.0)], clock=clock).shared_s == 0.0


def test_no_rules_cost_nothing() -> None:
    found = costs(read(HALL), [], clock=Clock())
    assert (dict(found.by_rule), found.total_s, found.shared_s) == ({}, 0.0, 0.0)


def test_a_rule_that_breaks_down_has_no_time_and_the_others_have() -> None:
    def breaks(rig: Rig) -> Finding:
        raise KeyError("lost")

    found = costs(read(HALL), [made("broken", breaks), made("whole", about("SL"))])
    assert set(found.by_rule) == {"whole"}


def test_wording_counts_too() -> None:
    """Findings about several sockets are worded only when it is known which of them are left."""
    clock = Clock()
    told = []

    def tell(rig: Rig, ports: tuple[Port, ...]) -> Finding:
        clock.now_s += 2.0
        told.append(ports)
        return Finding(place=rig.boxes["SL"].place, subject="SL.mic", message="said")

    ports = (Port("SL", "mic", 1), Port("SL", "mic", 2))
    found = costs(read(HALL), [made("wordy", lambda rig: Sockets(ports, partial(tell, rig)))], clock=clock)
    assert found.by_rule == {"wordy": 2.0}
    assert told == [ports] * (ROUNDS + 1)


@dataclass(frozen=True)
class Options:
    """Those of the rule below."""

    seconds: float = field(default=1.0, metadata={"help": "how long it takes"})


@pytest.mark.parametrize(
    ("options", "took_s"), [({}, 1.0), ({"slow": Options(7.0)}, 7.0), ({"other": Options(7.0)}, 1.0)]
)
def test_options_are_handed_on(options: dict[str, Options], took_s: float) -> None:
    clock = Clock()

    def check(rig: Rig, paths: Paths, chosen: Options) -> Iterable[Finding]:
        clock.now_s += chosen.seconds
        return ()

    slow = PackedRule(Rule("slow", Level.NOTE, check, Options, "Made for a test."), "made", "1.0")
    assert costs(read(HALL), [slow], options=options, clock=clock).by_rule == {"slow": took_s}
