"""The benchmarks measure what they say: rigs of exactly so many lines, without a fault, and the same as plain data."""

from __future__ import annotations

from itertools import pairwise

import jsonschema
import pytest
from ruamel.yaml import YAML

from rigdsl.finding import Level
from rigdsl.lint import lint
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.rig import read
from tests.bench.measure import Ratio
from tests.bench.rigs import lines, rig_text, schema, yaml_text


@pytest.mark.parametrize("count", [60, 100, 150, 151, 1000])
def test_a_rig_of_so_many_lines(count: int) -> None:
    text = rig_text(count)
    assert text.count("\n") == count
    assert text.count("# spare line") < 25
    rig = read(text)
    paths = Paths(rig)
    assert all(paths.arrives(name) for name in rig.sources)
    assert all(paths.sounds(name) for name in rig.outputs)
    found = lint(rig, paths, [packed for packed in discover().rules if packed.rule.on]).findings
    assert {finding.level for finding in found} <= {Level.NOTE}


def test_larger_rigs_have_more_of_everything() -> None:
    rigs = [read(rig_text(count)) for count in (100, 200, 400)]
    for less, more in pairwise(rigs):
        for things in ("zones", "boxes", "links", "sources", "outputs", "patches"):
            assert len(getattr(less, things)) < len(getattr(more, things))


def test_the_same_as_plain_data() -> None:
    made = lines(150)
    value = YAML(typ="safe").load(yaml_text(made))
    jsonschema.validate(value, schema(made))
    assert sum(len(section) for section in value.values()) == 150
    value["sources"][0]["name"] = 7
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(value, schema(made))


@pytest.mark.parametrize(("took", "kept"), [(14.9, True), (15.0, False), (16.0, False)])
def test_a_ratio_is_kept_below_its_limit(took: float, kept: bool) -> None:
    assert Ratio("this", "that", took, 10.0, 1.5).kept == kept
