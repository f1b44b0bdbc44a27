"""What is left when the last row is off: open loops, seams, tails and the order of making up."""
