"""The forms of `rigdsl check` for programs, each made by its own file, which is loaded only when asked for."""

from __future__ import annotations

from rigdsl.finding import Level
from rigdsl.packs import Packs
from rigdsl.reports.report import Report

__all__ = ["FORMS", "made"]

FORMS = ("json", "sarif", "github", "junit")


def made(form: str, report: Report, packs: Packs, accepted: bool, known: bool, failing: Level | None) -> bytes:
    """The document of a form."""
    if form == "json":
        from rigdsl.reports.check_json import check_json

        return check_json(report, accepted, known)
    from rigdsl.cli.entries import listed
    from rigdsl.cli.repository import in_repository

    if form == "github":
        from rigdsl.reports.workflow import workflow

        return workflow(report, packs.refused, in_repository())
    if form == "junit":
        from rigdsl.reports.junit import junit

        return junit(report, listed(packs), packs.refused, failing, in_repository())
    from rigdsl.reports.sarif import sarif

    return sarif(report, listed(packs), packs.refused, in_repository())
