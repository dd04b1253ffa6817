"""Names made of labels: valid, readable, each once, and the same every time."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.start.names import folded, names_of
from rigdsl.syntax import nodes, parse
from rigdsl.text import Source


@pytest.mark.parametrize(
    ("label", "name"),
    [
        ("Kick", "kick"),
        ("Kick In", "kick-in"),
        ("  Kick -- in  ", "kick-in"),
        ("Vox 2 (Anna)", "vox-2-anna"),
        ("Keys L/R", "keys-l-r"),
        ("D.I.", "d-i"),
        ("Cajón", "cajon"),
        ("Ærø Straße", "aero-strasse"),
        ("2nd guitar", "in-2nd-guitar"),
        ("808", "in-808"),
        ("日本", "日本"),
        ("日本 1", "日本-1"),
        ("日本 drums", "drums"),
        ("גיטרה", "גיטרה"),
        ("🎤", "in-7"),
        ('"', "in-7"),
        ("source", "source"),  # no word of the language is reserved
        ("=cmd|' /C calc'!A0", "cmd-c-calc-a0"),
        ("x" * 200, "x" * 32),
        ("the one and only microphone of the announcer", "the-one-and-only-microphone-of"),
    ],
)
def test_a_name_of_a_label(label: str, name: str) -> None:
    assert names_of([(label, "in-7")], []) == [name]


def test_a_name_that_is_taken_gets_a_number_whatever_its_case() -> None:
    labels = [(label, "in-1") for label in ("Vox", "vox", "VOX!", "SL", "Vox 2")]
    assert names_of(labels, ["SL"]) == ["vox", "vox-2", "vox-3", "sl-2", "vox-2-2"]


@given(st.lists(st.tuples(st.text(), st.just("in-1")), max_size=12), st.lists(st.sampled_from(["vox", "A", "in-1"])))
def test_any_labels_give_valid_names_each_once(labels: list[tuple[str, str]], taken: list[str]) -> None:
    names = names_of(labels, taken)
    assert names == names_of(labels, taken)
    assert len({folded(name) for name in [*names, *set(taken)]}) == len(names) + len(set(taken))
    assert all(len(name) < 40 for name in names)
    said = parse(Source("a.rig", "".join(f"source {name} dynamic\n" for name in names)))
    assert said.findings == ()
    assert [one.name.text for one in said.statements if isinstance(one, nodes.Plug)] == names


def test_ten_thousand_alike_take_no_time() -> None:
    names = names_of([("Vox", "in-1")] * 10_000, [])
    assert (names[0], names[-1]) == ("vox", "vox-10000")
