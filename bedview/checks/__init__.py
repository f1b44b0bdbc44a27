"""What will go wrong, seen on the timeline before a row is knitted: one rule a function."""
