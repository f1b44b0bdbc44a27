"""What is kept on disk: piece files, written whole or not at all, and the journal of knitting."""
