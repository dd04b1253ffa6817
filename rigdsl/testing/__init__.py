"""What a pack's own tests need, with plain pytest: its pages are true, its cases hold, no rig breaks it down.

    from rigdsl import testing
    from rigdsl_road_rules import pack

    def test_the_pages_are_true():
        assert testing.page_faults(pack) == []

    def test_a_case():
        assert testing.case_faults("tests/cases/cable-colour.rig", pack) == []

    def test_no_rig_breaks_it_down():
        assert testing.breakdowns(pack) == []

Every one gives what is wrong as lines of text: nothing where all is well. The same input gives the same lines.

A case is a rig file in which every line that a rule is to find something in ends in a remark, with the name of the
rule and the subject of the finding, which may be left out:

    link C01: SL.A -- DESK.stage via cat6 30 m   #! road-rules/cable-colour C01

Errors and warnings of any rule, and all that the pack's own rules say, must be expected so. Several remarks may stand
behind one line. A case may `use` files beside it.
"""

from rigdsl.testing.cases import case_faults
from rigdsl.testing.pages import page_faults, page_findings, wording_faults
from rigdsl.testing.said import alone, findings, wrong
from rigdsl.testing.spoilt import breakdowns, broken_by

__all__ = [
    "alone",
    "breakdowns",
    "broken_by",
    "case_faults",
    "findings",
    "page_faults",
    "page_findings",
    "wording_faults",
    "wrong",
]
