"""Plan, rehearse, knit and finish shaped pieces on a hand-operated flat bed."""
