"""A finished plan in; out come the plan file, the facts of a story pole, other sidings beside it, and what changed in its job."""
