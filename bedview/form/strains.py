"""Strain: how far links are from their rest lengths."""

from __future__ import annotations

from bedview.form.net import Net
from bedview.form.stitch_sizes import Floats


def link_strains(net: Net, lengths_mm: Floats) -> Floats:
    """How much each link is stretched (or, below 0, pressed together), as a share of its rest length."""
    strain = lengths_mm / net.links.rest_mm - 1
    strain[net.links.pulls_only & (strain < 0)] = 0
    return strain
