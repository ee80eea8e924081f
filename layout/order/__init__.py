"""A plan and its pieces in; out comes what to order and to saw: siding, trim, nails, of one job or many."""
