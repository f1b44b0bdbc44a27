"""What the page Plan is made of."""
