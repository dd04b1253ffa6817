"""A card is drawn inside its host where sound is drawn, and as a box that says where it sits where cables are."""

from __future__ import annotations

from pathlib import Path

from rigdsl.show import load

RIG = """rig "Cards" { rate 48 kHz; slack 3 m; lead xlr }
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A, B { protocol fernlink; chain } }
model desk64 { kind console; channels ch 1-64; mixes mix 1-16; slot opt 1-2 takes my64 }
model fl64 { kind card; digital pri, sec { protocol fernlink }; fits my64 }
model ad8 { kind card; inputs in 1-8 { preamp }; outputs pri 1-2; fits my64 }
zone wing at (0, 0) m; zone foh at (0, -30) m
box DESK is desk64 in foh; box DC is fl64 in DESK.opt 1; box AC is ad8 in DESK.opt 2; box SL is nw16 in wing
link C01: SL.A -- DC.pri via cat6 60 m
source kick dynamic in wing to SL 1 via xlr 6 m
source talk dynamic in foh to AC 1 via xlr 6 m
output wdg wedge in wing from SL.line 1 via xlr 6 m
output main main in foh from AC.pri 1 via xlr 6 m
patch kick -> DESK.ch 1; patch talk -> DESK.ch 2; patch DESK.mix 1-2 -> wdg, main
"""


def drawn(folder: Path, view: str) -> str:
    (folder / "rig.toml").write_text("")
    (folder / "show.rig").write_text(RIG)
    return load(folder / "show.rig").draw(view, format="gv").data.decode()


def test_in_the_flow_view_a_card_is_rows_of_its_host(tmp_path: Path) -> None:
    text = drawn(tmp_path, "flow")
    assert "DC.pri" in text
    assert "AC.in 1" in text
    assert "AC.pri 1" in text
    assert 'class="box console"' in text
    assert 'class="box card"' not in text


def test_in_the_cabling_view_it_is_a_box_that_says_where_it_sits(tmp_path: Path) -> None:
    text = drawn(tmp_path, "cabling")
    assert "in DESK.opt 1" in text
    assert "in DESK.opt 2" in text


def test_outboard_is_said_where_it_is_inserted_and_is_not_free(tmp_path: Path) -> None:
    text = RIG + (
        "model comp4 { kind outboard; inputs in 1-4; outputs out 1-4 }\nbox CP is comp4 in foh\n"
        "insert DESK.ch 1-2 through CP 3-4 via jack 2 m\n"
    )
    (tmp_path / "rig.toml").write_text("")
    (tmp_path / "show.rig").write_text(text)
    show = load(tmp_path / "show.rig")
    cabling = show.draw("cabling", format="gv").data.decode()
    assert "insert of DESK.ch 1-2, jack 2 m" in cabling
    assert "back to DESK.ch 1-2" in cabling
    assert "in 1-2 free" in cabling
    assert "in 3-4 free" not in cabling
    flow = show.draw("flow", format="gv").data.decode()
    assert "through CP.in 3-4" in flow
