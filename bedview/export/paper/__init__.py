"""What is printed: the row list, needle strip and blocking outline, laid out on pages without a toolkit."""
