"""A plan and its pieces in; out comes what to order and to saw: siding, trim, nails, for one job or several."""
