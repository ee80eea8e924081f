"""A plan, its pieces and its order in; out come the sheets of each part of a set: faces, lists, saw work."""
