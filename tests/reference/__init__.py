"""A second, slow account of the rules of the bed, written apart from the product and used only to test it."""
