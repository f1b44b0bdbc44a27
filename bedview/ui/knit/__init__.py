"""The parts of the Knit page: large text, the bed, and the sheet for when something went wrong."""
