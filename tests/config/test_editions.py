"""A pinned edition: an upgrade that brings rules changes nothing that is found."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from rigdsl.config import Config
from rigdsl.finding import Level
from rigdsl.lint.settings import Choice
from rigdsl.packs import EDITION, Installed, Pack, Packs
from rigdsl.rig import DictReader
from rigdsl.show import opened

from .made import OURS, noisy

RIG = """\
rig "Lantern Hall" { }
model box4 { kind panel; inputs mic 1-4 }
zone wing
box A is box4 in wing
box B is box4 in wing
accept late-1 on A because "is not run"
accept here on B because "stands"
"""
RULES = st.lists(
    st.builds(
        lambda number, edition, level, on: noisy(f"late-{number}", edition=edition, level=level, on=on),
        st.integers(0, 9),
        st.integers(2, 4),
        st.sampled_from(Level),
        st.booleans(),
    ),
    max_size=5,
    unique_by=lambda rule: rule.name,
)


def found(packs: Packs, edition: int | None) -> list[tuple[str, str, str]]:
    config = replace(Config.plain(packs), editions={"": Choice(edition, "rig.toml:1")} if edition else {})
    verdict = opened("a.rig", DictReader({"a.rig": RIG}), packs, "", config).verdict
    return [(str(one.level), one.rule, one.subject) for one in verdict.findings]


@given(RULES)
def test_rules_of_a_later_edition_change_nothing(later: list) -> None:  # type: ignore[type-arg]
    """`accept` of a rule that is not run is not judged either; that of an unknown rule is the one difference."""
    before = (noisy("here"), noisy("late-1", edition=9))
    old = Packs((Installed(Pack("house", rules=before), "1", ours=True),))
    more = (*before, *(rule for rule in later if rule.name != "late-1"))
    new = Packs((Installed(Pack("house", rules=more), "2", ours=True),))
    assert found(old, 1) == found(new, 1)
    assert found(old, 1) == [("warning", "here", "A")]
    running = {rule.name for rule in more if rule.on}
    assert {rule for _, rule, _ in found(new, None)} == running


def test_no_rule_is_of_an_edition_that_there_is_not() -> None:
    assert all(packed.rule.edition <= EDITION for packed in OURS.rules)
