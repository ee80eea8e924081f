"""A finished plan in; out come the plan file, a story pole's facts, other sidings, changes of its job."""
