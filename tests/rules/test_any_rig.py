"""Whatever a rig has lost or got twice, rules say something sensible or nothing: they never break down."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.lint.pages import page
from rigdsl.packs import discover
from rigdsl.testing import broken_by

RULES = discover().rules
# The help pages' own rigs have every statement and every fault there is.
PAGES = [text for packed in RULES for text in (page(packed.rule).breaks, page(packed.rule).keeps)]


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_rigs_with_lines_lost_doubled_and_mixed(data: st.DataObject) -> None:
    lines = [
        line
        for text in data.draw(st.lists(st.sampled_from(PAGES), min_size=1, max_size=2))
        for line in text.split("\n")
    ]
    picked = data.draw(st.lists(st.sampled_from(range(len(lines))), min_size=1, max_size=len(lines) * 2))
    lost = data.draw(st.sets(st.sampled_from(range(len(lines))), max_size=4))
    kept = sorted(picked) if data.draw(st.booleans()) else [at for at in range(len(lines)) if at not in lost]
    assert broken_by("\n".join(lines[at] for at in kept), RULES) == []


@settings(max_examples=100, deadline=None)
@given(data=st.data())
def test_rigs_with_words_swapped(data: st.DataObject) -> None:
    words = data.draw(st.sampled_from(PAGES)).split(" ")
    for _ in range(data.draw(st.integers(1, 4))):
        here, there = (data.draw(st.sampled_from(range(len(words)))) for _ in range(2))
        words[here], words[there] = words[there], words[here]
    assert broken_by(" ".join(words), RULES) == []
