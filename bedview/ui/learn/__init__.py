"""The parts of the page Learn: a bed for one's own hands, its tools, lessons, foretelling, the bench."""
