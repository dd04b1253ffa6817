"""A drawing of two states in black and white, in the dark, and for colour-blind readers."""

from __future__ import annotations

from itertools import combinations

import pytest
import wcag_contrast_ratio
from daltonlens import simulate

from rigdsl.draw.compared import LOOKS
from rigdsl.draw.theme import THEMES
from tests.draw.test_theme import KINDS, SVG, contrast, grounds, seen
from tests.review.made import STAGE
from tests.review.pictures import picture

EDITED = (
    STAGE.replace("to SL 2 via", "to SL 4 via")
    .replace("is nw8 in right", "is nw8 in foh")
    .replace("via c6 30 m", "via c6 40 m")
    .replace("source vox", 'box SX "New" is nw8 in left\nlink C09: SX.A -- DESK.stage 2 via c6 5 m\nsource vox')
    .replace("output wdg", "output fill").replace("-> wdg", "-> fill").replace("wedge in right", "fill in foh")
)  # fmt: skip
TOLD_APART = 1.5  # how many times as long a dash is: common practice, no source


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("which", ["flow", "cabling"])
def test_all_text_can_be_read(which: str, theme: str) -> None:
    """4.5:1 on what lies under it, pale as it may be (W3C, WCAG 2.2, success criterion 1.4.3)."""
    pairs = {(text.get("fill"), ground) for text, ground in grounds(picture(STAGE, EDITED, which, theme=theme))}
    assert len(pairs) > 3
    assert {pair: contrast(*pair) for pair in pairs if contrast(*pair) < 4.5} == {}


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("which", ["flow", "cabling"])
def test_all_lines_and_bands_can_be_seen(which: str, theme: str) -> None:
    """3:1 on the sheet (W3C, WCAG 2.2, success criterion 1.4.11); what changed stands out more than what did not."""
    root = picture(STAGE, EDITED, which, theme=theme)
    sheet = root.find(f"{SVG}g/{SVG}polygon").get("fill")
    lines = root.xpath("//*[contains(@class, 'edge')]/*[local-name() = 'path' and @stroke != 'none']")
    assert {line.get("stroke"): 0 for line in lines if contrast(line.get("stroke"), sheet) < 3} == {}
    pale = {line.get("stroke") for line in lines if "same" in line.getparent().get("class").split()}
    loud = {line.get("stroke") for line in lines if "same" not in line.getparent().get("class").split()}
    over = {line.get("stroke") for line in lines if not line.get("class")} - pale
    assert min(contrast(colour, sheet) for colour in over) > 2 * max(contrast(colour, sheet) for colour in pale)
    assert not pale & loud


@pytest.mark.parametrize("theme", sorted(THEMES))
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_words_can_be_read_by_colour_blind_readers(kind: simulate.Deficiency, theme: str) -> None:
    """As they see it, by the models of Vienot 1999 and Brettel 1997."""
    model = simulate.Simulator_AutoSelect()
    pairs = {(text.get("fill"), ground) for text, ground in grounds(picture(STAGE, EDITED, "flow", theme=theme))}
    ratios = {pair: wcag_contrast_ratio.rgb(*(seen(model, kind, colour) for colour in pair)) for pair in pairs}
    assert {pair: ratio for pair, ratio in ratios.items() if ratio < 4.4} == {}


def test_no_colour_is_needed() -> None:
    """Each state has a sign of its own, and a band that is drawn otherwise: unbroken, in rungs, in long dashes."""
    assert len({look.sign for look in LOOKS.values()}) == len(LOOKS)
    for one, other in combinations(LOOKS.values(), 2):
        dashes = sorted((one.band.dashes[:1] or (0.0,)) + (other.band.dashes[:1] or (0.0,)))
        assert dashes[1] >= TOLD_APART * dashes[0]
        assert (bool(one.frame), one.sign) != (bool(other.frame), other.sign)


@pytest.mark.parametrize("which", ["flow", "cabling"])
def test_every_band_lies_under_its_line(which: str) -> None:
    """It is wider than what lies on it, and drawn before it."""
    root = picture(STAGE, EDITED, which)
    bands = root.xpath("//*[@class='band']")
    assert bands
    for band in bands:
        lines = [one for one in band.itersiblings() if one.tag == band.tag and one.get("class") is None]
        assert lines
        assert all(float(band.get("stroke-width")) > 2 * float(line.get("stroke-width", "1")) for line in lines)
        assert not [one for one in band.itersiblings(preceding=True) if one.tag == band.tag and not one.get("class")]
