"""A finding as lessons say it: with needles named as in a sentence, not as in a list that can be typed."""

from __future__ import annotations

from bedview.bed.needles import format_needles
from bedview.checks.finding import Finding
from bedview.plan.words import Words


def finding_in_words(finding: Finding, words: Words, bed_needles: int) -> str:
    """What a finding says, with "R1 to R6" for "R1-R6".

    Args:
        finding: the finding.
        words: the language.
        bed_needles: how many needles the bed has.
    """
    if not finding.needles:
        return finding.message
    listed = format_needles(finding.needles, bed_needles).replace(",", ", ")
    return finding.message.replace(listed, words.needles(finding.needles))


def first_sentence(text: str) -> str:
    """What happened, without the advice that follows."""
    first, stop, _advice = text.partition(". ")
    return f"{first}." if stop else first
