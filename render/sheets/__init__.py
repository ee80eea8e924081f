"""A plan, its pieces and its order in; out comes the set of sheets."""
